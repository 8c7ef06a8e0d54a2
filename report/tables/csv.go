package tables

import (
	"encoding/csv"
	"fmt"
	"io"
)

// byteOrderMark tells spreadsheet programs that a text is in UTF-8.
const byteOrderMark = "\ufeff"

// WriteCSV writes the table as UTF-8 text with one line of heads, numbers as they
// are printed. Notes stand in columns of their own. It is what the page's button
// saves.
func (t Table) WriteCSV(w io.Writer) error {
	if _, err := io.WriteString(w, byteOrderMark); err != nil {
		return fmt.Errorf("tables: %w", err)
	}
	out := csv.NewWriter(w)
	out.UseCRLF = true
	fields := t.Fields()
	line := make([]string, len(fields))
	for i, f := range fields {
		line[i] = Item{Text: f.Name}.inert()
	}
	if err := out.Write(line); err != nil {
		return fmt.Errorf("tables: %w", err)
	}
	for _, r := range t.Rows {
		for i, f := range fields {
			line[i] = f.Of(r).inert()
		}
		if err := out.Write(line); err != nil {
			return fmt.Errorf("tables: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("tables: %w", err)
	}
	return nil
}
