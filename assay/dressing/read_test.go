package dressing

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

// read writes a sheet as text and reads it as a campaign would.
func read(t testing.TB, text string) (Log, source.Notices) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "dressing.csv")
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	book, err := sheet.Read(context.Background(), path, "field/dressing.csv", sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return Read(book.Records)
}

const heads = "Circuit,Stage,Stream,Product,Mass (kg),Mass ± (kg),Cu grade (wt%),Cu grade ± (wt%),Split (g),Top size (mm)\n"

const sound = heads +
	"A,A1 picking,feed,ore,60,0.2,9.3,0.2,2000,20\n" +
	"A,A1 picking,concentrate,picked,24.5,0.1,16.6,0.3,600,20\n" +
	"A,A1 picking,tailings,,35.7,0.2,3.9,0.1,800,20\n" +
	"A,A2 washing,feed,picked,14.1,0.1,16.8,0.3,,\n" +
	"A,A2 washing,conc.,washed,7.0,0.1,24.3,0.3,,\n" +
	"A,A2 washing,tailings,,6.6,0.1,9.1,0.3,,\n" +
	"A,A2 washing,lost,,,,,,,\n"

func TestRead(t *testing.T) {
	log, ns := read(t, strings.Replace(sound, "conc.", "concentrate", 1))
	if len(ns) != 0 {
		t.Fatalf("%v", ns)
	}
	if len(log.Circuits) != 1 || len(log.Circuits[0].Stages) != 2 {
		t.Fatalf("%+v", log)
	}
	c := log.Circuits[0]
	feed := c.Stages[0].Feed
	if q := feed.Mass; q.Value != 60 || q.U != 0.2 || q.Unit != "kg" || q.From[0].Ref != "E2" {
		t.Errorf("%+v", q)
	}
	if q := feed.Grade(Copper); q.Value != 9.3 || q.U != 0.2 || q.From[0] != (source.Cell{File: "field/dressing.csv", Ref: "G2"}) {
		t.Errorf("%+v", q)
	}
	if feed.Sample.Value != 2000 || feed.Top.Value != 20 {
		t.Errorf("%+v", feed)
	}
	if i, j, ok := c.From(1); !ok || i != 0 || j != 0 || c.wholeOf(1) {
		t.Error("the second stage was fed with a part of what the first picked")
	}
	if _, k, ok := log.Stage("A2"); !ok || k != 1 {
		t.Error("no stage A2")
	}
	r, err := Reconcile(c)
	if err != nil {
		t.Fatal(err)
	}
	// Two balances of A1, one grade in common; mass and copper of A2 are used up by what was lost.
	if r.DoF != 3 {
		t.Errorf("%d degrees of freedom", r.DoF)
	}
	if codes := r.Notices.Codes(); len(codes) != 1 || codes[0] != "DRESSING_PART" {
		t.Errorf("%v", r.Notices)
	}
}

