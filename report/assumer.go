package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

var nan = math.NaN()

// assumer takes the numbers of an entry's options, keeps them in their range
// and remembers which the notebook left open.
type assumer struct {
	b       *builder
	e       *notebook.Entry
	assumed []string // "at: 1200 °C"
	keys    []string
	failed  bool
}

// number returns a stated number or the assumed one.
func (a *assumer) number(key string, stated *float64, otherwise, lo, hi float64, unit string) float64 {
	if stated == nil {
		a.assume(key, fmt.Sprintf("%s %g %s", strings.ReplaceAll(key, "_", " "), otherwise, unit))
		return otherwise
	}
	if !(*stated >= lo && *stated <= hi) {
		a.failed = true
		in := "in " + unit + ", "
		if strings.HasPrefix(unit, "to ") { // a number of things, and no unit
			in = ""
		}
		a.b.fail(a.e, "BAD_RANGE", "%s is %sfrom %s to %s, not %g", key, in, grouped(lo), grouped(hi), *stated)
	}
	return *stated
}

// grouped prints a limit without an exponent.
func grouped(x float64) string { return fmt.Sprintf("%.12g", x) }

// word returns a stated word or the assumed one.
func (a *assumer) word(key, stated, otherwise string, allowed []string) string {
	if stated == "" {
		a.assume(key, strings.ReplaceAll(key, "_", " ")+" "+otherwise)
		return otherwise
	}
	if !slices.Contains(allowed, stated) {
		a.failed = true
		a.b.fail(a.e, "WRONG_VALUE", "%s is one of %s, not %q", key, strings.Join(allowed, ", "), stated)
	}
	return stated
}

func (a *assumer) assume(key, text string) {
	a.assumed, a.keys = append(a.assumed, text), append(a.keys, `"`+key+`:"`)
	a.b.entry.Assumed = append(a.b.entry.Assumed, text)
}

// lines says what was assumed, nil where nothing was.
func (a *assumer) lines() []string {
	if len(a.assumed) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("Assumed, because the notebook does not say otherwise: %s. The notebook can say otherwise with %s.", strings.Join(a.assumed, "; "), list(a.keys))}
}

// parts is lines as parts of an entry.
func (a *assumer) parts() []page.Part {
	if lines := a.lines(); lines != nil {
		return []page.Part{page.Lines(lines...)}
	}
	return nil
}

// short prints a number to two figures.
func short(x float64) string {
	switch m := math.Abs(x); {
	case math.IsInf(x, 1):
		return "∞"
	case m >= 100:
		p := math.Pow(10, math.Floor(math.Log10(m))-1)
		return strings.Replace(fmt.Sprintf("%.0f", math.Round(x/p)*p), "-", quantity.Minus, 1)
	case m >= 10:
		return signed(math.Round(x))
	case m == 0:
		return "0"
	case m < 1e-4:
		return signed(x)
	}
	decimals := 1 - int(math.Floor(math.Log10(math.Abs(x))))
	text := fmt.Sprintf("%.*f", decimals, math.Abs(x))
	if x < 0 {
		return quantity.Minus + text
	}
	return text
}

// shortSpan prints two ends to two figures.
func shortSpan(lo, hi float64) string {
	a, b := short(lo), short(hi)
	switch {
	case a == b:
		return a
	case math.IsInf(hi, 1):
		return "≥ " + a
	case lo < 0 || hi < 0:
		return a + " to " + b
	}
	return a + "–" + b
}

// medians states the middle of each page in a few short lines.
func medians(groups pair, f *figure.Facing, unit, note string) []string {
	lines := []string{"medians"}
	for i, g := range groups {
		var xs []float64
		for _, m := range f.Pages[i].Marks {
			xs = append(xs, m.Value)
		}
		if len(xs) == 0 {
			continue
		}
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%s %s %s", g.Name, short(median(xs)), unit)))
	}
	return append(lines, note)
}

func median(xs []float64) float64 {
	xs = slices.Sorted(slices.Values(xs))
	n := len(xs)
	if n == 0 {
		return nan
	}
	return (xs[(n-1)/2] + xs[n/2]) / 2
}
