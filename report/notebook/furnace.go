package notebook

import (
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"
)

// Furnace is the furnace that a notebook plans with, as it is written. What it
// leaves open is nil or empty. Lines are of the notebook.
type Furnace struct {
	Line        int `yaml:"-"`
	Diameter    *float64
	Depth       *float64
	Lining      *float64 // thickness
	PipeHeight  *float64 // of the mouth of the pipe over the floor
	Heap        *float64 // charcoal above the rim; these in cm
	Ground      string   // dry, damp or wet
	Lumps       *float64 // of charcoal, cm
	FixedCarbon *float64 // %
	Moisture    *float64 // of the charcoal, %
	Ambient     *float64 // °C
	Working     *float64 // °C that the burning zone should have
	LiningHolds *float64 // °C
	Preheat     *float64 // min
	Settle      *float64 // min
	Rate        *float64 // kg/h of ore and flux
	Load        *float64 // kg of ore and flux, where no charge is planned
	Air         FurnaceAir
	Pipe        FurnacePipe
}

// FurnaceAir is what blows.
type FurnaceAir struct {
	By        string   // blowpipe, bag, piston or fan
	Number    *int     // at work at a time
	Stroke    *float64 // L
	PerMinute *float64 // strokes
	Flow      *float64 // L/min of each, of blowpipe and fan
	Leak      *float64 // %
}

// FurnacePipe is the way of the air.
type FurnacePipe struct {
	Number *int
	Bore   *float64 // mm
	Length *float64 // cm
	Gap    *float64 // mm; 0 for a pipe in one piece
	Mouth  *float64 // mm, of the feed pipe at the gap
	Valve  *bool
}

// GroundNames and BlowerNames are the words of the furnace.
func GroundNames() []string { return []string{"dry", "damp", "wet"} }

// BlowerNames are the words for what blows.
func BlowerNames() []string { return []string{"blowpipe", "bag", "piston", "fan"} }

// furnace reads the furnace; nil where there is none.
func (d *decoder) furnace(n *yaml.Node) *Furnace {
	if n.IsZero() {
		return nil
	}
	var f Furnace
	d.value(n, rv(&f), `"furnace"`)
	f.Line = n.Line
	for _, x := range []struct {
		key, word string
		words     []string
	}{{"ground", f.Ground, GroundNames()}, {"by", f.Air.By, BlowerNames()}} {
		if x.word != "" && !slices.Contains(x.words, x.word) {
			d.fail(lineOf(n, x.key), "UNKNOWN_WORD", "%q is %q, which is not known; use %s", x.key, x.word, strings.Join(x.words, ", "))
		}
	}
	for _, x := range f.Numbers() {
		if !(x.Value >= x.Least) || math.IsInf(x.Value, 0) {
			d.fail(lineOf(n, x.Key), "WRONG_VALUE", "%q of the furnace is %g; give a number in %s of at least %g", x.Key, x.Value, x.Unit, x.Least)
		}
	}
	return &f
}

// FurnaceNumber is a number that a furnace states.
type FurnaceNumber struct {
	Key, Unit    string
	Value, Least float64
}

// Numbers lists those that f states.
func (f Furnace) Numbers() (out []FurnaceNumber) {
	add := func(key, unit string, x *float64, least float64) {
		if x != nil {
			out = append(out, FurnaceNumber{key, unit, *x, least})
		}
	}
	add("diameter", "cm", f.Diameter, 1)
	add("depth", "cm", f.Depth, 1)
	add("lining", "cm", f.Lining, 0.1)
	add("pipe_height", "cm", f.PipeHeight, 0)
	add("heap", "cm", f.Heap, 0)
	add("lumps", "cm", f.Lumps, 0.1)
	add("fixed_carbon", "%", f.FixedCarbon, 1)
	add("moisture", "%", f.Moisture, 0)
	add("ambient", "°C", f.Ambient, -40)
	add("working", "°C", f.Working, 1)
	add("lining_holds", "°C", f.LiningHolds, 1)
	add("preheat", "min", f.Preheat, 0)
	add("settle", "min", f.Settle, 0)
	add("rate", "kg/h", f.Rate, 0.01)
	add("load", "kg", f.Load, 0)
	add("stroke", "L", f.Air.Stroke, 0.01)
	add("per_minute", "strokes", f.Air.PerMinute, 0.1)
	add("flow", "L/min", f.Air.Flow, 0.1)
	add("leak", "%", f.Air.Leak, 0)
	add("bore", "mm", f.Pipe.Bore, 1)
	add("length", "cm", f.Pipe.Length, 1)
	add("gap", "mm", f.Pipe.Gap, 0)
	add("mouth", "mm", f.Pipe.Mouth, 1)
	return out
}

// lineOf is the line of a key anywhere in a mapping; that of the mapping where
// it has none.
func lineOf(n *yaml.Node, key string) int {
	if line, ok := findKey(n, key); ok {
		return line
	}
	return n.Line
}

func findKey(n *yaml.Node, key string) (int, bool) {
	for i := 0; n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i].Line, true
		}
		if line, ok := findKey(n.Content[i+1], key); ok {
			return line, true
		}
	}
	return 0, false
}
