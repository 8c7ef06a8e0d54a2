package report_test

import (
	"bytes"
	"encoding/csv"
	"math/big"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Every table of the sample campaign says the same as csv and as a workbook, and a
// second run gives the same bytes.
func TestWorkbooksOfTheCampaign(t *testing.T) {
	if testing.Short() {
		t.Skip("all workbooks of the sample campaign take a while")
	}
	for _, l := range sampleTables(t) {
		var text, book, again bytes.Buffer
		if err := l.Table.WriteCSV(&text); err != nil {
			t.Fatal(err)
		}
		for _, b := range []*bytes.Buffer{&book, &again} {
			if err := l.Table.WriteXLSX(b); err != nil {
				t.Fatal(err)
			}
		}
		if !bytes.Equal(book.Bytes(), again.Bytes()) {
			t.Errorf("%s: a second run gives other bytes", l.Name())
		}
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(text.Bytes(), []byte("\ufeff")))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(&book)
		if err != nil {
			t.Fatal(err)
		}
		wrong := 0
		for i, row := range rows {
			column := 0
			for j, want := range row {
				if noteColumn.MatchString(rows[0][j]) {
					continue
				}
				column++
				at, _ := excelize.CoordinatesToCellName(column, i+1)
				stored, err := f.GetCellValue("table", at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Fatal(err)
				}
				if got := shownLike(stored, want); got != want {
					if wrong++; wrong < 4 {
						t.Errorf("%s %s shows %q, the csv %q", l.Name(), at, got, want)
					}
				}
			}
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}

var (
	noteColumn = regexp.MustCompile(`_note(?: \[[0-9]+\])?$`)
	decimal    = regexp.MustCompile(`^-?[0-9]+(?:\.([0-9]+))?$`)
)

// shownLike is a stored number to the decimals of another, halves away from zero:
// as spreadsheet programs show it. Texts stay as they are.
func shownLike(stored, printed string) string {
	m := decimal.FindStringSubmatch(printed)
	x, ok := new(big.Rat).SetString(stored)
	if m == nil || !ok {
		return stored
	}
	text := x.FloatString(len(m[1]))
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}
