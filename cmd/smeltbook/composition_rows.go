package main

import (
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
		in = f
	}
	r := csv.NewReader(in)
	r.FieldsPerRecord = -1
	r.ReuseRecord = true
	header, err := r.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: no header row; write for example sample,SiO2,FeO,CaO in the first line", name)
	}
	columns, sampleColumn, err := compositionColumns(name, header)
	if err != nil {
		return nil, err
	}
	var rows []compositionRow
	for line := 2; ; line++ {
		record, err := r.Read()
		if errors.Is(err, io.EOF) {
			return rows, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if len(rows) == maxCompositionRows {
			return nil, fmt.Errorf("%s: more than %d rows; split the file", name, maxCompositionRows)
		}
		row := compositionRow{sample: strconv.Itoa(len(rows) + 1)}
		if sampleColumn >= 0 && sampleColumn < len(record) {
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
