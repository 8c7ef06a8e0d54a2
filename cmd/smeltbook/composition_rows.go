package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"slices"
	"strconv"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// compositionRow is one row of a file of compositions.
type compositionRow struct {
	sample      string
	composition chem.Composition
	err         error // why the row gives no composition
}

// aboutNames are notices of the reader that say nothing where each row stands for
// itself, and those of iron, which a melt counts alike whether it is "FeO" or all
// iron stated so.
var aboutNames = []string{"NAME_MISSING", "NUMERIC_NAME", "DUPLICATE_NAME", "QC_ROW", "IRON_ASSUMED_TOTAL"}

// readCompositions reads a spreadsheet as a campaign reads it: columns of oxides
// or elements, in wt% where they state no unit, and if there is one a column of
// names. Every row is a composition of its own; an empty cell means that the
// oxide was not determined. "-" stands for standard input. The notices are what
// is to be told beside the answers.
func readCompositions(ctx context.Context, name string, stdin io.Reader) ([]compositionRow, source.Notices, error) {
	in := stdin
	if name == "-" {
		name = "standard input"
	} else {
		f, err := os.Open(name)
		if err != nil {
			return nil, nil, callError{fmt.Errorf("%s: there is no such file, or it cannot be read", name)}
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, nil, callError{fmt.Errorf("%s is a folder; name a spreadsheet in it", name)}
		}
		in = f
	}
	var seen bytes.Buffer
	reading := sheet.Reading{Unit: "wt%"}
	book, err := readBook(ctx, io.TeeReader(in, &seen), name, reading)
	if err != nil {
		return nil, nil, err
	}
	if len(book.Tables) == 0 {
		reading.HeaderRow = 1 // a single oxide makes no table unless it is said to
		if again, err := readBook(ctx, &seen, name, reading); err == nil {
			book = again
		}
	}
	if book.Output {
		return nil, nil, fmt.Errorf("%s was written by smeltbook and is not read as data; name the sheet with what was measured", name)
	}
	return rowsOf(book)
}

// readBook reads a spreadsheet; one that cannot be read is an error.
func readBook(ctx context.Context, in io.Reader, name string, reading sheet.Reading) (*sheet.Book, error) {
	book, err := sheet.ReadFrom(ctx, in, name, sheet.Options{Sheets: map[string]sheet.Reading{"": reading}})
	if err != nil {
		return nil, err
	}
	if bad := book.Notices.Of(source.Error); len(bad) > 0 {
		return nil, bad[0]
	}
	return book, nil
}

// rowsOf takes the compositions out of the tables, in their order. What the reader
// said of a cell that keeps a row from its answer is that row's error and not told
// again.
func rowsOf(book *sheet.Book) (rows []compositionRow, told source.Notices, err error) {
	said, rowsOwn := map[source.Cell]source.Notice{}, map[source.Cell]bool{}
	for _, n := range book.Notices.Of(source.Warning) {
		if !slices.Contains(aboutNames, n.Code) {
			said[n.At] = n
		}
	}
	for i := range book.Tables {
		t := &book.Tables[i]
		if err := slips(t); err != nil {
			return nil, nil, err
		}
		for row := range t.Rows() {
			r := compositionRow{sample: row.Name}
			if r.sample == "" {
				r.sample = strconv.Itoa(len(rows) + 1)
			}
			r.composition, r.err = compositionOf(row, said)
			if n, ok := r.err.(source.Notice); ok {
				rowsOwn[n.At] = true
			}
			rows = append(rows, r)
		}
	}
	if len(rows) == 0 {
		return nil, nil, fmt.Errorf("%s: there is no composition in it; write for example sample,SiO2,FeO,CaO in the first line and the wt%% below", book.File)
	}
	for _, n := range book.Notices {
		if !slices.Contains(aboutNames, n.Code) && !rowsOwn[n.At] {
			told = append(told, n)
		}
	}
	return rows, told, nil
}

// slips refuses a table with a column of numbers that may be an oxide with a slip
// in its heading: without it the compositions would be wrong.
func slips(t *sheet.Table) error {
	var ids []string
	for _, a := range chem.Analytes() {
		ids = append(ids, a.ID)
	}
	for _, c := range t.Columns {
		if c.Role != sheet.RoleIgnored {
			continue
		}
		at := source.Cell{File: t.File, Sheet: t.Sheet, Ref: c.Ref}
		if c.Header == "" {
			return fmt.Errorf("%s: the column has numbers but no heading; write a heading", at)
		}
		if near := source.Nearest(c.Header, ids); near != "" {
			return fmt.Errorf("%s: column %q is no oxide or element; did you mean %s?", at, c.Header, near)
		}
	}
	return nil
}

// compositionOf makes a composition of what was determined in a row. Where two
// columns hold an analyte, the first with a number counts.
func compositionOf(row sheet.Row, said map[source.Cell]source.Notice) (chem.Composition, error) {
	var parts []chem.Part
	for _, v := range row.Values {
		if slices.ContainsFunc(parts, func(p chem.Part) bool { return p.ID == v.Analyte }) {
			continue
		}
		if v.Class != quantity.Unusable {
			v, _ = row.Value(v.Analyte)
		}
		switch v.Class {
		case quantity.Missing, quantity.NotRun:
			continue
		case quantity.Unusable:
			return chem.Composition{}, whyUnusable(v, said)
		}
		if v.Known() && !v.HasU() && v.UNote == "" {
			v.UNote = "given without uncertainty"
		}
		parts = append(parts, chem.Part{ID: v.Analyte, Quantity: v.Quantity})
	}
	c, err := chem.NewComposition(parts...)
	if err != nil {
		return c, fmt.Errorf("%s: %w", row.NameCell, err)
	}
	return c, nil
}

// whyUnusable is what the reader said of a cell.
func whyUnusable(v sheet.Value, said map[source.Cell]source.Notice) error {
	at := source.Cell{}
	if len(v.From) > 0 {
		at = v.From[0]
	}
	if n, ok := said[at]; ok {
		return n
	}
	return fmt.Errorf("%s: %q is not a number; write wt%%, or leave the cell empty", at, strings.TrimSpace(v.Raw))
}
