package figure

import (
	"errors"
	"fmt"
	"math"
)

// Bands shows where amounts went: for each row a bar on the left that stands
// for all of it, and bands as thick as their shares to the places on the right.
type Bands struct {
	Places []string // looks and legend of the parts, at most as many as PartLookOf tells apart
	Rows   []BandRow
}

// BandRow is one amount, such as the copper charged in one firing.
type BandRow struct {
	Name  string // "KR-F3"
	Total string // "741 g"
	Parts []BandPart
}

// BandPart is a part of a row's amount. A share below zero or of nothing draws
// no band; its label stands all the same.
type BandPart struct {
	Place   int     // index into Places
	Share   float64 // of the row's amount
	Label   string  // "ingot 482 g, 65 %"
	Details []Detail
}

// Measures of the bands, in points of print. A label needs bandSlot.
const (
	bandFull = 46.0 // thickness of the whole amount
	bandSlot = 10.0
	bandGap  = 13.0 // between rows
)

// BandPlace is where a band runs, in points from the top of the figure.
type BandPlace struct {
	Left, Right [2]float64 // its upper and lower edge at either end
	Label       float64    // middle of its label
}

// BandLayout is where a row stands.
type BandLayout struct {
	Top, Bottom float64 // of its bar
	Bands       []BandPlace
}

// Layout places rows below each other and returns the height of all.
func (b *Bands) Layout() (rows []BandLayout, height float64) {
	for i, r := range b.Rows {
		if i > 0 {
			height += bandGap
		}
		slots, bar := 0.0, 0.0
		for _, p := range r.Parts {
			t := p.thickness()
			slots, bar = slots+math.Max(t, bandSlot), bar+t
		}
		tall := math.Max(math.Max(slots, bar), bandFull)
		l := BandLayout{Top: height + (tall-bar)/2}
		left, right := l.Top, height+(tall-slots)/2
		for _, p := range r.Parts {
			t := p.thickness()
			slot := math.Max(t, bandSlot)
			middle := right + slot/2
			l.Bands = append(l.Bands, BandPlace{Left: [2]float64{left, left + t}, Right: [2]float64{middle - t/2, middle + t/2}, Label: middle})
			left, right = left+t, right+slot
		}
		l.Bottom = left
		rows = append(rows, l)
		height += tall
	}
	return rows, height
}

func (p BandPart) thickness() float64 { return math.Max(p.Share, 0) * bandFull }

// Outline is the outline of a band: X from 0 on the left to 1 on the right, Y in
// points from the top.
func (p BandPlace) Outline() [][2]float64 {
	const steps = 24
	edge := func(k, i int) [2]float64 {
		t := float64(i) / steps
		return [2]float64{t, p.Left[k] + (p.Right[k]-p.Left[k])*t*t*(3-2*t)}
	}
	var out [][2]float64
	for i := 0; i <= steps; i++ {
		out = append(out, edge(0, i))
	}
	for i := steps; i >= 0; i-- {
		out = append(out, edge(1, i))
	}
	return out
}

func (b *Bands) validate() error {
	if len(b.Places) > len(partLooks) {
		return fmt.Errorf("%d places are more than the %d that can be told apart", len(b.Places), len(partLooks))
	}
	if len(b.Rows) == 0 {
		return errors.New("there is no row of bands")
	}
	for _, r := range b.Rows {
		sum := 0.0
		for _, p := range r.Parts {
			if err := inRange("place", p.Place, len(b.Places)); err != nil {
				return fmt.Errorf("row %q: %w", r.Name, err)
			}
			if !finite(p.Share) {
				return fmt.Errorf("row %q: share %v of %q is not a finite number", r.Name, p.Share, p.Label)
			}
			sum += math.Max(p.Share, 0)
		}
		if sum > mostBands {
			return fmt.Errorf("row %q: the shares add to %g", r.Name, sum)
		}
	}
	return nil
}

// mostBands is the sum of shares above which a row cannot mean parts of one
// amount; some more than all may come out of a balance.
const mostBands = 2
