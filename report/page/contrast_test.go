package page

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// luminance is the relative luminance of a colour #rrggbb or #rgb.
// Source: W3C, Web Content Accessibility Guidelines 2.2, "relative luminance".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	var l float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		l += weight * c
	}
	return l
}

func contrast(t *testing.T, a, b string) float64 {
	x, y := luminance(t, a), luminance(t, b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// The extreme and one worked ratio: black on white is 21:1 by definition;
// #767676 is the lightest grey that reaches 4.5:1 on white (4.54:1).
// Source: W3C, Understanding Success Criterion 1.4.3, WCAG 2.2.
func TestContrastFormula(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want float64
	}{{"#000", "#fff", 21}, {"#767676", "#ffffff", 4.54}} {
		if got := contrast(t, tt.a, tt.b); math.Abs(got-tt.want) > 0.005 {
			t.Errorf("contrast of %s on %s is %.3f, want %.2f", tt.a, tt.b, got, tt.want)
		}
	}
}

var colourVariable = regexp.MustCompile(`--([\w-]+):\s*(#[0-9a-fA-F]{3,6});`)

// TestPalette holds the palette to level AA: 4.5:1 for text (success criterion
// 1.4.3), 3:1 for marks that carry meaning (1.4.11), light, dark and in print.
func TestPalette(t *testing.T) {
	rootOf := func(css, before string) string {
		_, after, ok := strings.Cut(css, before)
		if !ok {
			t.Fatalf("the style has no %q", before)
		}
		root, _, _ := strings.Cut(after, "}")
		return root
	}
	light := rootOf(pageCSS, ":root {")
	for _, theme := range []struct{ name, css string }{
		{"light", light},
		{"dark", light + rootOf(pageCSS, "(prefers-color-scheme: dark) {\n  :root {")},
		{"print", light + rootOf(pageCSS, "@media print {\n  :root {")},
	} {
		colour := map[string]string{}
		for _, m := range colourVariable.FindAllStringSubmatch(theme.css, -1) {
			colour[m[1]] = m[2]
		}
		check := func(ink, ground string, least float64) {
			if got := contrast(t, colour[ink], colour[ground]); got < least {
				t.Errorf("%s: %s on %s has a contrast of %.2f, want %.1f", theme.name, ink, ground, got, least)
			}
		}
		for _, ground := range []string{"paper", "leaf", "shade", "picked"} {
			for _, ink := range []string{"ink", "soft", "accent", "fired-ink", "dug-ink", "warn", "error"} {
				check(ink, ground, 4.5)
			}
		}
		check("paper", "ink", 4.5)
		check("card-ink", "card", 4.5)
		check("fired", "leaf", 3)
		check("dug", "leaf", 3)
	}
}
