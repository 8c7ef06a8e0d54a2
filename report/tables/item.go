package tables

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/report/page"
)

// Item is a number or a text.
type Item struct {
	Text     string  // as printed; a number has the sign of ASCII
	IsNumber bool    // whether it is a number
	Number   float64 // with all its digits where they are known, else as printed
	Decimals int     // to which it is printed
}

// Empty reports whether the item holds nothing.
func (x Item) Empty() bool { return x.Text == "" }

// nothing stands in the page's cells that are empty.
const nothing = "–"

// plusMinus stands between a value and its uncertainty, and before one.
const plusMinus = "±"

// cellOf takes a cell of the page apart.
func cellOf(c page.Cell) Cell {
	out := Cell{Mark: c.Class.Mark(), Note: c.Note, From: c.From}
	text, u, certain := strings.Cut(c.Text, " "+plusMinus+" ")
	if out.Value = itemOf(text, c.Sort); certain && !out.Value.IsNumber {
		out.Value, u = itemOf(c.Text, nil), ""
	}
	out.Below = c.Sub
	if rest, ok := strings.CutPrefix(c.Sub, plusMinus); ok && u == "" {
		u, out.Below = strings.TrimSpace(rest), ""
	}
	out.U = itemOf(u, c.U)
	if meaning := c.Class.Meaning(); meaning != "" {
		out.Note = strings.TrimPrefix(out.Note+"; "+meaning, "; ")
	}
	return out
}

// printedNumber matches numbers as the report prints them.
var printedNumber = regexp.MustCompile(`^-?\d+(?:\.(\d+))?$`)

// itemOf reads what is printed. The exact number is taken where it is the one
// that was printed: some cells sort by an end of what they show.
func itemOf(text string, exact *float64) Item {
	if text = strings.TrimSpace(text); text == nothing {
		return Item{}
	}
	plain := text
	if rest, ok := strings.CutPrefix(text, quantity.Minus); ok {
		plain = "-" + rest
	}
	m := printedNumber.FindStringSubmatch(plain)
	if m == nil {
		return Item{Text: text}
	}
	x := Item{Text: plain, IsNumber: true, Decimals: len(m[1])}
	x.Number, _ = strconv.ParseFloat(plain, 64)
	if exact != nil && rounds(*exact, x) {
		x.Number = *exact
	}
	return x
}

// rounds tells whether a number, shown to the decimals of the item, reads as the
// item does. One that was rounded to tens does not: no format of a cell can show
// it so. Spreadsheet programs round what they know of a number, fifteen figures,
// and halves up; where that gives another last figure it does not either.
func rounds(exact float64, x Item) bool {
	known, ok := new(big.Rat).SetString(strconv.FormatFloat(exact, 'e', 14, 64))
	if !ok {
		return false
	}
	for _, shown := range []string{strconv.FormatFloat(exact, 'f', x.Decimals, 64), known.FloatString(x.Decimals)} {
		if shown != x.Text && !(x.Number == 0 && strings.TrimPrefix(shown, "-") == x.Text) {
			return false
		}
	}
	return true
}

// plainText sets subscripts as figures, so that SiO2 is found as it is typed.
func plainText(s string) string { return subscripts.Replace(s) }

var subscripts = strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4",
	"₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9")
