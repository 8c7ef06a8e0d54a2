package notebook

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"

	"smeltbook/assay/source"
)

// longestValue is the most text, in bytes, that a value may take from {{ to }}.
const longestValue = 400

// kindValue is the node kind of values in the prose.
var kindValue = ast.NewNodeKind("Value")

// valueNode is a value in the prose; call is nil where it could not be read.
type valueNode struct {
	ast.BaseInline
	call    *Call
	literal string // as it stands in the notebook
}

// Kind returns the node kind.
func (*valueNode) Kind() ast.NodeKind { return kindValue }

// Dump prints the node for debugging.
func (n *valueNode) Dump(src []byte, level int) {
	ast.DumpHelper(n, src, level, map[string]string{"Literal": n.literal}, nil)
}

// valueParser finds {{ … }} in prose.
type valueParser struct {
	body *body
	open int // the last line on which a value began that does not end
}

// Trigger returns the byte that may begin a value.
func (*valueParser) Trigger() []byte { return []byte{'{'} }

// Parse reads a value that begins at the reader's place.
func (p *valueParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, at := block.PeekLine()
	if !strings.HasPrefix(string(line[:min(2, len(line))]), "{{") {
		return nil
	}
	where := p.body.line(at.Start)
	savedLine, saved := block.Position()
	var b strings.Builder
	for b.Len() < longestValue {
		line, _ := block.PeekLine()
		if line == nil {
			break
		}
		before := b.Len()
		b.Write(line[:min(len(line), longestValue)])
		if end := closing(b.String()); end >= 0 {
			block.Advance(end - before)
			node := &valueNode{literal: b.String()[:end]}
			call, err := parseCall(node.literal[2 : end-2])
			if err != nil {
				p.body.tell(where, source.Error, "VALUE_SYNTAX", "the value %s cannot be read: %v", oneLine(node.literal), err)
				return node
			}
			call.Line = where
			node.call = &call
			return node
		}
		block.AdvanceLine()
	}
	block.SetPosition(savedLine, saved)
	if where == p.open {
		return nil // told already
	}
	p.open = where
	p.body.tell(where, source.Error, "VALUE_OPEN",
		"a value begins here with {{ but does not end; close it with }} (and every quotation mark in it), or write \\{{ for plain text")
	return nil
}

// closing returns the offset behind the }} that ends the value at the start
// of s, or -1. A }} inside quotation marks does not count, unless the marks do
// not close.
func closing(s string) int {
	quote := byte(0)
	for i := 2; i < len(s); i++ {
		switch c := s[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			if strings.IndexByte(s[i+1:], c) >= 0 {
				quote = c
			}
		case c == '}' && i+1 < len(s) && s[i+1] == '}':
			return i + 2
		}
	}
	return -1
}

// parseCall reads the inside of a value: a word, then arguments in quotation
// marks or bare.
func parseCall(s string) (Call, error) {
	var call Call
	for n := 0; ; n++ {
		s = strings.TrimLeftFunc(s, unicode.IsSpace)
		if s == "" {
			break
		}
		word, rest, quoted, err := token(s)
		if err != nil {
			return Call{}, err
		}
		s = rest
		switch {
		case n > 0:
			call.Args = append(call.Args, word)
		case quoted || !isName(word):
			return Call{}, fmt.Errorf(`it should begin with a word such as median, not with %q`, word)
		default:
			call.Func = word
		}
	}
	if call.Func == "" {
		return Call{}, errors.New(`it is empty; write for example {{ median "fired" "liquidus" }}`)
	}
	return call, nil
}

// token takes one argument off the front of s, which does not begin with space.
func token(s string) (word, rest string, quoted bool, err error) {
	if mark := s[0]; mark == '"' || mark == '\'' {
		end := strings.IndexByte(s[1:], mark)
		if end < 0 {
			return "", "", true, fmt.Errorf("the quotation mark %c is not closed", mark)
		}
		word, rest = strings.Join(strings.Fields(s[1:1+end]), " "), s[end+2:]
		if r, _ := utf8.DecodeRuneInString(rest); rest != "" && !unicode.IsSpace(r) {
			return "", "", true, fmt.Errorf("a space is missing behind %c%s%c", mark, word, mark)
		}
		return word, rest, true, nil
	}
	end := strings.IndexFunc(s, func(r rune) bool { return !isBare(r) })
	if end < 0 {
		end = len(s)
	}
	if r, _ := utf8.DecodeRuneInString(s[end:]); end < len(s) && !unicode.IsSpace(r) {
		switch r {
		case '“', '”', '„', '‘', '’', '«', '»':
			return "", "", false, fmt.Errorf("the curly quotation mark %c is not understood; use the straight \"", r)
		case ',', '(', ')':
			return "", "", false, fmt.Errorf("%c is not needed; put spaces between the words", r)
		}
		return "", "", false, fmt.Errorf("%q is not expected; put text in quotation marks", r)
	}
	return s[:end], s[end:], false, nil
}

// isBare reports whether a rune may stand in an argument without quotation
// marks.
func isBare(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("_-+./%", r)
}

func isName(s string) bool {
	for i, r := range s {
		if !unicode.IsLetter(r) && (i == 0 || !unicode.IsDigit(r) && r != '_') {
			return false
		}
	}
	return s != ""
}

// oneLine returns s with line ends and runs of space as single spaces.
func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
