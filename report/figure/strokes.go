package figure

import (
	"fmt"
	"math"
)

// Stroke is how a line is drawn. Lengths are points in print.
type Stroke struct {
	Color  string
	Width  float64
	Dashes []float64 // lengths of stroke and gap by turns; nil for a full line
}

// Curves of a page differ in lightness first, then in pattern, then in width,
// so that 30 of them differ without colour. All patterns are long strokes with
// short gaps: none can be taken for the dots of a line outside the model's
// range.
var (
	curveContrasts = []float64{11, 5.6, 3.2} // against white paper
	curvePatterns  = [][]float64{nil, {9, 1.6}, {9, 1.6, 1.4, 1.6}, {4.5, 1.6}, {9, 1.6, 1.4, 1.6, 1.4, 1.6}}
	curveWidths    = []float64{0.75, 1.25}
	outsideDots    = []float64{1, 1.5}
)

// CurveStroke is the look of the i-th sample's line on a page of a group; a
// line outside the model's range is dotted.
func CurveStroke(group, i int, outside bool) Stroke {
	n, m := len(curveContrasts), len(curvePatterns)
	s := Stroke{
		Color:  tint(LookOf(group).Edge, curveContrasts[i%n]),
		Dashes: curvePatterns[i/n%m],
		Width:  curveWidths[i/(n*m)%len(curveWidths)],
	}
	if outside {
		s.Dashes = outsideDots
	}
	return s
}

// crowdStroke is the look that the lines of very many samples share.
func crowdStroke(group int, outside bool) Stroke {
	s := Stroke{Color: tint(LookOf(group).Edge, curveContrasts[1]), Width: 0.5}
	if outside {
		s.Dashes = outsideDots
	}
	return s
}

var lineStrokes = []Stroke{
	{InkColor, 0.9, nil},
	{InkColor, 0.9, []float64{5, 1.8}},
	{InkColor, 0.9, []float64{7, 1.8, 1.2, 1.8}},
	{MutedColor, 0.7, nil},
	{MutedColor, 0.7, []float64{2.5, 1.5}},
}

// LineStroke is the look of a NamedLine of a style.
func LineStroke(style int) Stroke { return lineStrokes[style%len(lineStrokes)] }

// Grounds light enough for lettering and lines upon them.
var regionFills = []string{"#F5F2E6", "#EAF1F6", "#F3EBF3", "#EAF4EE", "#F2F2F2"}

// RegionFill is the light ground of the region at a place in Diagram.Regions.
func RegionFill(region int) string { return regionFills[region%len(regionFills)] }

// BoxOpacity is the strength of the tint of a window over a range.
const BoxOpacity = 0.2

// tint darkens or lightens a colour to a contrast against white (Web Content
// Accessibility Guidelines 2.1, definition of contrast ratio).
func tint(hex string, contrast float64) string {
	c := ink(hex)
	linear := [3]float64{toLinear(c.R), toLinear(c.G), toLinear(c.B)}
	have := 0.2126*linear[0] + 0.7152*linear[1] + 0.0722*linear[2]
	want := 1.05/contrast - 0.05
	var out [3]uint8
	for k, v := range linear {
		if want < have {
			v *= want / have
		} else {
			v += (1 - v) * (want - have) / (1 - have)
		}
		out[k] = fromLinear(v)
	}
	return fmt.Sprintf("#%02X%02X%02X", out[0], out[1], out[2])
}

func toLinear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

func fromLinear(v float64) uint8 {
	if v <= 0.0031308 {
		v *= 12.92
	} else {
		v = 1.055*math.Pow(v, 1/2.4) - 0.055
	}
	return uint8(math.Round(math.Min(math.Max(v, 0), 1) * 255))
}
