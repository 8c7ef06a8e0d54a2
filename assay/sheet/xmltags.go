package sheet

import "bytes"

// startTag reads a tag with its attributes.
func (x *xmlScan) startTag() error {
	gt, err := x.tagEnd()
	if err != nil {
		return err
	}
	tag := x.take(gt + 1)[1:gt]
	if n := len(tag); n > 0 && tag[n-1] == '/' {
		x.closing, tag = true, tag[:n-1]
	}
	n := nameLength(tag)
	if n == 0 {
		return malformed("a tag without a name")
	}
	if len(x.opened) == 0 {
		if x.roots++; x.roots > 1 {
			return malformed("a second root element")
		}
	}
	if len(x.opened) >= maxXMLDepth {
		return malformed("elements nested deeper than %d", maxXMLDepth)
	}
	x.opened = append(x.opened, len(x.names))
	x.names = append(x.names, tag[:n]...)
	x.name = localName(tag[:n])
	return x.attributes(tag[n:])
}

// tagEnd finds the > that ends the tag; one in a quoted value does not.
func (x *xmlScan) tagEnd() (int, error) {
	quote := byte(0)
	for i := 1; ; i++ {
		if x.pos+i >= x.end {
			if _, err := x.byteAt(i); err != nil {
				return 0, err
			}
		}
		switch c := x.buf[x.pos+i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return i, nil
		}
	}
}

func (x *xmlScan) attributes(s []byte) error {
	x.attrs = x.attrs[:0]
	for {
		rest := bytes.TrimLeft(s, " \n\t\r")
		if len(rest) == 0 {
			return nil
		}
		n := nameLength(rest)
		if n == 0 || len(rest) == len(s) {
			return malformed("an attribute without a name or a space before it")
		}
		name := rest[:n]
		rest = bytes.TrimLeft(rest[n:], " \n\t\r")
		if len(rest) == 0 || rest[0] != '=' {
			return malformed("an attribute without a value")
		}
		rest = bytes.TrimLeft(rest[1:], " \n\t\r")
		if len(rest) == 0 || rest[0] != '"' && rest[0] != '\'' {
			return malformed("an attribute without quotes")
		}
		end := bytes.IndexByte(rest[1:], rest[0])
		if end < 0 {
			return malformed("an attribute without its second quote")
		}
		value := rest[1 : 1+end]
		if bytes.IndexByte(value, '<') >= 0 {
			return malformed("a < in an attribute")
		}
		value, err := plainChars(value, nil)
		if err != nil {
			return err
		}
		for _, a := range x.attrs {
			if string(a.name) == string(name) {
				return malformed("the attribute %s twice in one tag", clip(string(name)))
			}
		}
		x.attrs = append(x.attrs, xmlAttr{name, value})
		s = rest[end+2:]
	}
}

// attr returns the value of an attribute of the tag just read.
func (x *xmlScan) attr(name string) string {
	for _, a := range x.attrs {
		if string(a.name) == name {
			return string(a.value)
		}
	}
	return ""
}

// nameLength returns the length of the name that s begins with: letters,
// digits, points, hyphens and underscores, with one colon at most inside.
func nameLength(s []byte) int {
	colons, i := 0, 0
	for ; i < len(s); i++ {
		c := s[i]
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c == '_':
		case (c >= '0' && c <= '9' || c == '-' || c == '.') && i > 0 && s[i-1] != ':':
		case c == ':' && i > 0:
			colons++
		default:
			if c >= 0x80 {
				return 0
			}
			if colons > 1 || i > 0 && s[i-1] == ':' {
				return 0
			}
			return i
		}
	}
	if colons > 1 || i > 0 && s[i-1] == ':' {
		return 0
	}
	return i
}
