package page

import (
	_ "embed" // the template and the style
	"fmt"
	"io"
)

// FurnaceSheet is a page to print and take to the furnace: what is foreseen of a
// firing, what goes wrong first, an empty log, and the cautions. Every text is
// plain.
type FurnaceSheet struct {
	Title    string // of the campaign
	Lead     string // "6.2 kg of ore and flux in a bowl of 40 cm"
	Alarm    string // what stops the firing; empty where nothing does
	Values   []SheetValue
	Wrong    []SheetRisk
	Minutes  int // between two rows of the log
	Rows     []SheetTime
	Cautions []string
	Behind   string // what goes before every caution
	Foot     []string
}

// SheetValue is something that is foreseen.
type SheetValue struct{ Name, Value string }

// SheetRisk is something that may go wrong, and what helps.
type SheetRisk struct{ Says, Do string }

// SheetTime is a row of the log.
type SheetTime struct{ Time, Expect string }

//go:embed furnacesheet.html
var furnaceSheetHTML string

//go:embed furnacesheet.css
var furnaceSheetCSS string

// Room for the log of a furnace on one page of A4, mm.
const furnaceRoom = 76.0

// RowHeight is that of a row of the log in mm.
func (s FurnaceSheet) RowHeight() string {
	h := furnaceRoom / float64(max(len(s.Rows), 1))
	return fmt.Sprintf("%.1fmm", min(max(h, lowestRow), highestRow))
}

// RenderFurnaceSheet writes the sheet as one HTML file that fetches nothing and
// runs nothing.
func RenderFurnaceSheet(w io.Writer, s FurnaceSheet) error {
	l := leaf{Name: "Furnace sheet", Signed: "At the fire", Failing: "Will not run as planned.", Sheet: s}
	return renderSheet(w, l, furnaceSheetHTML, chargeSheetCSS+furnaceSheetCSS, s.RowHeight())
}
