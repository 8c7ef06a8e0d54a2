package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"smeltbook/assay/source"
)

// text reads a delimited text file as one grid.
func (r *reader) text(data []byte) ([]*grid, *refusal) {
	reading := r.opt.reading("")
	s, form, bad := decodeText(data, reading.Charset)
	if bad != nil {
		return nil, bad
	}
	if form != "" {
		r.note(source.Warning, "ENCODING", source.Cell{File: r.book.File}, "the text is not UTF-8 and was read as %s; check signs such as µ and ±", form)
		if reading.Charset == "" && !strings.HasPrefix(form, "UTF") {
			r.overrule(setting{"charset", "", otherCharset(form)})
		}
	}
	s, delimiter := delimiterLine(s)
	switch {
	case reading.Delimiter != "":
		delimiter = delimiterOf(reading.Delimiter)
	case delimiter == 0:
		if delimiter = findDelimiter(s); delimiter != ',' {
			r.note(source.Note, "DELIMITER", source.Cell{File: r.book.File}, "the fields were taken to be separated by %s", delimiterNames[delimiter])
			r.overrule(setting{"delimiter", "", ","})
		}
	}
	g := &grid{delimited: true}
	blank := 0
	room := []cell(nil)
	err := splitRecords(s, delimiter, r.limits, func(fields []string) {
		if len(fields) == 0 {
			blank++
			return
		}
		for ; blank > 0; blank-- {
			g.add(nil)
		}
		if cap(room)-len(room) < len(fields) {
			room = make([]cell, 0, max(roomCells, len(fields)))
		}
		row := room[len(room):]
		for i, f := range fields {
			if f = unprotect(f); f != "" {
				row = append(row, cell{text: f, col: int32(i), kind: kindText})
			}
		}
		room = room[:len(room)+len(row)]
		g.add(row[:len(row):len(row)])
	})
	if err != nil {
		return nil, refuse(codeTooLarge, "%v; nothing was read; keep the assay tables in a file of their own, or raise this limit under `limits:` in the notebook", err)
	}
	return []*grid{g}, nil
}

var delimiterNames = map[byte]string{'\t': "tabs", ';': "semicolons", ',': "commas", '|': "vertical bars"}

// delimiterOf reads the name of a delimiter; 0 when there is none of that name.
func delimiterOf(s string) byte {
	switch s {
	case "tab", "\t":
		return '\t'
	case ",", ";", "|":
		return s[0]
	}
	return 0
}

const windows1252 = "windows-1252"

// charset returns the eight-bit encoding of a name.
func charset(name string) (encoding.Encoding, error) {
	switch strings.ToLower(name) {
	case "", windows1252:
		return charmap.Windows1252, nil
	case "windows-1250":
		return charmap.Windows1250, nil
	case "macintosh":
		return charmap.Macintosh, nil
	}
	return nil, fmt.Errorf("the charset is %q; use windows-1252, windows-1250 or macintosh", name)
}

// otherCharset is the one to try where signs came out wrong.
func otherCharset(taken string) string {
	if taken == "macintosh" {
		return windows1252
	}
	return "windows-1250"
}

// decodeText brings a file to UTF-8. Order: byte order mark, valid UTF-8,
// zero bytes in every second place, eight-bit. form names an encoding other
// than UTF-8.
func decodeText(data []byte, eightBit string) (s, form string, bad *refusal) {
	utf16 := func(e unicode.Endianness, policy unicode.BOMPolicy, name string) (string, string, *refusal) {
		out, err := unicode.UTF16(e, policy).NewDecoder().Bytes(data)
		if err != nil || bytes.ContainsRune(out, 0) {
			return "", "", refuse(codeForm, "this is no readable text; save the table as .xlsx or as .csv in UTF-8")
		}
		return strings.TrimPrefix(string(out), "\ufeff"), name, nil
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data = data[3:]
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		return utf16(unicode.LittleEndian, unicode.UseBOM, "UTF-16")
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		return utf16(unicode.BigEndian, unicode.UseBOM, "UTF-16")
	}
	if zeros := bytes.Count(data, []byte{0}); zeros > 0 {
		even, odd := 0, 0
		for i, b := range data {
			if b == 0 && i%2 == 0 {
				even++
			} else if b == 0 {
				odd++
			}
		}
		switch {
		case odd > len(data)/4 && even < odd/8:
			return utf16(unicode.LittleEndian, unicode.IgnoreBOM, "UTF-16 without mark")
		case even > len(data)/4 && odd < even/8:
			return utf16(unicode.BigEndian, unicode.IgnoreBOM, "UTF-16 without mark")
		}
		return "", "", refuse(codeForm, "this is a binary file, not a spreadsheet; save the table as .xlsx or .csv")
	}
	if utf8.Valid(data) {
		return string(data), "", nil
	}
	enc, err := charset(eightBit)
	if err != nil {
		return "", "", refuse(codeForm, "%v", err)
	}
	out, err := enc.NewDecoder().Bytes(data)
	if err != nil {
		return "", "", refuse(codeForm, "this is no readable text; save the table as .xlsx or as .csv in UTF-8")
	}
	if eightBit == "" {
		eightBit = windows1252
	}
	return string(out), eightBit, nil
}

// delimiterLine takes off a first line such as "sep=;", which spreadsheet
// programs do not show as a row.
func delimiterLine(s string) (string, byte) {
	line, rest, _ := strings.Cut(s, "\n")
	line = strings.TrimRight(line, "\r")
	if len(line) == 5 && strings.EqualFold(line[:4], "sep=") {
		return rest, line[4]
	}
	return s, 0
}

// findDelimiter picks the sign that gives the same number of fields, two or
// more, on most lines.
func findDelimiter(s string) byte {
	best, bestScore, bestFields := byte(','), 0, 0
	for _, d := range []byte{'\t', ';', ',', '|'} {
		counts := map[int]int{}
		for i, line := range outsideQuotes(s) {
			if i == 500 {
				break
			}
			if n := strings.Count(line, string(d)); n > 0 {
				counts[n+1]++
			}
		}
		for fields, lines := range counts {
			if lines > bestScore || (lines == bestScore && fields > bestFields) {
				best, bestScore, bestFields = d, lines, fields
			}
		}
	}
	return best
}

// outsideQuotes returns the lines of the text without what stands in quotes.
func outsideQuotes(s string) []string {
	s = s[:min(len(s), 256<<10)]
	var b strings.Builder
	in := false
	for i := 0; i < len(s); i++ {
		if s[i] == '"' {
			in = !in
			continue
		}
		if !in {
			b.WriteByte(s[i])
		}
	}
	return strings.Split(b.String(), "\n")
}

// unprotect undoes what keeps a program from changing or running a text:
// ="007" is the text 007, and one apostrophe before a sign that would start a
// formula was put there on export.
func unprotect(f string) string {
	if len(f) > 3 && strings.HasPrefix(f, `="`) && strings.HasSuffix(f, `"`) && !strings.Contains(f[2:len(f)-1], `"`) {
		return f[2 : len(f)-1]
	}
	if len(f) > 1 && f[0] == '\'' && startsFormula(f[1:]) {
		return f[1:]
	}
	return f
}

// startsFormula reports whether a spreadsheet program would take the text for
// a formula.
func startsFormula(s string) bool {
	return s != "" && strings.ContainsRune("=+-@\t\r\x00", rune(s[0]))
}
