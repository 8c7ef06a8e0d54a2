// Package worked serves the tests of the rooms of phase: the slags of
// testdata/slag/worked.csv, whose properties were worked apart from this
// program, and comparisons with printed numbers.
package worked

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/slag"
)

// PB31 is one published slag (Wątroba 2012, MSc dissertation, UCL), S5 of
// the table, for which intermediate values were worked as well.
const PB31 = "SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 SO3=0.3 CuO=3.0"

// Slag is a row of the table.
type Slag struct {
	ID   string
	Melt slag.Melt
	Want map[string]string // by column, as printed; "" where there is no value
}

// Slags reads the table.
func Slags(t testing.TB) []Slag {
	t.Helper()
	rows := checkdata.Rows(t, "slag/worked.csv")
	var out []Slag
	for _, r := range rows[1:] {
		var parts []chem.Part
		want := map[string]string{}
		for i, h := range rows[0] {
			want[h] = r[i]
			if _, ok := chem.LookupAnalyte(h); ok && r[i] != "" {
				parts = append(parts, chem.Part{ID: h, Quantity: quantity.New(checkdata.Number(t, r[i]), "wt%", "as published")})
			}
		}
		c, err := chem.NewComposition(parts...)
		out = append(out, Slag{r[0], melt(t, c, err), want})
	}
	return out
}

// Melt reads a composition such as "SiO2=30 FeO=70", in wt%.
func Melt(t testing.TB, text string) slag.Melt {
	t.Helper()
	c, err := chem.ParseComposition(text)
	return melt(t, c, err)
}

func melt(t testing.TB, c chem.Composition, err error) slag.Melt {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Printed compares got with a number as printed, to half its last digit.
func Printed(t testing.TB, what string, got float64, want string) {
	t.Helper()
	x, err := strconv.ParseFloat(want, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(want, ".")
	checkdata.Near(t, what, got, x, 0.5*math.Pow(10, -float64(len(decimals)))*(1+1e-9))
}
