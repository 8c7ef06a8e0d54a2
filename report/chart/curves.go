package chart

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) curves(c *figure.Curves) {
	b.layout.Kind = "curves"
	b.layout.Gutter = c.Gutter
	b.layout.AxisTitle, b.layout.AcrossTitle = c.Y.Title(), c.X.Title()
	b.twoGrids()
	b.heads([2]int{c.Pages[0].Group, c.Pages[1].Group})
	for _, r := range c.References {
		if r.Label != "" {
			at := (c.X.Held(r.From) + c.X.Held(r.To)) / 2
			b.layout.Strip = append(b.layout.Strip, StripName{At: round(at), Text: r.Label})
		}
	}
	for _, r := range c.Levels {
		if r.Label != "" {
			b.layout.Levels = append(b.layout.Levels, LevelName{
				From: round(c.Y.Held(r.From)), To: round(c.Y.Held(r.To)), Text: r.Label, Note: levelNote(c.Y, r)})
		}
	}
	across, up := c.X.Ticks(5), c.Y.Ticks(7)
	var xs, ys []fields
	for page := range 2 {
		x := b.letteredAxis("xAxis", page, across, c.X.Fraction)
		x["position"] = "bottom"
		xs = append(xs, x)
		y := b.letteredAxis("yAxis", page, up, c.Y.Fraction)
		y["position"] = [2]string{"left", "right"}[page]
		ys = append(ys, y)
	}
	b.top["xAxis"], b.top["yAxis"] = xs, ys

	outside := false
	for page, side := range c.Pages {
		b.crossReferences(c, page)
		b.curvesPage(c, page)
		for _, line := range side.Lines {
			outside = outside || line.Dashed
		}
	}
	if c.Crowded() {
		b.layout.Notes = append(b.layout.Notes, "one line a sample, too many for their names")
	}
	if outside {
		b.layout.Notes = append(b.layout.Notes, "dotted: outside the model's range")
	}
}

func (b *builder) curvesPage(c *figure.Curves, page int) {
	side := c.Pages[page]
	group := b.figure.Groups[side.Group].Label
	strands, strokes, crowded := side.Strand(), c.Strokes(page), c.Crowded()
	data := []fields{}
	names := []label{}
	for i, line := range side.Lines {
		datum := curve(c.Frame().Clip(line.X, line.Y), strokes[i])
		datum["name"] = line.Sample
		datum["strand"] = strands[i]
		for k, v := range told(group, line.Details) {
			datum[k] = v
		}
		data = append(data, datum)
		if strands[i] == len(names) && !crowded {
			names = append(names, label{text: line.Sample, position: "inside"})
		}
	}
	b.strokes(fmt.Sprintf("curves-%d", page), page, data, true)
	b.letters(fmt.Sprintf("names-%d", page), names, fields{
		"color": figure.CurveStroke(side.Group, 0, false).Color, "fontSize": 11, "textBorderColor": "#fff", "textBorderWidth": 4,
	}, false)
	b.onPage(page, 7)
	levels := []label{}
	for _, r := range c.Levels {
		if r.Label != "" {
			levels = append(levels, label{text: r.Label, y: c.Y.Held(r.From), position: "inside"})
		}
	}
	b.letters(fmt.Sprintf("level-names-%d", page), levels, fields{"color": figure.RefColor, "fontSize": 11, "fontStyle": "italic"}, false)
	b.onPage(page, 7)
	b.picked(page)
}

// levelNote tells of a level below the chart where its name has no room.
func levelNote(axis figure.Axis, r figure.Reference) string {
	at := strconv.FormatFloat(r.From, 'g', -1, 64)
	if r.From < r.To {
		at += " to " + strconv.FormatFloat(r.To, 'g', -1, 64)
	}
	if axis.Unit != "" {
		at += " " + axis.Unit
	}
	return "level at " + strings.ReplaceAll(at, "-", "−") + ": " + r.Label
}

// onPage puts the last series on a page's axes, at a height above others.
func (b *builder) onPage(page, z int) {
	b.series[len(b.series)-1]["z"] = z
	s := &b.base.MultiSeries[len(b.base.MultiSeries)-1]
	s.XAxisIndex, s.YAxisIndex = page, page
}

// curve is a line in the parts that the frame leaves of it, and its look.
// Widths and dashes are those of print brought to pixels.
func curve(parts [][][2]float64, s figure.Stroke) fields {
	const px = 1.5
	out := make([][][2]float64, 0, len(parts))
	for _, part := range parts {
		line := make([][2]float64, 0, len(part))
		for _, p := range part {
			line = append(line, pair(p[0], p[1]))
		}
		out = append(out, line)
	}
	dash := []float64{}
	for _, d := range s.Dashes {
		dash = append(dash, round(px*d))
	}
	return fields{
		"value": pair(parts[0][0][0], parts[0][0][1]), "parts": out,
		"stroke": fields{"color": s.Color, "width": round(px * s.Width), "dash": dash},
	}
}

// strokes adds lines that can be hovered, and picked when they are samples'.
func (b *builder) strokes(id string, page int, data []fields, pick bool) {
	s := charts.SingleSeries{Type: "custom", Data: data, XAxisIndex: page, YAxisIndex: page}
	cursor := "default"
	if pick {
		cursor = "pointer"
	}
	b.add(s, id, fields{"draw": "curve", "z": 6, "clip": false, "pick": pick, "cursor": cursor}, nil)
}

// crossReferences adds the lines and bands on both axes to a page. The page
// script names them where there is room.
func (b *builder) crossReferences(c *figure.Curves, page int) {
	if len(c.References)+len(c.Levels) == 0 {
		return
	}
	lines, bands := []fields{}, [][2]fields{}
	put := func(axis string, a figure.Axis, r figure.Reference) {
		lo, hi := round(a.Held(r.From)), round(a.Held(r.To))
		if r.From == r.To {
			lines = append(lines, fields{axis: lo})
		} else {
			bands = append(bands, [2]fields{{axis: lo}, {axis: hi}})
		}
	}
	for _, r := range c.References {
		put("xAxis", c.X, r)
	}
	for _, r := range c.Levels {
		put("yAxis", c.Y, r)
	}
	more := referenceMarks(lines, bands, false)
	b.scatter(fmt.Sprintf("references-%d", page), "", []opts.ScatterData{}, nil, more,
		charts.WithSeriesOpts(func(s *charts.SingleSeries) { s.XAxisIndex, s.YAxisIndex = page, page }))
}
