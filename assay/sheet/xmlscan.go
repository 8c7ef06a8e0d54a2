package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// xmlScan reads a large part of a workbook, a sheet or the shared texts,
// strictly to its end: it accepts nothing that encoding/xml refuses, and less
// than that, in a fraction of the time. A document type declaration and any
// entity beyond the five of XML are errors; so are names with letters that no
// spreadsheet part uses. A fuzz test compares the two.
type xmlScan struct {
	r        io.Reader
	buf      []byte
	pos, end int   // what is left of buf
	more     error // what ended the reading
	names    []byte
	opened   []int // where the names of the open elements begin in names
	roots    int
	closing  bool // a self-closing element: its end comes next

	// Of the token that next returned, valid until the next call.
	name  []byte // name of the element without prefix
	attrs []xmlAttr
	text  []byte
	spare []byte // of texts that had to be rewritten
}

type xmlAttr struct{ name, value []byte }

type xmlToken uint8

const (
	xmlStart xmlToken = iota
	xmlEnd
	xmlText
)

// maxXMLToken bounds one tag or one run of text. A cell holds 32767 characters
// at most (ECMA-376).
const maxXMLToken = 4 << 20

func newXMLScan(r io.Reader) *xmlScan {
	return &xmlScan{r: r, buf: make([]byte, 64<<10)}
}

// depth counts the open elements.
func (x *xmlScan) depth() int { return len(x.opened) }

func malformed(format string, args ...any) error {
	return fmt.Errorf("%w: %s", errMalformed, fmt.Sprintf(format, args...))
}

// next returns the next token; io.EOF only after one complete root element.
func (x *xmlScan) next() (xmlToken, error) {
	if x.closing {
		x.closing = false
		x.pop()
		return xmlEnd, nil
	}
	for {
		open, err := x.find(0, "<")
		if err != nil {
			return 0, err
		}
		if open != 0 {
			if open < 0 {
				open = x.end - x.pos
			}
			raw := x.take(open)
			if len(raw) == 0 {
				return 0, x.finish()
			}
			if err := x.chars(raw); err != nil {
				return 0, err
			}
			if len(x.opened) > 0 {
				return xmlText, nil
			}
			if len(bytes.TrimSpace(bytes.TrimPrefix(x.text, []byte("\ufeff")))) > 0 {
				return 0, malformed("text outside the root element")
			}
			continue
		}
		next, err := x.byteAt(1)
		if err != nil {
			return 0, err
		}
		switch next {
		case '?':
			err = x.instruction()
		case '!':
			var text bool
			if text, err = x.exclamation(); text && err == nil {
				return xmlText, nil
			}
		case '/':
			return xmlEnd, x.endTag()
		default:
			return xmlStart, x.startTag()
		}
		if err != nil {
			return 0, err
		}
	}
}

func (x *xmlScan) finish() error {
	if len(x.opened) > 0 || x.roots != 1 {
		return malformed("it ends too early")
	}
	return io.EOF
}

// take returns the next n bytes and moves behind them.
func (x *xmlScan) take(n int) []byte {
	b := x.buf[x.pos : x.pos+n]
	x.pos += n
	return b
}

// find returns where mark stands, counted from pos and not before from; -1
// when it does not come any more.
func (x *xmlScan) find(from int, mark string) (int, error) {
	for {
		window := x.buf[x.pos:x.end]
		if from < len(window) {
			var i int
			if len(mark) == 1 {
				i = bytes.IndexByte(window[from:], mark[0])
			} else {
				i = bytes.Index(window[from:], []byte(mark))
			}
			if i >= 0 {
				return from + i, nil
			}
			from = max(from, len(window)-len(mark)+1)
		}
		if x.more == io.EOF {
			return -1, nil
		}
		if err := x.fill(); err != nil {
			return 0, err
		}
	}
}

// byteAt returns the byte that stands i behind pos.
func (x *xmlScan) byteAt(i int) (byte, error) {
	for x.pos+i >= x.end {
		if x.more == io.EOF {
			return 0, malformed("it ends too early")
		}
		if err := x.fill(); err != nil {
			return 0, err
		}
	}
	return x.buf[x.pos+i], nil
}

// fill reads more, and makes room for it first.
func (x *xmlScan) fill() error {
	if x.more != nil {
		return x.more
	}
	if x.pos > 0 {
		copy(x.buf, x.buf[x.pos:x.end])
		x.end -= x.pos
		x.pos = 0
	}
	if x.end == len(x.buf) {
		if len(x.buf) >= maxXMLToken {
			return malformed("a tag or text longer than %d bytes", maxXMLToken)
		}
		x.buf = append(x.buf, make([]byte, len(x.buf))...)
	}
	n, err := x.r.Read(x.buf[x.end:])
	x.end += n
	if err == nil {
		return nil
	}
	x.more = err
	if err == io.EOF {
		return nil
	}
	var over overBudgetError
	if errors.As(err, &over) {
		x.more = over
	} else {
		x.more = malformed("%s", clip(plainZipError(err)))
	}
	return x.more
}

func (x *xmlScan) pop() {
	from := x.opened[len(x.opened)-1]
	x.name = localName(x.names[from:])
	x.names, x.opened = x.names[:from], x.opened[:len(x.opened)-1]
}

func localName(name []byte) []byte {
	return name[bytes.IndexByte(name, ':')+1:]
}

func (x *xmlScan) endTag() error {
	gt, err := x.find(2, ">")
	if err != nil {
		return err
	}
	if gt < 0 {
		return malformed("it ends too early")
	}
	name := trimXMLSpace(x.take(gt + 1)[2:gt])
	if n := len(x.opened); n == 0 || string(x.names[x.opened[n-1]:]) != string(name) {
		return malformed("element %s is not closed where it should be", clip(string(name)))
	}
	x.pop()
	return nil
}

func trimXMLSpace(b []byte) []byte {
	for len(b) > 0 && isXMLSpace(b[len(b)-1]) {
		b = b[:len(b)-1]
	}
	return b
}

func isXMLSpace(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }
