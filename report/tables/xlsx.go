package tables

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/sheet"
	"smeltbook/report/study"
)

// Sheets of a workbook.
const (
	tableSheet   = "table"
	columnsSheet = "columns"
	notesSheet   = "notes"
	originsSheet = "cells"
)

// WriteXLSX writes the table as a workbook. The first sheet has the columns of
// the csv but the notes, numbers with all their digits, shown as printed; the
// others tell of the columns, of the table, and cell by cell the notes and the
// file, sheet and cell that a value comes from. The same table gives the same
// bytes.
func (t Table) WriteXLSX(w io.Writer) (err error) {
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
		if err != nil {
			err = fmt.Errorf("tables: %w", err)
		}
	}()
	if err := MarkBook(f); err != nil {
		return err
	}
	if err := f.SetSheetName("Sheet1", tableSheet); err != nil {
		return err
	}
	b := book{file: f, formats: map[int]int{}}
	fields := slices.DeleteFunc(t.Fields(), func(f Field) bool { return f.Part == Note })
	if err := b.table(t, fields); err != nil {
		return err
	}
	if err := b.texts(columnsSheet, columnRows(fields)); err != nil {
		return err
	}
	if err := b.texts(notesSheet, noteRows(t)); err != nil {
		return err
	}
	if err := b.texts(originsSheet, cellRows(t, fields)); err != nil {
		return err
	}
	_, err = f.WriteTo(w)
	return err
}

// MarkBook marks a workbook as an output of the program, so that it is never read
// as data.
func MarkBook(f *excelize.File) error {
	return f.SetDocProps(&excelize.DocProperties{Creator: "smeltbook", LastModifiedBy: "smeltbook", Category: sheet.OutputMark,
		Created: noTime, Modified: noTime})
}

// noTime stands for the time of writing, which no output tells: the format wants
// one.
const noTime = "2000-01-01T00:00:00Z"

// book writes sheets into a workbook.
type book struct {
	file    *excelize.File
	formats map[int]int // styles of numbers by their decimals
}

// table writes the heads, kept in view, and the values.
func (b *book) table(t Table, fields []Field) error {
	head, err := b.file.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: &excelize.Alignment{WrapText: true, Vertical: "top"}})
	if err != nil {
		return err
	}
	for i, f := range fields {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := b.file.SetColWidth(tableSheet, column, column, columnWidth(t, f)); err != nil {
			return err
		}
		if err := b.set(column+"1", Item{Text: f.Name}); err != nil {
			return err
		}
		for n, r := range t.Rows {
			if err := b.set(column+strconv.Itoa(n+2), f.Of(r)); err != nil {
				return err
			}
		}
	}
	if err := b.file.SetRowStyle(tableSheet, 1, 1, head); err != nil {
		return err
	}
	return b.file.SetPanes(tableSheet, &excelize.Panes{Freeze: true, XSplit: 1, YSplit: 1, TopLeftCell: "B2", ActivePane: "bottomRight"})
}

// set writes a number shown as it is printed, or a text.
func (b *book) set(at string, x Item) error {
	switch {
	case x.Empty():
		return nil
	case !x.IsNumber:
		return b.file.SetCellStr(tableSheet, at, x.inert())
	}
	style, ok := b.formats[x.Decimals]
	if !ok {
		format := "0"
		if x.Decimals > 0 {
			format += "." + strings.Repeat("0", x.Decimals)
		}
		var err error
		if style, err = b.file.NewStyle(&excelize.Style{CustomNumFmt: &format}); err != nil {
			return err
		}
		b.formats[x.Decimals] = style
	}
	if err := b.file.SetCellFloat(tableSheet, at, x.Number, -1, 64); err != nil {
		return err
	}
	return b.file.SetCellStyle(tableSheet, at, at, style)
}

// widest is the widest column in letters.
const widest = 40

func columnWidth(t Table, f Field) float64 {
	letters := utf8.RuneCountInString(f.Name) / 2 // heads may take two lines
	for _, r := range t.Rows {
		letters = max(letters, utf8.RuneCountInString(f.Of(r).Text))
	}
	return float64(min(max(letters, 8), widest) + 2)
}

// texts writes a sheet of texts.
func (b *book) texts(name string, rows [][]string) error {
	if _, err := b.file.NewSheet(name); err != nil {
		return err
	}
	last, err := excelize.ColumnNumberToName(len(rows[0]))
	if err != nil {
		return err
	}
	if err := b.file.SetColWidth(name, "A", last, widest/2); err != nil {
		return err
	}
	for n, r := range rows {
		for i, s := range r {
			if s == "" {
				continue
			}
			at, err := excelize.CoordinatesToCellName(i+1, n+1)
			if err != nil {
				return err
			}
			if err := b.file.SetCellStr(name, at, study.InertText(s)); err != nil {
				return err
			}
		}
	}
	return nil
}

func columnRows(fields []Field) [][]string {
	what := map[Part]string{Value: "value", Uncertainty: "behind the ± of the value: its standard uncertainty, unless the heading says otherwise", Below: "below the value on the page"}
	rows := [][]string{{"column", "unit", "holds", "said in the heading"}}
	for _, f := range fields {
		rows = append(rows, []string{f.Name, f.Unit, what[f.Part], f.Sub})
	}
	return rows
}

func noteRows(t Table) [][]string {
	rows := [][]string{{fmt.Sprintf("Table %d. %s", t.Number, plainText(t.Caption))}}
	for _, n := range t.Notes {
		rows = append(rows, []string{plainText(n)})
	}
	return append(rows, []string{"Written by smeltbook; it is not read as data."})
}

// cellRows lists the notes on cells and where their values come from, a line for
// each cell of the inputs.
func cellRows(t Table, fields []Field) [][]string {
	rows := [][]string{{"cell", "row", "column", "note", "from file", "from sheet", "from cell"}}
	for n, r := range t.Rows {
		for i, f := range fields {
			if f.Column < 0 || f.Part != Value {
				continue
			}
			c := r.Cells[f.Column]
			at, _ := excelize.CoordinatesToCellName(i+1, n+2) // both are above 0
			line := []string{at, plainText(r.Cells[0].Value.Text), f.Name, plainText(c.Note), "", "", ""}
			for _, from := range c.From {
				line[4], line[5], line[6] = from.File, from.Sheet, from.Ref
				rows = append(rows, slices.Clone(line))
				line[3] = ""
			}
			if len(c.From) == 0 && c.Note != "" {
				rows = append(rows, line)
			}
		}
	}
	return rows
}
