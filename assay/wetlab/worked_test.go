package wetlab

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

// determination makes one of "sample mass=0.5; volume=17.85±0.02".
func determination(t *testing.T, method, analyte, readings string) Determination {
	t.Helper()
	m, err := Lookup(method)
	if err != nil {
		t.Fatal(err)
	}
	d := Determination{Sample: "S1", Method: m, Analyte: analyte, At: source.Cell{File: "r.csv", Ref: "A2"}}
	for i, f := range strings.Split(readings, ";") {
		key, text, ok := strings.Cut(strings.TrimSpace(f), "=")
		k := kindOf(Key(key))
		if !ok || k == nil {
			t.Fatalf("no reading %q", f)
		}
		x, u, _ := strings.Cut(text, "±")
		q := quantity.New(checkdata.Number(t, x), string(k.dim), "", source.Cell{File: "r.csv", Ref: string(rune('B'+i)) + "2"})
		if u != "" {
			q.U = checkdata.Number(t, u)
		}
		d.Readings = append(d.Readings, Reading{Key: Key(key), Quantity: q, Raw: x})
	}
	return d
}

// TestWorkedExamples compares with the printed results; sources in the file.
func TestWorkedExamples(t *testing.T) {
	for _, row := range checkdata.Rows(t, "wetlab/worked.csv")[1:] {
		id, want, tol := row[0]+" "+row[2], checkdata.Number(t, row[4]), checkdata.Number(t, row[5])
		r := determination(t, row[1], row[2], row[3]).Compute()
		if r.Notices.Failed() {
			t.Errorf("%s: %v", id, r.Notices)
			continue
		}
		if math.Abs(r.Value.Value-want) > tol {
			t.Errorf("%s = %.5f, printed %g ± %g", id, r.Value.Value, want, tol)
		}
		if !r.Value.HasU() || r.Value.U <= 0 || r.Value.U > 0.05*r.Value.Value {
			t.Errorf("%s: uncertainty %g of %g", id, r.Value.U, r.Value.Value)
		}
		if len(r.Value.From) != strings.Count(row[3], "=") {
			t.Errorf("%s rests on the cells %v", id, r.Value.From)
		}
	}
}

// TestEquivalents lets a sample of 100 mg take one mL: the result in wt% is
// the equivalent in mg per mL.
func TestEquivalents(t *testing.T) {
	for _, row := range checkdata.Rows(t, "wetlab/equivalents.csv")[1:] {
		r := determination(t, row[0], row[1], "sample mass=0.1; volume=1; concentration="+row[2]).Compute()
		if want := checkdata.Number(t, row[3]); math.Abs(r.Value.Value-want) > 0.0002 {
			t.Errorf("%s as %s: %.5f mg/mL, handbook %g", row[0], row[1], r.Value.Value, want)
		}
	}
}

// TestMagnetiteOfWorkedExamples restates W02 and W04, where the books print
// Fe3O4 as well: 50.81 and 46.04 %.
func TestMagnetiteOfWorkedExamples(t *testing.T) {
	magnetite := mass("Fe3O4") / 3 / mass("Fe")
	for _, c := range []struct {
		method, readings string
		want             float64
	}{
		{"permanganate", "sample mass=0.8040; volume=47.22; concentration=0.02242", 50.81},
		{"ferric oxide", "sample mass=1.1324; precipitate=0.5394", 46.04},
	} {
		r := determination(t, c.method, "Fe", c.readings).Compute()
		if got := r.Value.Value * magnetite; math.Abs(got-c.want) > 0.02 {
			t.Errorf("%s: Fe3O4 = %.3f, printed %g", c.method, got, c.want)
		}
	}
}

// TestTitres: W03 is from Skoog, West, Holler & Crouch (from memory), W08 from
// Beringer, Text-book of Assaying, bitlit.ru page 121 (seen), W07 as above.
func TestTitres(t *testing.T) {
	reading := func(k Key, x float64) Reading {
		return Reading{Key: k, Quantity: quantity.New(x, string(kindOf(k).dim), "")}
	}
	q, err := Standardisation{Titrant: "KMnO4 bottle 1", Standard: "Na2C2O4",
		Readings: []Reading{reading(SampleMass, 0.2121), reading(Volume, 43.31)}}.Compute()
	if err != nil || math.Abs(q.Value-0.01462) > 0.00001 {
		t.Errorf("W03: %v %v, the book prints 0.01462", q.Value, err)
	}
	// 39.18 g of thiosulphate in a litre: 10.032 mg of copper per mL, the book
	// has 1 g in 100 mL.
	c := ByWeighing(39.18, 1, mass("Na2S2O3.5H2O"), 1000)
	if got := c * mass("Cu"); math.Abs(got-10.032) > 0.001 {
		t.Errorf("W08: %.4f mg of copper per mL", got)
	}
	// The same metal titre by a run with copper.
	q, err = Standardisation{Titrant: "Na2S2O3", Standard: "Cu",
		Readings: []Reading{reading(SampleMass, 0.5), reading(Volume, 50.5)}}.Compute()
	if err != nil || math.Abs(q.Value*mass("Cu")-9.90099) > 1e-5 {
		t.Errorf("W07: %v mg of copper per mL, %v", q.Value*mass("Cu"), err)
	}
	if _, err := (Standardisation{Titrant: "Na2S2O3", Standard: "Fe", Readings: nil}).Compute(); err == nil {
		t.Error("thiosulphate was standardised with iron")
	}
}
