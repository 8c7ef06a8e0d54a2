package study

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
)

// WriteCSV writes the table as comma-separated text, keys first. Where there is
// nothing a field is empty.
func (t Table) WriteCSV(w io.Writer) error {
	cw := csv.NewWriter(w)
	if err := cw.Write(t.Header()); err != nil {
		return err
	}
	for _, row := range t.Rows {
		fields := make([]string, len(row))
		for i, v := range row {
			switch v := v.(type) {
			case string:
				fields[i] = InertText(v)
			case float64:
				fields[i] = strconv.FormatFloat(v, 'g', -1, 64)
			case bool:
				fields[i] = strconv.FormatBool(v)
			}
		}
		if err := cw.Write(fields); err != nil {
			return err
		}
	}
	cw.Flush()
	return cw.Error()
}

// InertText keeps a spreadsheet program from running a text as a formula, by
// the apostrophe such programs hide.
func InertText(s string) string {
	if s != "" && strings.ContainsRune("=+-@\t\r\x00", rune(s[0])) {
		return "'" + s
	}
	return s
}
