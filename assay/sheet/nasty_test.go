package sheet

import (
	"bytes"
	"context"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
)

// book writes workbooks as people leave them.
type book struct {
	t *testing.T
	*excelize.File
}

// rows writes rows of values from a cell on; nil leaves a cell empty.
func (b book) rows(sheet, from string, rows ...[]any) {
	b.t.Helper()
	col, row, err := excelize.CellNameToCoordinates(from)
	b.must(err)
	for i, cells := range rows {
		for j, v := range cells {
			if v == nil {
				continue
			}
			ref, err := excelize.CoordinatesToCellName(col+j, row+i)
			b.must(err)
			b.must(b.SetCellValue(sheet, ref, v))
		}
	}
}

func (b book) must(err error) {
	b.t.Helper()
	if err != nil {
		b.t.Fatal(err)
	}
}

func (b book) format(sheet, from, to, code string) {
	b.t.Helper()
	style, err := b.NewStyle(&excelize.Style{CustomNumFmt: &code})
	b.must(err)
	b.must(b.SetCellStyle(sheet, from, to, style))
}

const s1 = "Sheet1"

// TestNastyBooks writes workbooks of kinds met in practice and compares what is
// read with what a careful person would read. Rows are written as in
// testdata/cases.
func TestNastyBooks(t *testing.T) {
	for name, c := range map[string]struct {
		write func(b book)
		want  []string
		codes []string
	}{
		"logo and address above, table from F on": {
			write: func(b book) {
				for i, s := range []string{"Analytical Services", "12 Mill Lane", "", "Client: K. R.", "Order: 24/118", "", "Samples received: 12", "", "Method: XRF, fused bead", "", "Results", ""} {
					b.must(b.SetCellValue(s1, "B"+string(rune('1'+i%9)), s))
				}
				b.rows(s1, "F14", []any{"Sample", "SiO2 (wt.%)", "FeO(t) (wt.%)"}, []any{"KR-1", 31.2, 50.1}, []any{"KR-2", 30.2, 51.1})
			},
			want: []string{"KR-1 [sample]: SiO2=31.2 FeOT=50.1", "KR-2 [sample]: SiO2=30.2 FeOT=51.1"},
		},
		"name row, unit row, limit row": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2", "Cu", "Zn"}, []any{nil, "wt%", "mg kg⁻¹", "µg g-1"}, []any{"LLD", 0.05, 5, 2}, []any{"KR-1", 31.2, "<LLD", 40})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 Cu:lt0.0005 Zn=0.004"},
			codes: []string{"UNIT_FROM_ROW", "LIMIT_ROW"},
		},
		"names turned into dates": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Frag. no.", "Cu %", "Fe %"}, []any{time.Date(2024, 3, 14, 0, 0, 0, 0, time.UTC), 1.5, 40.0}, []any{"3-15", 1.6, 41.0})
				b.format(s1, "A2", "A2", "d-mmm")
			},
			want:  []string{"2024-03-14 [sample]: Cu=1.5 Fe=40", "3-15 [sample]: Cu=1.6 Fe=41"},
			codes: []string{"DATE_IN_NAME"},
		},
		"values turned into dates": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "Cu %", "Fe %"}, []any{"KR-1", time.Date(2024, 5, 1, 0, 0, 0, 0, time.UTC), 40.0}, []any{"KR-2", 1.6, 41.0})
				b.format(s1, "B2", "B2", "d-mmm")
			},
			want:  []string{"KR-1 [sample]: Cu:error Fe=40", "KR-2 [sample]: Cu=1.6 Fe=41"},
			codes: []string{"DATE_IN_NUMBER"},
		},
		"numbers as names, with zeros shown by a format": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"ID", "SiO2 %", "CaO %"}, []any{7, 31.2, 5.1}, []any{8, 30.2, 5.2})
				b.format(s1, "A2", "A3", "000")
			},
			want:  []string{"7 [sample]: SiO2=31.2 CaO=5.1", "8 [sample]: SiO2=30.2 CaO=5.2"},
			codes: []string{"NUMERIC_NAME"},
		},
		"percent formats": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2", "CaO", "Cu ppm"}, []any{"KR-1", 0.312, 0.051, 900}, []any{"KR-2", 0.302, 0.052, 800})
				b.format(s1, "B2", "C3", "0.00%")
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1 Cu=0.09", "KR-2 [sample]: SiO2=30.2 CaO=5.2 Cu=0.08"},
			codes: []string{"PERCENT_FORMAT"},
		},
		"scientific notation and binary noise": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "Cu ppm", "Au ppb"}, []any{"KR-1", 1.2e4, 0.1 + 0.2}, []any{"KR-2", 1e-3, 3e0})
				b.format(s1, "B2", "C3", "0.00E+00")
			},
			want: []string{"KR-1 [sample]: Cu=1.2 Au=3e-08", "KR-2 [sample]: Cu=1e-07 Au=3e-07"},
		},
		"merged names carry down, values in two runs": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "Run", "SiO2 wt%", "CaO wt%"}, []any{"KR-1", 1, 31.2, 5.1}, []any{nil, 2, 31.4, 5.2}, []any{"KR-2", 1, 30.2, 5.0})
				b.must(b.MergeCell(s1, "A2", "A3"))
			},
			want: []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1 {Run: 1}", "KR-1 [sample] repeats KR-1: SiO2=31.4 CaO=5.2 {Run: 2}", "KR-2 [sample]: SiO2=30.2 CaO=5 {Run: 1}"},
			codes: []string{
				"REPLICATE",
			},
		},
		"merged groups over names, method and unit in them": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "Majors by XRF (wt%)", nil, "Traces (ppm)"}, []any{nil, "SiO₂", "Al₂O₃", "Cu", "Zn"}, []any{"KR-1", 31.2, 5.1, 900, 40})
				b.must(b.MergeCell(s1, "A1", "A2"))
				b.must(b.MergeCell(s1, "B1", "C1"))
				b.must(b.MergeCell(s1, "D1", "E1"))
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 Al2O3=5.1 Cu=0.09 Zn=0.004"},
			codes: []string{"UNIT_FROM_GROUP_HEADER"},
		},
		"reference materials below, averages at the bottom": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "FeOT %"}, []any{"KR-1", 31.2, 50.1}, []any{"KR-2", 30.2, 51.1}, []any{"Mean", 30.7, 50.6}, []any{"Std. dev.", 0.7, 0.7}, []any{"n", 2, 2},
					nil, []any{"Reference materials"}, []any{"Sample", "SiO2 %", "FeOT %"}, []any{"Slag A", 33.1, 44.0}, []any{"Slag A (cert.)", 33.0, 44.2})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 FeOT=50.1", "KR-2 [sample]: SiO2=30.2 FeOT=51.1", "Slag A [control]: SiO2=33.1 FeOT=44"},
			codes: []string{"STAT_ROW", "QC_ROW"},
		},
		"side by side": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "CaO %", nil, "Sample", "Cu ppm", "As ppm"}, []any{"KR-1", 31.2, 5.1, nil, "LS-1", 900, "n.d."}, []any{"KR-2", 30.2, 5.2, nil, "LS-2", 800, 12})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1", "KR-2 [sample]: SiO2=30.2 CaO=5.2", "LS-1 [sample]: Cu=0.09 As:nd", "LS-2 [sample]: Cu=0.08 As=0.0012"},
			codes: []string{"MULTIPLE_TABLES", "ND_MEANING"},
		},
		"hidden column in the middle, hidden row": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "old SiO2 %", "CaO %"}, []any{"KR-1", 31.2, 99, 5.1}, []any{"wrong", 1, 1, 1}, []any{"KR-2", 30.2, 99, 5.2})
				b.must(b.SetColVisible(s1, "C", false))
				b.must(b.SetRowVisible(s1, 3, false))
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1", "KR-2 [sample]: SiO2=30.2 CaO=5.2"},
			codes: []string{"HIDDEN_ROWS", "HIDDEN_COLUMNS"},
		},
		"errors, truths and text numbers": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "CaO %", "MgO %"}, []any{"KR-1", "31.2", true, "1.1 "})
				b.must(b.SetCellFormula(s1, "C3", "1/0"))
				b.rows(s1, "A3", []any{"KR-2", " 30.2", nil, "'1.2"})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 CaO:error MgO=1.1", "KR-2 [sample]: SiO2=30.2 CaO:missing MgO=1.2"},
			codes: []string{"TEXT_NUMBER", "CELL_ERROR", "FORMULA_NO_VALUE"},
		},
		"line breaks in headings and names": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample\nname", "SiO2\n(wt%)", "Cu\r\n[ppm]"}, []any{"KR-1\nslag", 31.2, 900})
			},
			want: []string{"KR-1 slag [sample]: SiO2=31.2 Cu=0.09"},
		},
		"look-alike letters and subscripts": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "СаО wt%", "К2О wt%", "ΜgO wt%", "Fe₂O₃ᵗ wt%", "TiO₂ wt%"}, []any{"KR-1", 5.1, 1.2, 1.1, 44.0, 0.3})
			},
			want:  []string{"KR-1 [sample]: CaO=5.1 K2O=1.2 MgO=1.1 Fe2O3T=44 TiO2=0.3"},
			codes: []string{"LOOKALIKE_LETTERS"},
		},
		"rich text subscripts": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", nil, "CaO %"}, []any{"KR-1", 31.2, 5.1})
				b.must(b.SetCellRichText(s1, "B1", []excelize.RichTextRun{{Text: "SiO"}, {Text: "2", Font: &excelize.Font{VertAlign: "subscript"}}, {Text: " %"}}))
			},
			want: []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1"},
		},
		"samples in columns with errors beside them": {
			write: func(b book) {
				b.rows(s1, "B2", []any{"Oxide (wt%)", "KR-1", "±", "KR-2", "±"}, []any{"SiO2", 31.2, 0.3, 30.2, 0.2}, []any{"CaO", 5.1, 0.1, "<0.05", nil}, []any{"Total", 99.1, nil, 98.9, nil})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2±0.3 CaO=5.1±0.1 | Total=99.1", "KR-2 [sample]: SiO2=30.2±0.2 CaO:lt0.05 | Total=98.9"},
			codes: []string{"TRANSPOSED"},
		},
		"rows of uncertainties below their samples": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "Cu ppm"}, []any{"KR-1", 31.2, 900}, []any{"±", 0.3, 40}, []any{"KR-2", 30.2, 800}, []any{"KR-2 2σ", 0.4, 60})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2±0.3 Cu=0.09±0.004", "KR-2 [sample]: SiO2=30.2±0.2 Cu=0.08±0.003"},
			codes: []string{"UNCERTAINTY_ROW"},
		},
		"everything in an Excel table, footnotes far below": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Sample", "SiO2 %", "Fe2O3* %", "Cu ppm"}, []any{"KR-1", 31.2, 44.1, "900†"}, []any{"KR-2", 30.2, 45.0, 800}, nil, nil, nil,
					[]any{"* total iron"}, []any{"† mean of two"}, []any{"n.d. = not determined"})
				b.must(b.AddTable(s1, &excelize.Table{Range: "A1:D3", Name: "T1"}))
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 Fe2O3T=44.1 Cu=0.09<mean of two>", "KR-2 [sample]: SiO2=30.2 Fe2O3T=45 Cu=0.08"},
			codes: []string{"FOOTNOTE"},
		},
		"three sheets, one empty, one of prose": {
			write: func(b book) {
				for _, s := range []string{"Empty", "Letter", "Slag"} {
					_, err := b.NewSheet(s)
					b.must(err)
				}
				b.rows("Letter", "A1", []any{"Dear colleague"}, []any{"please find the results enclosed"})
				b.rows("Slag", "A1", []any{"Sample", "SiO2 %", "CaO %"}, []any{"KR-1", 31.2, 5.1})
			},
			want:  []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1"},
			codes: []string{"NO_TABLE"},
		},
		"the same table twice, one below the other": {
			write: func(b book) {
				b.rows(s1, "A1", []any{"Kettle Rigg"}, []any{"Sample", "SiO2 %", "CaO %"}, []any{"KR-1", 31.2, 5.1}, nil, []any{"Low Sallow"}, []any{"Sample", "SiO2 %", "CaO %"}, []any{"LS-1", 30.2, 5.2})
			},
			want: []string{"KR-1 [sample]: SiO2=31.2 CaO=5.1", "LS-1 [sample]: SiO2=30.2 CaO=5.2"},
		},
	} {
		t.Run(name, func(t *testing.T) {
			b := book{t, excelize.NewFile()}
			defer b.Close()
			c.write(b)
			buf, err := b.WriteToBuffer()
			b.must(err)
			got, err := readBytes(context.Background(), bytes.Clone(buf.Bytes()), "lab/book.xlsx", Options{})
			b.must(err)
			if diff := cmp.Diff(c.want, rowLines(got)); diff != "" {
				t.Errorf("rows (-want +got):\n%s\n%s", diff, describeBook(got))
			}
			for _, code := range c.codes {
				if !hasCode(got, code) {
					t.Errorf("%s was not raised: %v", code, got.Notices.Codes())
				}
			}
		})
	}
}

// rowLines returns the lines of describeBook that tell of samples and controls.
func rowLines(b *Book) (lines []string) {
	for _, line := range strings.Split(describeBook(b), "\n") {
		if strings.Contains(line, " [sample]") || strings.Contains(line, " [control]") {
			lines = append(lines, strings.TrimPrefix(line, "  "))
		}
	}
	return lines
}
