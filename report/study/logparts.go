package study

import (
	"fmt"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/logratio"
	"smeltbook/assay/quantity"
)

// MajorParts returns the parts worth a row: oxides that reach half a per cent
// in some of the samples, and copper.
func (s *Study) MajorParts(samples []*assay.Sample) []string {
	var out []string
	for _, id := range s.Parts(samples) {
		a, _ := chem.LookupAnalyte(id)
		keep := a.Element == "Cu" || a.Class == "major"
		for _, x := range samples {
			if x.Composition.Wt(id) >= 0.5 {
				keep = true
			}
		}
		if keep {
			out = append(out, id)
		}
	}
	return out
}

// SharedParts returns the parts by whose ratios two groups can be compared: the
// major ones that every sample has or has a limit for, and that more than half
// of each group have above it.
func (s *Study) SharedParts(a, b []*assay.Sample) []string {
	var out []string
	for _, id := range s.MajorParts(append(append([]*assay.Sample{}, a...), b...)) {
		v, err := s.Variable(id)
		if err != nil {
			continue
		}
		all := true
		for _, group := range [][]*assay.Sample{a, b} {
			measured := 0
			for _, x := range group {
				value, ok := logValue(v.Of(x))
				all = all && ok
				if ok && !value.Below() {
					measured++
				}
			}
			all = all && 2*measured > len(group)
		}
		if all {
			out = append(out, id)
		}
	}
	return out
}

// LogRow returns the parts of a sample as a row of a table of log-ratios, and
// which of them have neither number nor limit. The error names a part that there
// is not.
func (s *Study) LogRow(x *assay.Sample, parts []string) (row []logratio.Value, lacking []string, err error) {
	row = make([]logratio.Value, len(parts))
	for j, id := range parts {
		v, err := s.Variable(id)
		if err == nil && strings.Contains(id, "/") {
			err = fmt.Errorf("%q is a ratio; name the parts, for their ratios are what is compared", id)
		}
		if err != nil {
			return nil, nil, err
		}
		value, known := logValue(v.Of(x))
		if !known {
			lacking = append(lacking, id)
		}
		row[j] = value
	}
	return row, lacking, nil
}

// logValue is a quantity that has a logarithm, or a limit.
func logValue(q quantity.Quantity) (logratio.Value, bool) {
	switch {
	case q.Known() && q.Value > 0:
		return logratio.Measured(q.Value, q.U), true
	case q.Class.Censored() && q.Limit > 0:
		return logratio.Under(q.Limit), true
	}
	return logratio.Value{}, false
}
