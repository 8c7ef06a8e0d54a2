package figure_test

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"smeltbook/report/figure"
)

// The colour-blind-safe palette of M. Okabe and K. Ito, "Color Universal
// Design" (jfly.uni-koeln.de/color, 2008), as they print it in RGB.
var okabeIto = map[string][3]uint8{
	"black": {0, 0, 0}, "orange": {230, 159, 0}, "sky blue": {86, 180, 233}, "bluish green": {0, 158, 115},
	"yellow": {240, 228, 66}, "blue": {0, 114, 178}, "vermillion": {213, 94, 0}, "reddish purple": {204, 121, 167},
}

func TestPalette(t *testing.T) {
	tests := []struct{ name, hex string }{
		{"vermillion", figure.LookOf(0).Fill},
		{"blue", figure.LookOf(1).Edge},
		{"bluish green", figure.LookOf(2).Fill},
		{"orange", figure.LookOf(4).Fill},
		{"yellow", figure.LookOf(5).Fill},
		{"orange", figure.PartLookOf(1).Fill},
		{"bluish green", figure.PartLookOf(3).Fill},
		{"reddish purple", figure.PartLookOf(5).Fill},
	}
	for _, tt := range tests {
		if got := rgb(t, tt.hex); got != okabeIto[tt.name] {
			t.Errorf("%s is %v, want %v", tt.name, got, okabeIto[tt.name])
		}
	}
}

// Contrast against white paper: 4.5 for text and 3 for graphics (W3C, Web
// Content Accessibility Guidelines 2.1, success criteria 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	tests := []struct {
		hex  string
		want float64
	}{
		{figure.InkColor, 4.5}, {figure.MutedColor, 4.5}, {figure.RefColor, 4.5}, {figure.IsoColor, 3},
		{figure.LookOf(0).Edge, 3}, {figure.LookOf(1).Edge, 3}, {figure.LookOf(2).Edge, 3}, {figure.LookOf(3).Edge, 3},
		{figure.LookOf(4).Edge, 3}, {figure.LookOf(5).Edge, 3}, {figure.LookOf(6).Edge, 3},
	}
	for _, tt := range tests {
		if got := 1.05 / (luminance(t, tt.hex) + 0.05); got < tt.want {
			t.Errorf("contrast of %s against white is %.2f, want at least %v", tt.hex, got, tt.want)
		}
	}
}

// Neighbouring parts of a bar must differ in lightness (L* of CIE 1976) so
// that they can be told apart in grey; 15 is our own rule.
func TestPartsDifferInLightness(t *testing.T) {
	for k := range 5 {
		a, b := figure.PartLookOf(k), figure.PartLookOf(k+1)
		if d := math.Abs(lightness(t, a.Fill) - lightness(t, b.Fill)); d < 15 {
			t.Errorf("parts %d and %d differ by only %.1f in lightness", k, k+1, d)
		}
	}
}

func TestGroupsDifferInShape(t *testing.T) {
	for k := range 4 {
		if figure.LookOf(k).Shape == figure.LookOf(k+1).Shape {
			t.Errorf("groups %d and %d have one shape", k, k+1)
		}
	}
}

// Thirty lines of a page must differ without their hue: in lightness, in
// pattern or in width, and none may look like a line outside the model's range.
func TestCurvesDifferWithoutColour(t *testing.T) {
	for group := range 7 {
		var tints [3]float64
		for i := range 3 {
			color := figure.CurveStroke(group, i, false).Color
			tints[i] = lightness(t, color)
			// Contrast of graphics, as above.
			if c := 1.05 / (luminance(t, color) + 0.05); c < 3 {
				t.Errorf("line %d of group %d has a contrast of %.2f", i, group, c)
			}
		}
		if tints[1]-tints[0] < 15 || tints[2]-tints[1] < 15 { // our own rule
			t.Errorf("group %d: the tints have the lightnesses %.0f", group, tints)
		}
		seen := map[string]int{}
		for i := range 30 {
			s := figure.CurveStroke(group, i, false)
			look := fmt.Sprint(math.Round(lightness(t, s.Color)), s.Dashes, s.Width)
			if k, twice := seen[look]; twice {
				t.Errorf("group %d: lines %d and %d are drawn alike", group, k, i)
			}
			seen[look] = i
			for k, d := range s.Dashes {
				if dots := figure.CurveStroke(group, i, true).Dashes; k == 0 && d < 4*dots[0] {
					t.Errorf("line %d begins with a stroke of %v pt, close to the dots %v", i, d, dots)
				}
			}
		}
	}
}

func rgb(t *testing.T, hex string) [3]uint8 {
	t.Helper()
	v, err := strconv.ParseUint(hex[1:], 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	return [3]uint8{uint8(v >> 16), uint8(v >> 8), uint8(v)}
}

// luminance is the relative luminance of sRGB (WCAG 2.1, definitions).
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	var linear [3]float64
	for i, c := range rgb(t, hex) {
		v := float64(c) / 255
		if v <= 0.04045 {
			linear[i] = v / 12.92
		} else {
			linear[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return 0.2126*linear[0] + 0.7152*linear[1] + 0.0722*linear[2]
}

func lightness(t *testing.T, hex string) float64 {
	t.Helper()
	y := luminance(t, hex)
	if y <= 0.008856 {
		return 903.3 * y
	}
	return 116*math.Cbrt(y) - 16
}
