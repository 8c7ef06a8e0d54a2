package redox

import (
	"fmt"
	"math"
)

// Line is one line of a diagram of oxygen potential against temperature.
type Line struct {
	ID, Label, Source string
	Alternative       bool // another source of a line that is there already
	Points            []Point
}

// Point is one point of a line.
type Point struct {
	TC     float64 // °C
	LogFO2 float64 // log10 bar
	Inside bool    // within the range of the line's source
}

// DiagramSettings say what a diagram shows. The zero value is 900 to 1400 °C
// in steps of 10 with the buffers, the two lines of carbon and gases of CO/CO2
// 1, 10 and 100.
type DiagramSettings struct {
	Lo, Hi, Step float64   // °C
	GasRatios    []float64 // CO/CO2 of the gas lines; nil: 1, 10, 100; empty: none
	Alternatives bool      // show the other sources of the buffers too
}

// Diagram returns the lines of a diagram of oxygen potential against
// temperature as data. Metastable stretches are drawn, marked as not Inside.
func Diagram(s DiagramSettings) ([]Line, error) {
	if s.Lo == 0 && s.Hi == 0 {
		s.Lo, s.Hi = 900, 1400
	}
	if s.Step == 0 {
		s.Step = 10
	}
	if s.GasRatios == nil {
		s.GasRatios = []float64{1, 10, 100}
	}
	if !(s.Lo < s.Hi) || !(s.Step > 0) || s.Lo < gasLo || s.Hi > gasHi || (s.Hi-s.Lo)/s.Step > 1e5 {
		return nil, fmt.Errorf("a diagram from %g to %g °C in steps of %g cannot be drawn; give the lower temperature first, between %.0f and %.0f °C", s.Lo, s.Hi, s.Step, gasLo, gasHi)
	}
	buffers := Buffers()
	if s.Alternatives {
		buffers = AllBuffers()
	}
	buffers = append(buffers, CarbonMonoxide(), CharcoalGas())
	for _, r := range s.GasRatios {
		b, err := GasLine(r)
		if err != nil {
			return nil, err
		}
		buffers = append(buffers, b)
	}
	lines := make([]Line, len(buffers))
	for i, b := range buffers {
		lines[i] = b.line(s.Lo, s.Hi, s.Step)
	}
	return lines, nil
}

// line follows a buffer; the last point stands at hi whatever the step.
func (b Buffer) line(lo, hi, step float64) Line {
	n := int(math.Ceil((hi-lo)/step - 1e-9))
	l := Line{ID: b.ID, Label: b.Label, Source: b.Source, Points: make([]Point, 0, n+1),
		Alternative: b.Family != b.ID && b.Family != "co_co2"}
	for i := range n + 1 {
		tc := min(lo+float64(i)*step, hi)
		l.Points = append(l.Points, Point{tc, b.logFO2(tc + zeroCelsius), tc >= b.LoC && tc <= b.HiC})
	}
	return l
}
