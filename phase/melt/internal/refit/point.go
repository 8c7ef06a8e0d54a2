// Package refit fits the parameters of the liquidus model to published points
// of phase diagrams, judges the fit by leaving out one system at a time, and
// writes the report.
package refit

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Point is a published point of a liquidus surface.
type Point struct {
	ID, System, Type string
	Phases           []melt.Phase // solids on the liquidus there
	TC, SigmaT       float64      // °C
	W                slag.Wt      // wt%
	SigmaWt          float64      // wt%
	Source, Standing string
}

// phaseOf gives the phases of the codes in the point files.
var phaseOf = map[string]melt.Phase{
	"WUS": melt.Wustite, "OLV": melt.Olivine, "C2S": melt.DicalciumSilicate, "RNK": melt.Rankinite,
	"PWO": melt.Pseudowollastonite, "WOL": melt.Wollastonite, "LIM": melt.Lime, "CRI": melt.Cristobalite,
	"TRI": melt.Tridymite, "COR": melt.Corundum, "MUL": melt.Mullite, "COD": melt.Cordierite,
	"ANO": melt.Anorthite, "GEH": melt.Melilite, "AKE": melt.Melilite, "HER": melt.Spinel, "DIO": melt.Pyroxene,
	"PEN": melt.Pyroxene, "LEU": melt.Leucite, "KSP": melt.KFeldspar, "RHO": melt.Rhodonite,
	"MAG": melt.Magnetite, "NEP": melt.Nepheline, "WIL": melt.Willemite, "ZIN": melt.Zincite,
}

// same takes the forms of silica for one, and those of CaSiO3.
func same(p melt.Phase) melt.Phase {
	switch p {
	case melt.Tridymite:
		return melt.Cristobalite
	case melt.Wollastonite:
		return melt.Pseudowollastonite
	}
	return p
}

// holds reports whether a phase is among those of the point.
func (p *Point) holds(phase melt.Phase) bool {
	for _, q := range p.Phases {
		if same(q) == same(phase) {
			return true
		}
	}
	return false
}

// ReadPoints reads a point file; its columns are explained beside it, in
// testdata/liquidus/README.md.
func ReadPoints(r io.Reader) ([]Point, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("liquidus points: %w", err)
	}
	if len(rows) == 0 {
		return nil, fmt.Errorf("liquidus points: no heading")
	}
	var list []Point
	for n, row := range rows[1:] {
		p, err := readPoint(rows[0], row)
		if err != nil {
			return nil, fmt.Errorf("liquidus points, line %d: %w", n+2, err)
		}
		list = append(list, p)
	}
	return list, nil
}

func readPoint(heading, row []string) (p Point, err error) {
	number := func(s string) float64 {
		x, e := strconv.ParseFloat(s, 64)
		if e == nil && !(x >= -300 && x <= 5000) {
			e = fmt.Errorf("%q is out of range", s)
		}
		if e != nil && err == nil {
			err = e
		}
		return x
	}
	for i, h := range heading {
		switch v := row[i]; h {
		case "id":
			p.ID = v
		case "system":
			p.System = v
		case "type":
			p.Type = v
		case "phases":
			for _, code := range strings.Split(v, "+") {
				phase, ok := phaseOf[code]
				if !ok {
					return p, fmt.Errorf("no phase %q", code)
				}
				p.Phases = append(p.Phases, phase)
			}
		case "T_C":
			p.TC = number(v)
		case "sigma_T_C":
			p.SigmaT = number(v)
		case "sigma_wt":
			p.SigmaWt = number(v)
		case "source":
			p.Source = v
		case "standing":
			p.Standing = v
		default:
			if name, ok := strings.CutPrefix(h, "wt_"); ok {
				o, known := oxide(name)
				if !known {
					return p, fmt.Errorf("no oxide %q", name)
				}
				if p.W[o] = number(v); p.W[o] < 0 {
					return p, fmt.Errorf("%s wt%% of %s", v, name)
				}
			}
		}
	}
	p.W = p.W.Normalise()
	return p, err
}

func oxide(name string) (slag.Oxide, bool) {
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if o.String() == name {
			return o, true
		}
	}
	return 0, false
}

// stageOf gives the stage of the fit in which an oxide comes in.
var stageOf = map[slag.Oxide]int{
	slag.Al2O3: 1, slag.MgO: 2, slag.MnO: 3, slag.K2O: 3, slag.Na2O: 3, slag.Fe2O3: 4, slag.ZnO: 5,
}

// Stages is how many stages the fit has.
const Stages = 6

// Stage returns the stage of the latest component of w.
func Stage(w slag.Wt) (s int) {
	for o, x := range w {
		if x > 0 {
			s = max(s, stageOf[slag.Oxide(o)])
		}
	}
	return s
}

// withOxide returns w with amount wt% of one oxide, the others giving way in
// proportion.
func withOxide(w slag.Wt, o slag.Oxide, amount float64) slag.Wt {
	w[o] = 0
	w = w.Normalise()
	for i := range w {
		w[i] *= (100 - amount) / 100
	}
	w[o] = amount
	return w
}
