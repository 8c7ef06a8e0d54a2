package logratio

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Balance is one orthonormal log-ratio, of the geometric mean of the parts Over
// to that of the parts Under, by their places among the parts:
//
//	√(rs/(r+s)) · ln(g(Over)/g(Under)),  r and s their numbers
type Balance struct {
	Name        string // "silica against bases"; empty when unnamed
	Over, Under []int
}

// Ratio returns the natural logarithm of the ratio of the geometric means that
// a value of the balance means.
func (b Balance) Ratio(z float64) float64 {
	r, s := float64(len(b.Over)), float64(len(b.Under))
	return z / math.Sqrt(r*s/(r+s))
}

// Formula writes the ratio with the names of the parts: "SiO2 / (FeO CaO)".
func (b Balance) Formula(parts []string) string {
	side := func(places []int) string {
		names := make([]string, len(places))
		for i, j := range places {
			names[i] = parts[j]
		}
		if len(names) == 1 {
			return names[0]
		}
		return "(" + strings.Join(names, " ") + ")"
	}
	return side(b.Over) + " / " + side(b.Under)
}

// Basis is an orthonormal basis of balances: one fewer than there are parts.
type Basis struct {
	Name     string
	Parts    []string
	Balances []Balance
}

// Pivot returns the basis of pivot coordinates in the order of the parts: each
// part against all that follow it. It is the Helmert basis in reverse.
//
//	zᵢ = √((D−i)/(D−i+1)) · ln(xᵢ/g(xᵢ₊₁ … x_D))
func Pivot(parts []string) Basis {
	b := Basis{Name: "pivot", Parts: parts}
	for i := range len(parts) - 1 {
		bal := Balance{Over: []int{i}}
		for j := i + 1; j < len(parts); j++ {
			bal.Under = append(bal.Under, j)
		}
		b.Balances = append(b.Balances, bal)
	}
	return b
}

// Helmert returns the basis in which every part stands against all before it.
func Helmert(parts []string) Basis {
	b := Basis{Name: "Helmert", Parts: parts}
	for j := 1; j < len(parts); j++ {
		bal := Balance{Over: []int{j}}
		for i := range j {
			bal.Under = append(bal.Under, i)
		}
		b.Balances = append(b.Balances, bal)
	}
	return b
}

// Split is one step of a sequential binary partition.
type Split struct {
	Name        string
	Over, Under []string // parts
}

// Partition makes a basis of a sequential binary partition (Egozcue &
// Pawlowsky-Glahn 2005, Mathematical Geology 37:795): the first split divides
// all parts, each later one divides a side of an earlier one, until every part
// stands alone. The splits may be given in any order.
func Partition(name string, parts []string, splits []Split) (Basis, error) {
	place := map[string]int{}
	for i, p := range parts {
		place[p] = i
	}
	if len(splits) != len(parts)-1 {
		return Basis{}, fmt.Errorf("%d parts need %d balances, not %d", len(parts), len(parts)-1, len(splits))
	}
	b := Basis{Name: name, Parts: parts}
	for _, s := range splits {
		bal := Balance{Name: s.Name}
		seen := map[int]bool{}
		for k, side := range [][]string{s.Over, s.Under} {
			if len(side) == 0 {
				return Basis{}, fmt.Errorf("the balance %q has nothing on one side", s.Name)
			}
			for _, p := range side {
				j, ok := place[p]
				switch {
				case !ok:
					return Basis{}, fmt.Errorf("the balance %q names %s, which is not among the parts %s", s.Name, p, strings.Join(parts, " "))
				case seen[j]:
					return Basis{}, fmt.Errorf("the balance %q names %s twice", s.Name, p)
				}
				seen[j] = true
				if k == 0 {
					bal.Over = append(bal.Over, j)
				} else {
					bal.Under = append(bal.Under, j)
				}
			}
		}
		b.Balances = append(b.Balances, bal)
	}
	if i, j, ok := b.clash(); ok {
		return Basis{}, fmt.Errorf("the balances %q and %q cut across each other; each balance has to divide one side of an earlier one", b.Balances[i].Name, b.Balances[j].Name)
	}
	return b, nil
}

// clash finds two balances that are not orthogonal.
func (b Basis) clash() (int, int, bool) {
	v := b.Contrasts()
	for i := range v {
		for j := range i {
			var dot float64
			for k := range v[i] {
				dot += v[i][k] * v[j][k]
			}
			if math.Abs(dot) > 1e-9 {
				return j, i, true
			}
		}
	}
	return 0, 0, false
}

// Contrasts returns the orthonormal rows that multiply the logarithms of the
// parts.
func (b Basis) Contrasts() [][]float64 {
	out := make([][]float64, len(b.Balances))
	for i, bal := range b.Balances {
		r, s := float64(len(bal.Over)), float64(len(bal.Under))
		f := math.Sqrt(r * s / (r + s))
		out[i] = make([]float64, len(b.Parts))
		for _, j := range bal.Over {
			out[i][j] = f / r
		}
		for _, j := range bal.Under {
			out[i][j] = -f / s
		}
	}
	return out
}

// Coordinates returns the isometric log-ratios of every sample: as many as the
// basis has balances, with the distances of the centred log-ratios (Egozcue et
// al. 2003, Mathematical Geology 35:279). The matrix has the parts of the
// basis.
func (b Basis) Coordinates(m Matrix) ([][]float64, error) {
	if err := b.of(m.Parts); err != nil {
		return nil, err
	}
	logs := make([][]float64, len(m.X))
	for i, row := range m.X {
		logs[i] = Clr(row)
	}
	return b.fromLogs(logs), nil
}

// of checks that the basis is of these parts.
func (b Basis) of(parts []string) error {
	if !slices.Equal(b.Parts, parts) {
		return fmt.Errorf("the basis is of %s and the samples of %s", strings.Join(b.Parts, " "), strings.Join(parts, " "))
	}
	return nil
}

// fromLogs multiplies logarithms of parts by the contrasts; what is added to all
// of a row falls out.
func (b Basis) fromLogs(logs [][]float64) [][]float64 {
	v := b.Contrasts()
	out := rowsOf(len(logs), len(v))
	for i, row := range logs {
		multiply(v, row, out[i])
	}
	return out
}

// multiply multiplies the logarithms of a sample by the contrasts.
func multiply(contrasts [][]float64, ln, out []float64) {
	for k, c := range contrasts {
		var sum float64
		for j, x := range ln {
			sum += c[j] * x
		}
		out[k] = sum
	}
}

// Inverse returns the composition of the given sum that has these coordinates.
func (b Basis) Inverse(z []float64, sum float64) []float64 {
	clr := make([]float64, len(b.Parts))
	for k, c := range b.Contrasts() {
		for j := range clr {
			clr[j] += c[j] * z[k]
		}
	}
	return ClrInverse(clr, sum)
}
