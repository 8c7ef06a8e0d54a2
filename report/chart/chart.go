// Package chart turns the figures of package figure into interactive charts.
//
// A chart is an option of the charting library as plain JSON, without any
// function, and a Layout from which the page script (PageScript) computes
// sizes in pixels. Positions come from the geometry types of package figure
// and are fractions of the drawing: what a reader is told about a point stands
// in its name and details, which the page script shows as text and never as
// markup.
//
// The page puts each figure down like this, still drawing first:
//
//	<figure id="fig-ID">
//	  <div class="still">…the SVG of figure.Figure.SVG…</div>
//	  <div class="live" data-for="ID"></div>
//	  <figcaption>…</figcaption>
//	</figure>
//	<script type="application/json" data-chart="ID">…Chart.JSON…</script>
//
// and Script and PageScript in two script elements at the end of the body. The
// two divisions may stand in a block of their own inside the figure; the block
// that holds the live one gives the chart its width.
package chart

import (
	"bytes"
	"encoding/json"
	"fmt"

	"smeltbook/report/figure"
)

// Chart is one figure made interactive.
type Chart struct {
	ID     string          `json:"id"`
	Layout Layout          `json:"layout"`
	Option json.RawMessage `json:"option"`
}

// Layout is what the page script needs besides the option.
type Layout struct {
	Kind        string       `json:"kind"`                  // "ternary", "facing", "profile", "curves", "diagram", "bands" or "intervals"
	Rows        int          `json:"rows,omitempty"`        // of a profile or of intervals
	Gutter      []string     `json:"gutter,omitempty"`      // lines between the pages
	AxisTitle   string       `json:"axisTitle,omitempty"`   // of the shared axis
	AcrossTitle string       `json:"acrossTitle,omitempty"` // of the horizontal axis where there are two
	Strip       []StripName  `json:"strip,omitempty"`       // names over both pages
	Levels      []LevelName  `json:"levels,omitempty"`
	Labels      []AxisLabels `json:"labels,omitempty"`
	Tall        float64      `json:"tall,omitempty"`  // height of bands, in their own measure
	Bands       []BandName   `json:"bands,omitempty"` // names of rows and bands
	Notes       []string     `json:"notes,omitempty"` // what hollow marks and bars mean
	NameChars   int          `json:"nameChars,omitempty"`
}

// StripName is the name of a vertical reference: it stands over its place At, a
// fraction of the page's width.
type StripName struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
}

// LevelName is the name of a horizontal reference between two places, fractions
// of the page's height, and what is said of it below where it has no room.
type LevelName struct {
	From float64 `json:"from"`
	To   float64 `json:"to"`
	Text string  `json:"text"`
	Note string  `json:"note"`
}

// BandName is a text beside bands: at a height in their measure, before the
// left bar or behind the right one.
type BandName struct {
	At   float64 `json:"at"`
	Text string  `json:"text"`
	Sub  string  `json:"sub,omitempty"` // a second line
	Left bool    `json:"left,omitempty"`
}

// AxisLabels letters an axis: Text[i] stands at At[i].
type AxisLabels struct {
	Axis  string    `json:"axis"` // "xAxis" or "yAxis"
	Index int       `json:"index"`
	At    []float64 `json:"at"`
	Text  []string  `json:"text"`
}

// Option builds the interactive form of a figure. The error is that of
// figure.Figure.Validate, or names a value that JSON cannot hold.
func Option(f figure.Figure) (Chart, error) {
	if err := f.Validate(); err != nil {
		return Chart{}, err
	}
	b := newBuilder(f)
	switch body := f.Body.(type) {
	case *figure.Ternary:
		b.ternary(body)
	case *figure.Facing:
		b.facing(body)
	case *figure.Profile:
		b.profile(body)
	case *figure.Curves:
		b.curves(body)
	case *figure.Diagram:
		b.diagram(body)
	case *figure.Bands:
		b.bands(body)
	case *figure.Intervals:
		b.intervals(body)
	}
	option, err := b.option()
	if err != nil {
		return Chart{}, fmt.Errorf("chart %q: %w", f.ID, err)
	}
	return Chart{ID: f.ID, Layout: b.layout, Option: option}, nil
}

// JSON is the text for the figure's script element. It holds no "<", ">" or
// "&", so nothing in it can end the element.
func (c Chart) JSON() ([]byte, error) {
	raw, err := json.Marshal(c)
	if err != nil {
		return nil, fmt.Errorf("chart %q: %w", c.ID, err)
	}
	var out bytes.Buffer
	json.HTMLEscape(&out, raw)
	return out.Bytes(), nil
}
