package page

import (
	"bytes"
	_ "embed" // the template and the style
	"fmt"
	"io"
)

// ChargeSheet is a page to print and take to the furnace: what to weigh, empty
// columns for what was weighed and when, and the cautions. Every text is plain.
type ChargeSheet struct {
	Title    string // of the campaign
	Lead     string // "9 batches of 0.50 kg ore"
	Alarm    string // where the target is out of reach; empty where it is met
	Weights  []SheetWeight
	Batches  int
	Slag     []SheetSlag
	Lines    []string // charcoal, metal to be expected
	Cautions []string
	Behind   string // what goes before every caution
	Foot     []string
}

// SheetWeight is what is weighed of a stock.
type SheetWeight struct {
	Name, Kind string
	Kg, U      string // of a batch, with the ± of the scale
	Total      string // kg of all batches
	Store      string // kg there are; empty where it is not known
}

// SheetSlag is a value of the slag foreseen.
type SheetSlag struct{ Name, Value, Asked string }

//go:embed chargesheet.html
var chargeSheetHTML string

//go:embed chargesheet.css
var chargeSheetCSS string

// Rows counts the batches.
func (s ChargeSheet) Rows() []int {
	rows := make([]int, s.Batches)
	for i := range rows {
		rows[i] = i + 1
	}
	return rows
}

// Room for the rows of the batches on one page of A4, what other lines and an
// alarm take of it, and the least and most of a row, in mm.
const (
	sheetRoom, lineRoom, alarmRoom = 108.0, 5.0, 17.0
	lowestRow, highestRow          = 4.6, 10.0
	usualLines                     = 5 + 3 + 7
)

// RowHeight is that of a batch's row in mm, so that a page holds them all where
// it can.
func (s ChargeSheet) RowHeight() string {
	room := sheetRoom - lineRoom*float64(max(len(s.Weights), len(s.Slag))+len(s.Lines)+len(s.Cautions)-usualLines)
	if s.Alarm != "" {
		room -= alarmRoom
	}
	h := room / float64(max(s.Batches, 1))
	return fmt.Sprintf("%.1fmm", min(max(h, lowestRow), highestRow))
}

// RenderChargeSheet writes the sheet as one HTML file that fetches nothing and
// runs nothing.
func RenderChargeSheet(w io.Writer, s ChargeSheet) error {
	l := leaf{Name: "Charge sheet", Signed: "Weighed by", Failing: "Target out of reach.", Sheet: s}
	return renderSheet(w, l, chargeSheetHTML, chargeSheetCSS, s.RowHeight())
}

// rootStyle is the part of the report's style that names colours and faces.
func rootStyle() string {
	if end := bytes.Index([]byte(baseCSS), []byte("html {")); end > 0 {
		return baseCSS[:end]
	}
	return baseCSS
}
