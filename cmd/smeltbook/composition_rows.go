package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// compositionRow is one row of a composition file.
type compositionRow struct {
	sample      string
	composition chem.Composition
	err         error // why the row gives no composition
}

// maxCompositionRows bounds what melt reads at once.
const maxCompositionRows = 200_000

// readCompositions reads a comma-separated file whose header names oxides or
// elements, in wt%, and optionally a column "sample". An empty cell means that
// the oxide was not determined. "-" stands for standard input.
func readCompositions(name string, stdin io.Reader) ([]compositionRow, error) {
	in := stdin
	if name == "-" {
		name = "standard input"
	} else {
		f, err := os.Open(name)
		if err != nil {
			return nil, callError{fmt.Errorf("%s: there is no such file, or it cannot be read", name)}
		}
		defer f.Close()
		if info, err := f.Stat(); err == nil && info.IsDir() {
			return nil, callError{fmt.Errorf("%s is a folder; name a comma-separated file", name)}
		}
		in = f
	}
	buffered := bufio.NewReader(in)
	if start, _ := buffered.Peek(4); string(start) == "PK\x03\x04" {
		return nil, callError{fmt.Errorf("%s is a workbook; save the sheet as comma-separated text (.csv) and name that", name)}
	}
	r := csv.NewReader(buffered)
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: no header row; write for example sample,SiO2,FeO,CaO in the first line", name)
	}
	if len(header) == 1 && strings.ContainsAny(header[0], ";\t") {
		return nil, fmt.Errorf("%s: the header %q is not parted by commas; save the file as comma-separated text with decimal points", name, header[0])
	}
	columns, sampleColumn, err := compositionColumns(name, header)
	if err != nil {
		return nil, err
	}
	var rows []compositionRow
	for line := 2; ; line++ {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			if len(rows) == 0 {
				return nil, fmt.Errorf("%s: there is no composition below the header", name)
			}
			return rows, nil
		}
		var bad *csv.ParseError
		if errors.As(err, &bad) {
			return nil, fmt.Errorf("%s, row %d: a quotation mark stands where none belongs, or one is not closed", name, bad.StartLine)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if len(rows) == maxCompositionRows {
			return nil, fmt.Errorf("%s: more than %d rows; split the file", name, maxCompositionRows)
		}
		row := compositionRow{sample: strconv.Itoa(len(rows) + 1)}
		if sampleColumn >= 0 && sampleColumn < len(record) && strings.TrimSpace(record[sampleColumn]) != "" {
			row.sample = record[sampleColumn]
		}
		number, _ := r.FieldPos(0)
		row.composition, row.err = compositionOf(name, number, columns, record)
		rows = append(rows, row)
	}
}

// compositionColumns returns the analyte of each column, "" for none.
func compositionColumns(name string, header []string) (columns []string, sample int, err error) {
	sample = -1
	for i, h := range header {
		h = strings.TrimSpace(strings.TrimPrefix(h, "\ufeff"))
		_, known := chem.LookupAnalyte(h)
		switch {
		case strings.EqualFold(h, "sample"):
			sample = i
			h = ""
		case !known:
			var ids []string
			for _, a := range chem.Analytes() {
				ids = append(ids, a.ID)
			}
			hint := ""
			if near := source.Nearest(h, ids); near != "" {
				hint = "; did you mean " + near + "?"
			}
			return nil, -1, fmt.Errorf("%s: column %q is no oxide or element%s; name the columns by formula, such as SiO2, and \"sample\"", name, h, hint)
		}
		columns = append(columns, h)
	}
	return columns, sample, nil
}

func compositionOf(name string, line int, columns, record []string) (chem.Composition, error) {
	if len(record) < len(columns) {
		return chem.Composition{}, fmt.Errorf("%s, row %d: %d fields for %d columns; leave the place of what was not determined empty, but keep its comma", name, line, len(record), len(columns))
	}
	var parts []chem.Part
	for i, field := range record {
		field = strings.TrimSpace(field)
		if field == "" {
			continue
		}
		if i >= len(columns) {
			return chem.Composition{}, fmt.Errorf("%s, row %d: more fields than columns in the header", name, line)
		}
		if columns[i] == "" {
			continue
		}
		ref, err := excelize.CoordinatesToCellName(i+1, line)
		if err != nil {
			ref = fmt.Sprintf("row %d", line)
		}
		x, err := strconv.ParseFloat(field, 64)
		if err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return chem.Composition{}, fmt.Errorf("%s, cell %s: %q is not a number; write wt%% with a point, or leave the cell empty", name, ref, field)
		}
		parts = append(parts, chem.Part{ID: columns[i], Quantity: quantity.New(x, "wt%", "given without uncertainty", source.Cell{File: name, Ref: ref})})
	}
	c, err := chem.NewComposition(parts...)
	if err != nil {
		return c, fmt.Errorf("%s, row %d: %w", name, line, err)
	}
	return c, nil
}
