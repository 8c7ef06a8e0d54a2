package main

import (
	"fmt"
	"strconv"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
)

// withReadings tells the sheets of readings of a single spreadsheet from its
// other tables and works them out.
func withReadings(book *sheet.Book) inspection {
	found := inspection{tables: book.Tables, notices: book.Notices}
	for i := range book.Records {
		if !wetlab.Recognise(&book.Records[i]) {
			found.records = append(found.records, book.Records[i])
			continue
		}
		s := wetlab.Read(&book.Records[i])
		found.notices = append(found.notices, s.AllNotices()...)
		found.readings = append(found.readings, s)
	}
	return found
}

// writeReadings tells how the columns and each line of a sheet of readings were
// understood.
func writeReadings(b *strings.Builder, s wetlab.Sheet) {
	at := source.Cell{File: s.File, Sheet: s.Sheet}
	fmt.Fprintf(b, "  %s: readings, headings in row %d, %s\n", at, s.HeaderRow, count(len(s.Results), "determination", "determinations"))
	var columns []string
	for _, c := range s.Columns {
		text := c.Ref + " " + strconv.Quote(c.Header)
		if what := c.Describe(); !strings.EqualFold(what, c.Header) {
			text += " read as " + what
		}
		columns = append(columns, text)
	}
	fmt.Fprintf(b, "    columns: %s\n", strings.Join(columns, ", "))
	for _, t := range s.Titrants {
		fmt.Fprintf(b, "    titrant %s: %s mol/L, %s\n", t.Name, t.Concentration.Text(), t.Concentration.UNote)
	}
	for _, l := range s.Lines {
		fmt.Fprintf(b, "    calibration %s: signal = %.4g + %.4g·c through %d standards, s(y/x) %.2g\n", l.Name, l.A, l.B, l.N, l.Syx)
	}
	used := map[*wetlab.Method]bool{}
	for _, r := range s.Results {
		value := "not computed"
		if r.Value.Known() {
			value = r.Value.WithUnit() + ", from " + r.Using()
		}
		if r.Control {
			value += " (a control, joined to no sample)"
		}
		fmt.Fprintf(b, "    %s %s: %s\n", r.At.Ref, r.Determination, value)
		used[r.Method] = true
	}
	for _, m := range wetlab.Methods() {
		if used[m] {
			fmt.Fprintf(b, "    by %s: %s\n", m.ID, m.Formula)
		}
	}
}

type readingsJSON struct {
	File    string              `json:"file"`
	Sheet   string              `json:"sheet"`
	Results []determinationJSON `json:"results"`
}

type determinationJSON struct {
	Sample  string   `json:"sample"`
	Analyte string   `json:"analyte"`
	Method  string   `json:"method"`
	WtPct   *float64 `json:"wt_pct"`
	SDWtPct *float64 `json:"sd_wt_pct"`
	SDFrom  string   `json:"sd_from"`
	Formula string   `json:"formula"`
	Cells   []string `json:"cells"`
}

func determinationsJSON(sheets []wetlab.Sheet) []readingsJSON {
	out := []readingsJSON{}
	for _, s := range sheets {
		rj := readingsJSON{File: s.File, Sheet: s.Sheet, Results: []determinationJSON{}}
		for _, r := range s.Results {
			d := determinationJSON{Sample: r.Sample, Analyte: r.Analyte, Method: r.Method.ID, WtPct: quantity.OrNull(r.Value.Value),
				SDWtPct: quantity.OrNull(r.Value.U), SDFrom: r.Value.UNote, Formula: r.Method.Formula, Cells: []string{}}
			for _, c := range r.Value.From {
				d.Cells = append(d.Cells, c.Ref)
			}
			rj.Results = append(rj.Results, d)
		}
		out = append(out, rj)
	}
	return out
}