// Every kind of bad sheet gives its sentence, with the cell.
func TestBadSheets(t *testing.T) {
	row := func(stage, stream, product, rest string) string {
		return "A," + stage + "," + stream + "," + product + "," + rest + "\n"
	}
	good := heads + row("A1", "feed", "ore", "60,0.2,9.3,0.2,,") + row("A1", "concentrate", "picked", "24.5,0.1,16.6,0.3,,")
	for name, tt := range map[string]struct {
		text, code, ref, says string
		severity              source.Severity
	}{
		"tailings richer": {good + row("A1", "tailings", "", "35.5,0.2,11.5,0.2,,"), "DRESSING_TAILINGS_RICHER", "G4", "swap the words", source.Warning},
		"feed outside":    {good + row("A1", "tailings", "", "35.5,0.2,11.5,0.2,,"), "DRESSING_FEED_OUTSIDE", "G2", "lies between none", source.Warning},
		"weights":         {good + row("A1", "tailings", "", "33,0.2,3.9,0.1,,"), "DRESSING_WEIGHTS", "E2", "2.50 ± 0.30 kg less", source.Warning},
		"too heavy":       {good + row("A1", "tailings", "", "38,0.2,3.9,0.1,,"), "DRESSING_WEIGHTS", "E2", "2.50 ± 0.30 kg more", source.Warning},
		"missing stage": {good + row("A1", "tailings", "", "35.5,0.2,3.9,0.1,,") + row("A3", "feed", "ground", "10,0.1,16,0.3,,") +
			row("A3", "concentrate", "", "5,0.1,24,0.3,,") + row("A3", "tailings", "", "5,0.1,8,0.3,,"), "DRESSING_MISSING_STAGE", "C5", "add the rows of the missing stage", source.Warning},
		"more than made": {good + row("A1", "tailings", "", "35.5,0.2,3.9,0.1,,") + row("A2", "feed", "picked", "30,0.1,16,0.3,,") +
			row("A2", "concentrate", "", "15,0.1,24,0.3,,") + row("A2", "tailings", "", "15,0.1,8,0.3,,"), "DRESSING_MORE_THAN_MADE", "E5", "made only 24.50", source.Warning},
		"no feed":          {heads + row("A1", "concentrate", "", "24.5,0.1,16.6,0.3,,") + row("A1", "tailings", "", "35,0.1,3,0.3,,"), "DRESSING_NO_FEED", "B2", "has no feed", source.Error},
		"one product":      {good, "DRESSING_NO_PRODUCTS", "B2", "has 1 product", source.Error},
		"stream misspelt":  {good + row("A1", "tialings", "", "35.5,0.2,3.9,0.1,,"), "DRESSING_STREAM", "C4", "did you mean tailings?", source.Error},
		"no stream":        {good + row("A1", "", "", "35.5,0.2,3.9,0.1,,"), "DRESSING_STREAM", "C4", "does not say which stream", source.Error},
		"two feeds":        {good + row("A1", "feed", "", "35.5,0.2,3.9,0.1,,"), "DRESSING_TWICE", "C4", "has a feed already", source.Error},
		"twice":            {good + row("A1", "concentrate", "picked", "35.5,0.2,3.9,0.1,,"), "DRESSING_TWICE", "C4", "different names", source.Error},
		"words for weight": {good + row("A1", "tailings", "", "heavy,0.2,3.9,0.1,,"), "DRESSING_NUMBER", "E4", "write a number", source.Error},
		"above 100":        {good + row("A1", "tailings", "", "35.5,0.2,390,0.1,,"), "DRESSING_NUMBER", "G4", "between 0 and 100", source.Error},
		"negative":         {good + row("A1", "tailings", "", "-35.5,0.2,3.9,0.1,,"), "DRESSING_NUMBER", "E4", "impossible", source.Error},
		"u of zero":        {good + row("A1", "tailings", "", "35.5,0,3.9,0.1,,"), "DRESSING_ZERO_U", "F4", "cannot be", source.Warning},
		"u missing":        {good + row("A1", "tailings", "", "35.5,,3.9,0.1,,"), "DRESSING_ASSUMED_U", "E4", "1 weight states", source.Note},
		"no unit":          {strings.Replace(good, "Mass (kg)", "Mass", 1) + row("A1", "tailings", "", "35.5,0.2,3.9,0.1,,"), "DRESSING_UNIT", "E1", "write it in the heading", source.Error},
		"unknown oxide":    {strings.Replace(good, "Cu grade (wt%)", "SiO3 grade (wt%)", 1) + row("A1", "tailings", "", "35.5,0.2,3.9,0.1,,"), "DRESSING_COMPONENT", "G1", "no oxide or element", source.Error},
	} {
		t.Run(name, func(t *testing.T) {
			_, ns := read(t, tt.text)
			for _, n := range ns {
				if n.Code == tt.code && n.At.Ref == tt.ref && n.At.File == "field/dressing.csv" && n.Severity == tt.severity && strings.Contains(n.Message, tt.says) {
					return
				}
			}
			t.Errorf("no %s at %s that says %q; there are: %v", tt.code, tt.ref, tt.says, ns)
		})
	}
}

