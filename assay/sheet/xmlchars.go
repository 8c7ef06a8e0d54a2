package sheet

import (
	"bytes"
	"strconv"
	"strings"
	"unicode/utf8"
)

// instruction passes over <?…?>; the text may be in UTF-8 only.
func (x *xmlScan) instruction() error {
	end, err := x.find(2, "?>")
	if err != nil {
		return err
	}
	if end < 0 {
		return malformed("it ends too early")
	}
	in := string(x.take(end + 2)[2:end])
	n := nameLength([]byte(in))
	if n == 0 {
		return malformed("an instruction without a name")
	}
	if in[:n] != "xml" {
		return nil
	}
	if v := pseudoAttribute(in[n:], "version"); v != "" && v != "1.0" {
		return malformed("XML of version %s", clip(v))
	}
	if e := pseudoAttribute(in[n:], "encoding"); e != "" && !strings.EqualFold(e, "utf-8") {
		return malformed("text in %s, not UTF-8", clip(e))
	}
	return nil
}

// pseudoAttribute finds what stands in quotes after name=.
func pseudoAttribute(s, name string) string {
	for {
		_, rest, found := strings.Cut(s, name)
		if !found {
			return ""
		}
		s = rest
		if rest = strings.TrimLeft(rest, " \t\r\n"); rest == "" || rest[0] != '=' {
			continue
		}
		if rest = strings.TrimLeft(rest[1:], " \t\r\n"); rest == "" || rest[0] != '"' && rest[0] != '\'' {
			continue
		}
		if value, _, closed := strings.Cut(rest[1:], rest[:1]); closed {
			return value
		}
	}
}

// exclamation reads a comment, or text in <![CDATA[…]]>; anything else that
// begins with <! is a declaration and refused.
func (x *xmlScan) exclamation() (text bool, err error) {
	starts := func(lead string) (bool, error) {
		for i := 1; i < len(lead); i++ {
			c, err := x.byteAt(i)
			if err != nil {
				return false, err
			}
			if c != lead[i] {
				return false, nil
			}
		}
		return true, nil
	}
	switch comment, err := starts("<!--"); {
	case err != nil:
		return false, err
	case comment:
		end, err := x.find(4, "--")
		if err != nil {
			return false, err
		}
		if end < 0 {
			return false, malformed("it ends too early")
		}
		if c, err := x.byteAt(end + 2); err != nil || c != '>' {
			return false, malformed("a comment with -- inside")
		}
		x.take(end + 3)
		return false, nil
	}
	const lead = "<![CDATA["
	switch cdata, err := starts(lead); {
	case err != nil:
		return false, err
	case !cdata:
		return false, errDirective
	}
	end, err := x.find(len(lead), "]]>")
	if err != nil {
		return false, err
	}
	if end < 0 {
		return false, malformed("it ends too early")
	}
	raw := x.take(end + 3)[len(lead):end]
	if len(x.opened) == 0 {
		return false, malformed("text outside the root element")
	}
	if !allowedChars(raw) {
		return false, malformed("signs that XML does not allow")
	}
	x.text = raw
	return true, nil
}

// chars takes raw as the text of the token.
func (x *xmlScan) chars(raw []byte) error {
	if bytes.Contains(raw, []byte("]]>")) {
		return malformed("]]> in a text")
	}
	text, err := plainChars(raw, x.spare)
	if err != nil {
		return err
	}
	if len(text) > 0 && len(raw) > 0 && &text[0] != &raw[0] {
		x.spare = text[:0]
	}
	x.text = text
	return nil
}

// plainChars checks a text and resolves its entities. Where there are none it
// returns raw itself; else it writes to spare.
func plainChars(raw, spare []byte) ([]byte, error) {
	plain, ascii := true, true
	for _, c := range raw {
		if c < 0x20 || c == '&' || c >= 0x80 {
			switch {
			case c == '&' || c == '\r':
				plain = false
			case c >= 0x80:
				ascii = false
			case c != '\n' && c != '\t':
				return nil, malformed("signs that XML does not allow")
			}
		}
	}
	if !ascii && !allowedChars(raw) {
		return nil, malformed("signs that XML does not allow")
	}
	if plain {
		return raw, nil
	}
	out := spare[:0]
	for i := 0; i < len(raw); i++ {
		switch c := raw[i]; c {
		case '\r':
			if i+1 == len(raw) || raw[i+1] != '\n' {
				out = append(out, '\n')
			}
		case '&':
			end := bytes.IndexByte(raw[i:], ';')
			if end < 0 {
				return nil, errDirective
			}
			r, ok := entity(string(raw[i+1 : i+end]))
			if !ok {
				return nil, errDirective
			}
			out = utf8.AppendRune(out, r)
			i += end
		default:
			out = append(out, c)
		}
	}
	return out, nil
}

// entity resolves the five entities of XML and references by number.
func entity(name string) (rune, bool) {
	switch name {
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "amp":
		return '&', true
	case "apos":
		return '\'', true
	case "quot":
		return '"', true
	}
	digits, ok := strings.CutPrefix(name, "#")
	if !ok || digits == "" || digits[0] == '+' || digits[0] == '-' {
		return 0, false
	}
	base := 10
	if digits[0] == 'x' {
		base, digits = 16, digits[1:]
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || !allowedRune(rune(n)) || n > utf8.MaxRune {
		return 0, false
	}
	return rune(n), true
}

func allowedRune(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000 && r <= utf8.MaxRune
}

// allowedChars reports whether a text is UTF-8 and holds only what XML allows.
func allowedChars(s []byte) bool {
	for len(s) > 0 {
		if s[0] < 0x80 {
			if !allowedRune(rune(s[0])) {
				return false
			}
			s = s[1:]
			continue
		}
		r, n := utf8.DecodeRune(s)
		if r == utf8.RuneError && n == 1 || !allowedRune(r) {
			return false
		}
		s = s[n:]
	}
	return true
}
