package melt

import (
	"math"
	"testing"

	"smeltbook/phase/slag"
)

// TestProbeDerivatives compares the derivatives of the saturations by every
// parameter with difference quotients, in melts that hold nearly everything.
func TestProbeDerivatives(t *testing.T) {
	p, err := parseParameters(parametersCSV)
	if err != nil {
		t.Fatal(err)
	}
	var free []int
	for r, row := range p.rows {
		if row.kind != "transition" && row.kind != "associate" {
			free = append(free, r)
		}
	}
	probe, err := NewProbe(parametersCSV, free)
	if err != nil {
		t.Fatal(err)
	}
	values := make([]float64, len(free))
	for f, r := range free {
		switch row := p.rows[r]; row.kind + row.quantity {
		case "pairh":
			values[f] = p.terms[row.at].h
		case "pairs":
			values[f] = p.terms[row.at].s
		case "solidTm":
			values[f] = p.fusions[row.at].tm - celsius
		case "soliddH":
			values[f] = p.fusions[row.at].heat / 1000
		case "soliddCp":
			values[f] = p.fusions[row.at].gain
		case "mixingW":
			values[f] = p.mixing[row.name] / 1000
		}
	}
	for _, w := range []slag.Wt{
		{slag.SiO2: 35, slag.FeO: 30, slag.CaO: 15, slag.Al2O3: 10, slag.MgO: 4, slag.MnO: 3, slag.K2O: 2, slag.Na2O: 1},
		{slag.SiO2: 25, slag.FeO: 45, slag.CaO: 20, slag.Fe2O3: 10},
		{slag.SiO2: 30, slag.MnO: 45, slag.CaO: 25},
	} {
		const tc = 1150
		for _, s := range probe.Saturations(w, tc, math.Inf(-1)) {
			if math.IsInf(s.S, 0) {
				continue
			}
			for f := range free {
				h := 1e-3 * max(math.Abs(values[f]), 1)
				at := func(v float64) float64 {
					old := values[f]
					values[f] = v
					defer func() { values[f] = old }()
					if err := probe.Set(values); err != nil {
						t.Fatal(err)
					}
					for _, o := range probe.Saturations(w, tc, math.Inf(1)) {
						if o.Mineral == s.Mineral {
							return o.S
						}
					}
					t.Fatalf("%s is gone", s.Mineral)
					return 0
				}
				up, down := at(values[f]+h), at(values[f]-h)
				if want := (up - down) / (2 * h); math.Abs(want-s.By[f])*h > 2e-4*(math.Abs(up-down)+1e-2) {
					t.Errorf("%s by %+v: %.8g, difference quotient %.8g", s.Mineral, p.rows[free[f]], s.By[f], want)
				}
			}
		}
		if err := probe.Set(values); err != nil {
			t.Fatal(err)
		}
	}
}