// A grade below detection is never replaced by a number: it is taken from the
// balances.
func TestBelowDetection(t *testing.T) {
	log, ns := read(t, heads+"A,A1,feed,ore,60,0.2,9.3,0.2,,\nA,A1,concentrate,,24.5,0.1,16.6,0.3,,\nA,A1,tailings,,35.5,0.2,<0.5,,,\n")
	if ns.Failed() {
		t.Fatal(ns)
	}
	q := log.Circuits[0].Stages[0].Products[1].Grade(Copper)
	if q.Class != quantity.Below || q.Limit != 0.5 {
		t.Fatalf("%+v", q)
	}
	r, err := Reconcile(log.Circuits[0])
	if err != nil {
		t.Fatal(err)
	}
	got := r.Items[5].Adjusted
	checkdata.Near(t, "tailings from the balances", got.Value, (60*9.3-24.5*16.6)/35.5, 0.01)
}

func TestSizesAreRead(t *testing.T) {
	sizes := strings.Replace(heads, "Split (g)", "Size above (mm),Size below (mm)", 1)
	text := sizes +
		"A,A1,feed,ore,10,0.1,10,0.2,,,\nA,A1,concentrate,,4,0.1,19,0.2,,,\nA,A1,tailings,,6,0.1,4,0.2,,,\n" +
		"A,A1,concentrate,,3,0.1,20,0.2,1,,\nA,A1,concentrate,,1,0.1,16,0.2,,1,\n" +
		"A,A1,middlings,,1,0.1,16,0.2,,1,\n"
	log, ns := read(t, text)
	s := log.Circuits[0].Stages[0]
	if len(s.Fractions) != 3 || s.Fractions[0].Size != (Size{1, math.Inf(1)}) || s.Fractions[1].Size != (Size{0, 1}) {
		t.Fatalf("%+v", s.Fractions)
	}
	if codes := ns.Codes(); len(codes) != 1 || codes[0] != "DRESSING_SIZE_OF_NOTHING" {
		t.Errorf("%v", ns)
	}
	_, ns = read(t, strings.Replace(text, "3,0.1,20,", "3,0.1,30,", 1))
	if codes := ns.Codes(); codes[0] != "DRESSING_SIZES" {
		t.Errorf("sizes that do not come to the whole: %v", ns)
	}
}

// Whatever the sheet: no panic, and a circuit without errors can be reconciled
// or says why not.
func FuzzRead(f *testing.F) {
	f.Add(sound)
	f.Add(heads + "A,A1,feed,ore,60,0.2,9.3,0.2,,\nA,A1,concentrate,,0,0,1e300,,,\nA,A1,tailings,,<3,x,n.d.,0.1,,\n")
	f.Add("stage,stream,mass (kg),Cu grade (%)\n1,feed,1,2\n1,tails,1,2\n1,waste,1e-300,100\n")
	f.Fuzz(func(t *testing.T, text string) {
		if len(text) > 4000 {
			return
		}
		path := filepath.Join(t.TempDir(), "d.csv")
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Skip()
		}
		book, err := sheet.Read(context.Background(), path, "d.csv", sheet.Options{})
		if err != nil {
			return
		}
		log, ns := Read(book.Records)
		for _, n := range ns {
			if n.Message == "" || strings.Contains(n.Message, "%!") {
				t.Errorf("%+v", n)
			}
		}
		if ns.Failed() {
			return
		}
		for _, c := range log.Circuits {
			r, err := Reconcile(c)
			if err != nil {
				continue
			}
			r.Ends(Balanced, 57)
			r.Curve()
			for k := range c.Stages {
				r.Stage(k, Weighed, 57)
				r.BySize(k)
			}
		}
	})
}
