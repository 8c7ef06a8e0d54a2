package logratio

import (
	"math"
	"math/rand/v2"
)

// Drawing draws possible matrices of a table: each measured value lognormal
// about its value with its relative uncertainty, so that it stays above zero,
// each value below a limit uniform from zero to the limit (JCGM 101:2008, 6.4),
// all independent.
type Drawing struct {
	basis     Basis
	contrasts [][]float64
	ln        [][]float64 // of values and of limits
	spread    [][]float64 // of ln; negative for a value below its limit
}

// NewDrawing takes the logarithms of a table once; the basis is one of its parts.
func NewDrawing(t Table, b Basis) (*Drawing, error) {
	if err := b.of(t.Parts); err != nil {
		return nil, err
	}
	d := &Drawing{basis: b, contrasts: b.Contrasts(), ln: rowsOf(len(t.Values), len(t.Parts)), spread: rowsOf(len(t.Values), len(t.Parts))}
	for i, row := range t.Values {
		for j, v := range row {
			d.ln[i][j], d.spread[i][j] = math.Log(v.X), v.spread()
			if v.Below() {
				d.ln[i][j], d.spread[i][j] = math.Log(v.Limit), -1
			}
		}
	}
	return d, nil
}

// Logs returns the natural logarithms of one possible matrix.
func (d *Drawing) Logs(r *rand.Rand) [][]float64 {
	out := rowsOf(len(d.ln), len(d.basis.Parts))
	for i, row := range out {
		d.row(i, r, row)
	}
	return out
}

// row draws the logarithms of a sample.
func (d *Drawing) row(i int, r *rand.Rand, row []float64) {
	ln, spread := d.ln[i], d.spread[i]
	for j := range row {
		switch s := spread[j]; {
		case s < 0:
			row[j] = ln[j] + math.Log(1-r.Float64())
		case s > 0:
			row[j] = ln[j] + s*r.NormFloat64()
		default:
			row[j] = ln[j]
		}
	}
}

// Coordinates returns the coordinates of one possible matrix.
func (d *Drawing) Coordinates(r *rand.Rand) [][]float64 {
	out, row := rowsOf(len(d.ln), len(d.contrasts)), make([]float64, len(d.basis.Parts))
	for i := range out {
		d.row(i, r, row)
		multiply(d.contrasts, row, out[i])
	}
	return out
}

// rowsOf makes rows in one piece of memory.
func rowsOf(n, p int) [][]float64 {
	flat := make([]float64, n*p)
	out := make([][]float64, n)
	for i := range out {
		out[i] = flat[i*p : (i+1)*p : (i+1)*p]
	}
	return out
}
