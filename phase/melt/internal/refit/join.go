package refit

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Join is a published lowest point of the liquidus between two compounds.
type Join struct {
	ID, Phases, Source, Standing string
	A, B                         slag.Wt // wt%
	TC                           float64 // °C
}

// ReadJoins reads the file of joins, in which compounds are sums of oxides,
// "CaO+Al2O3+2 SiO2".
func ReadJoins(r io.Reader) ([]Join, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("liquidus joins: %w", err)
	}
	var list []Join
	for n, row := range rows {
		if n == 0 || len(row) < 7 {
			continue
		}
		j := Join{ID: row[0], Phases: row[4], Source: row[5], Standing: row[6]}
		var errA, errB, errT error
		j.A, errA = compound(row[1])
		j.B, errB = compound(row[2])
		j.TC, errT = strconv.ParseFloat(row[3], 64)
		for _, err := range []error{errA, errB, errT} {
			if err != nil {
				return nil, fmt.Errorf("liquidus joins, line %d: %w", n+1, err)
			}
		}
		list = append(list, j)
	}
	return list, nil
}

func compound(text string) (w slag.Wt, err error) {
	for _, part := range strings.Split(text, "+") {
		count := 1.0
		name := part
		if number, rest, ok := strings.Cut(part, " "); ok {
			name = rest
			if count, err = strconv.ParseFloat(number, 64); err != nil {
				return w, err
			}
		}
		o, ok := oxide(name)
		if !ok {
			return w, fmt.Errorf("no oxide %q", name)
		}
		w[o] += count * o.Mass()
	}
	return w.Normalise(), nil
}

// Lowest returns the lowest liquidus on the join, in °C, and the wt% of B
// there.
func (j *Join) Lowest(m *melt.Model) (tc, at float64) {
	tc = math.Inf(1)
	for share := 2.0; share <= 98; share += 0.25 {
		var w slag.Wt
		for o := range w {
			w[o] = j.A[o]*(100-share)/100 + j.B[o]*share/100
		}
		if l, err := m.Liquidus(w); err == nil && l.TC < tc {
			tc, at = l.TC, share
		}
	}
	return tc, at
}
