package melt

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// formula writes an end member with its oxygen, cations of small charge first:
// Fe2SiO4, CaFeSiO4, FeAl2O4.
func (f *fusion) formula() string {
	type part struct {
		symbol string
		charge float64
		count  float64
	}
	var parts []part
	var charges float64
	for c, n := range f.cations {
		if n == 0 {
			continue
		}
		charges += n * charge[c]
		symbol := elementOf(component(c))
		if i := slices.IndexFunc(parts, func(p part) bool { return p.symbol == symbol }); i >= 0 {
			parts[i].count += n
			continue
		}
		parts = append(parts, part{symbol, charge[c], n})
	}
	slices.SortFunc(parts, func(a, b part) int {
		return cmp.Or(cmp.Compare(a.charge, b.charge), cmp.Compare(a.symbol, b.symbol))
	})
	parts = append(parts, part{symbol: "O", count: charges / 2})
	var b strings.Builder
	for _, p := range parts {
		b.WriteString(p.symbol)
		if p.count != 1 {
			b.WriteString(strconv.FormatFloat(p.count, 'g', 4, 64))
		}
	}
	return b.String()
}

// elementOf returns the symbol of the element of a component: that of the
// oxide by which it enters the liquid, up to its first digit or the oxygen.
func elementOf(c component) string {
	for _, o := range modelled {
		if o.cation == c {
			return strings.TrimRight(strings.SplitN(o.oxide.String(), "O", 2)[0], "0123456789")
		}
	}
	return c.String()
}
