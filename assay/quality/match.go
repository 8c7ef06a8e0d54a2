package quality

import (
	"strings"
	"unicode"

	"smeltbook/assay/chem"
)

// CertificateOf finds the certificate of a control by the name of its row:
// letter case, spaces and hyphens aside, with whatever stands before or behind
// ("USGS BHVO2 run 3"). The user's own certificates come first; the longest
// name wins.
func CertificateOf(row string, own []Certificate) (Certificate, bool) {
	var best Certificate
	longest := 0
	for _, list := range [][]Certificate{own, Certificates()} {
		for _, c := range list {
			if n := len(fold(c.Material)); n > longest && named(row, c.Material) {
				best, longest = c, n
			}
		}
		if longest > 0 {
			break
		}
	}
	return best, longest > 0
}

// fold keeps letters and digits, in lower case.
func fold(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s)
}

// named reports whether neighbouring words of the row's name make up the
// material's, so that SL-1 is not found in SL-10.
func named(row, material string) bool {
	words := strings.FieldsFunc(row, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	want := fold(material)
	for i := range words {
		joined := ""
		for j := i; j < len(words) && len(joined) < len(want); j++ {
			joined += fold(words[j])
			if joined == want {
				return true
			}
		}
	}
	return false
}

// Same reports whether two analytes state the same amount in two forms, so that
// one can be turned into the other: oxide and element, all iron as FeO or as
// Fe2O3. Ferrous or ferric iron alone is only itself.
func Same(a, b string) bool {
	if a == b {
		return true
	}
	x, okX := chem.LookupAnalyte(a)
	y, okY := chem.LookupAnalyte(b)
	return okX && okY && whole(x) && whole(y) && x.Element == y.Element
}

// whole reports analytes that stand for all of their element.
func whole(a chem.Analyte) bool {
	switch a.Kind {
	case chem.Oxide:
		return a.Element != "Fe"
	case chem.OxideTotal, chem.Element:
		return true
	}
	return false
}

// For returns the certified value of an analyte, stated in its form. Of several
// values the one whose basis and method are those of the reading is taken, then
// the one of the same form, then one with a ±, then an oxide for an oxide. ok is false where the
// certificate says nothing of it.
func (c Certificate) For(analyte, basis, method string) (v Certified, ok bool) {
	best := -1
	for _, w := range c.Values {
		if !Same(w.Analyte, analyte) {
			continue
		}
		rank := 0
		if w.Basis != "" && strings.EqualFold(w.Basis, basis) {
			rank += 16
		}
		if w.Method != "" && method != "" && strings.Contains(fold(method), fold(w.Method)) {
			rank += 8
		}
		if w.Analyte == analyte {
			rank += 4
		}
		if w.Kind != NoKind {
			rank += 2
		}
		if isOxide(w.Analyte) == isOxide(analyte) {
			rank++
		}
		if rank > best {
			best, v, ok = rank, w, true
		}
	}
	if !ok || v.Analyte == analyte {
		return v, ok
	}
	f, err := chem.Factor(v.Analyte, analyte)
	if err != nil {
		return Certified{}, false
	}
	v.Value *= f
	v.PlusMinus *= f
	v.Analyte = analyte
	return v, true
}

func isOxide(id string) bool {
	a, _ := chem.LookupAnalyte(id)
	return a.Kind == chem.Oxide || a.Kind == chem.OxideTotal
}
