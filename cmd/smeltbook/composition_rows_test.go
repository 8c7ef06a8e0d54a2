package main

import (
	"strings"
	"testing"
)

func TestReadCompositions(t *testing.T) {
	rows, err := readCompositions("-", strings.NewReader("\ufeffSiO2,sample,FeO,CaO\n30,a,60,\n\n31,,59,10\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) != 2 {
		t.Fatalf("%d rows, want 2", len(rows))
	}
	if rows[0].sample != "a" || rows[0].composition.Wt("SiO2") != 30 || rows[0].composition.Wt("FeO") != 60 {
		t.Errorf("first row %q %v", rows[0].sample, rows[0].composition)
	}
	if _, has := rows[0].composition.Get("CaO"); has {
		t.Error("an empty cell was taken as a number")
	}
	q, _ := rows[1].composition.Get("CaO")
	if len(q.From) != 1 || q.From[0].Ref != "D4" {
		t.Errorf("CaO of the second row comes from %v, want D4", q.From)
	}
}

func TestReadCompositionsRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "no header row"},
		{"SiO2,Fe0\n30,60\n", `column "Fe0" is no oxide or element; did you mean FeO?`},
		{"SiO2,FeO\n30,\"1 \"\"x\n", "standard input, row 2: a quotation mark"},
		{"SiO2;FeO\n30;60\n", "not parted by commas"},
		{"PK\x03\x04...", "is a workbook"},
		{"SiO2,FeO\n", "no composition below the header"},
	} {
		if _, err := readCompositions("-", strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
	for _, c := range []struct{ text, want string }{
		{"SiO2,FeO\nx,60\n", `cell A2: "x" is not a number`},
		{"SiO2,FeO\n30,60,10\n", "row 2: more fields than columns"},
		{"SiO2,FeO\n30\n", "row 2: 1 fields for 2 columns"},
		{"SiO2,FeO\n30,-1\n", "FeO is negative"},
		{"SiO2,SiO2\n30,30\n", "SiO2 is given twice"},
		{"SiO2,FeO\nInf,30\n", `cell A2: "Inf" is not a number`},
	} {
		rows, err := readCompositions("-", strings.NewReader(c.text))
		if err != nil || len(rows) != 1 || rows[0].err == nil || !strings.Contains(rows[0].err.Error(), c.want) {
			t.Errorf("%q: %v %v, want the row's error %q", c.text, rows, err, c.want)
		}
	}
}

func FuzzReadCompositions(f *testing.F) {
	for _, seed := range []string{"SiO2,FeO\n30,60\n", "sample,SiO2\n\"a\n\",1e5\n", "SiO2;FeO\n1,2", ",\n,", "\ufeffsample\n"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := readCompositions("-", strings.NewReader(text))
		if err != nil && rows != nil {
			t.Error("rows beside an error")
		}
		for _, r := range rows {
			for _, p := range r.composition.Parts {
				if r.err == nil && !(p.Value >= 0 || p.ID == "LOI" || p.ID == "GOI") {
					t.Errorf("%s = %g", p.ID, p.Value)
				}
			}
		}
	})
}
