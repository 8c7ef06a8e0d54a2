package lining

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// oxide numbers the oxides that the indices need.
type oxide int

const (
	silica oxide = iota
	titania
	alumina
	ferrous // all iron as FeO
	manganous
	magnesia
	lime
	soda
	potash
	baryta
	numOxides
)

var oxideNames = [numOxides]string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "Na2O", "K2O", "BaO"}

// perMole holds molar mass and oxygen atoms of each oxide.
var perMole = func() (m [numOxides]struct{ mass, oxygen float64 }) {
	for o, name := range oxideNames {
		f, err := chem.ParseFormula(name)
		if err != nil {
			panic(fmt.Sprintf("lining: %v", err))
		}
		m[o].mass, m[o].oxygen = f.Mass(), f["O"]
	}
	return m
}()

// wt holds wt% of the oxides.
type wt [numOxides]float64

// oxygenIn returns the moles of oxygen that an oxide brings in 100 g.
func (w *wt) oxygenIn(o oxide) float64 { return w[o] / perMole[o].mass * perMole[o].oxygen }

// flux is CaO + MgO + FeO_t + MnO + Na2O + K2O + BaO.
func (w *wt) flux() float64 {
	return w[lime] + w[magnesia] + w[ferrous] + w[manganous] + w[soda] + w[potash] + w[baryta]
}

// clay is an analysis brought to the oxides of the indices.
type clay struct {
	wt, u  wt // u is 0 where unknown
	noU    []string
	absent []string // oxides that the analysis does not tell
	below  []string // parts below their limit, which count as zero
	from   []source.Cell
}

// clayOf reads the oxides of an analysis. It fails where silica or alumina is
// not known, without which no index of a clay can be formed.
func clayOf(c chem.Composition) (clay, error) {
	var out clay
	all := c.AsOxides(chem.AsFeO)
	for o, name := range oxideNames {
		q, ok := all.Get(name)
		if !ok && oxide(o) == baryta {
			if ba, found := all.Get("Ba"); found {
				if f, err := chem.Factor("Ba", "BaO"); err == nil {
					q, ok = ba.Scale(f, "wt%"), true
				}
			}
		}
		lo, hi := q.Bounds()
		switch {
		case ok && q.Known():
			out.wt[o] = q.Value
			if q.HasU() {
				out.u[o] = q.U
			} else if q.Value > 0 {
				out.noU = append(out.noU, name)
			}
		case ok && lo == 0 && hi > 0:
			out.u[o] = hi / math.Sqrt(3) // the spread about zero of anything from zero to the limit
			out.below = append(out.below, name)
		default:
			out.absent = append(out.absent, name)
			continue
		}
		out.from = append(out.from, q.From...)
	}
	if !(out.wt[silica] > 0) || !(out.wt[alumina] > 0) {
		return clay{}, fmt.Errorf("the analysis of the clay has no SiO2 or no Al2O3 above zero; both are needed")
	}
	return out, nil
}

// value returns f of the clay with its uncertainty by numerical propagation,
// parts taken as independent: u² = Σ ((f(x+u) − f(x−u))/2)² (JCGM 100:2008,
// 5.1.3, note 2).
func (c *clay) value(f func(*wt) float64, unit string) quantity.Quantity {
	x := f(&c.wt)
	if math.IsNaN(x) || math.IsInf(x, 0) {
		q := quantity.None(quantity.Missing, math.NaN(), unit, c.from...)
		q.UNote = "the analysis holds nothing to divide by"
		return q
	}
	if c.u == (wt{}) {
		return quantity.New(x, unit, "none: the analysis carries no uncertainty", c.from...)
	}
	var u2 float64
	for o, u := range c.u {
		if u == 0 {
			continue
		}
		up, down := c.wt, c.wt
		up[o] += u
		down[o] = max(down[o]-u, 0)
		d := (f(&up) - f(&down)) / 2
		if c.wt[o] < u { // cut off at zero: one side tells
			d = f(&up) - x
		}
		u2 += d * d
	}
	note := "uncertainty of the analysis, parts taken as independent"
	if len(c.noU) > 0 {
		note += "; without uncertainty and counted as exact: " + strings.Join(c.noU, ", ")
	}
	if math.IsInf(u2, 0) || math.IsNaN(u2) {
		return quantity.New(x, unit, "none: within its uncertainty the divisor may be zero", c.from...)
	}
	return quantity.WithU(x, math.Sqrt(u2), unit, note, c.from...)
}
