package melt

import (
	"math"
	"strings"
	"testing"
)

const parametersHeader = "kind,name,factor,quantity,unit,value,start,sigma,stage,start_source\n"

func TestParseParameters(t *testing.T) {
	p, err := parseParameters(parametersCSV)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.terms) != 140 || len(p.fusions) != 39 || len(p.mixing) != 2 {
		t.Errorf("%d pair terms, %d end members, %d mixing energies", len(p.terms), len(p.fusions), len(p.mixing))
	}
	p, err = parseParameters(parametersHeader + "pair,Fe-Si,YCa*YSi^2,s,J/mol/K,-1.5,0,1,0,x\nsolid,Fa,1 Si+2 Fe,Tm,degC,1205,0,0,0,x\nsolid,Fa,1 Si+2 Fe,dH,kJ/mol,90,0,0,0,x\n")
	if err != nil {
		t.Fatal(err)
	}
	if term := p.terms[0]; term.i != fe || term.j != si || term.s != -1.5 || term.h != 0 || term.power != [numSpecies]int{si: 2, ca: 1} {
		t.Errorf("term %+v", term)
	}
	if f := p.fusions[0]; len(p.fusions) != 1 || math.Abs(f.tm-1478.15) > 1e-9 || f.heat != 90000 || f.cations != (vector{si: 1, fe: 2}) {
		t.Errorf("end member %+v", f)
	}
}

func TestParseParametersRefuses(t *testing.T) {
	for _, row := range []string{
		"pair,Fe-Si,1,h,J/mol,many,0,0,0,x",
		"pair,Fe,1,h,J/mol,1,0,0,0,x",
		"pair,Fe-Xx,1,h,J/mol,1,0,0,0,x",
		"pair,Xx-Fe,1,h,J/mol,1,0,0,0,x",
		"pair,Fe-Si,YXx,h,J/mol,1,0,0,0,x",
		"pair,Fe-Si,YSi^a,h,J/mol,1,0,0,0,x",
		"pair,Fe-Si,1,q,J/mol,1,0,0,0,x",
		"solid,Fa,2Fe,Tm,degC,1,0,0,0,x",
		"solid,Fa,2 Xx,Tm,degC,1,0,0,0,x",
		"solid,Fa,a Fe,Tm,degC,1,0,0,0,x",
		"solid,Fa,2 Fe,q,degC,1,0,0,0,x",
		"pair,Fe-Si,YSi^-1,h,J/mol,1,0,0,0,x",
		"pair,Fe-Si,YSi^99999999,h,J/mol,1,0,0,0,x",
		"pair,Fe-Si,1,h,J/mol,NaN,0,0,0,x",
		"transition,Fa,2 Fe,T,degC,1,0,0,0,x",
		"gas,Fa,2 Fe,Tm,degC,1,0,0,0,x",
		"too,short",
	} {
		if _, err := parseParameters(parametersHeader + row + "\n"); err == nil {
			t.Errorf("%s: no error", row)
		}
	}
	p, err := parseParameters(parametersCSV)
	if err != nil {
		t.Fatal(err)
	}
	p.fusions = p.fusions[1:]
	if _, err := newModel(p); err == nil || !strings.Contains(err.Error(), "FeO") {
		t.Errorf("a model without FeO: %v", err)
	}
}

func FuzzParseParameters(f *testing.F) {
	for _, line := range strings.SplitAfter(parametersCSV, "\n") {
		f.Add(line)
	}
	f.Fuzz(func(t *testing.T, row string) {
		p, err := parseParameters(parametersHeader + row)
		if err != nil {
			return
		}
		for _, term := range p.terms {
			if term.i < 0 || term.i >= numSpecies || term.j < 0 || term.j >= numSpecies {
				t.Errorf("%q gave the pair %d-%d", row, term.i, term.j)
			}
			for _, n := range term.power {
				if n < 0 {
					t.Errorf("%q gave a negative power", row)
				}
			}
		}
	})
}
