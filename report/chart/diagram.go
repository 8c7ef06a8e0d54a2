package chart

import (
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) diagram(d *figure.Diagram) {
	b.layout.Kind = "diagram"
	b.layout.AxisTitle, b.layout.AcrossTitle = d.Y.Title(), d.X.Title()
	b.top["grid"] = []fields{{"left": 60, "top": 12, "right": 20, "bottom": 90}}
	x := b.letteredAxis("xAxis", 0, d.X.Ticks(8), d.X.Fraction)
	x["position"] = "bottom"
	y := b.letteredAxis("yAxis", 0, d.Y.Ticks(8), d.Y.Fraction)
	y["position"] = "left"
	b.top["xAxis"], b.top["yAxis"] = []fields{x}, []fields{y}

	b.regions(d)
	data, names := []fields{}, []label{}
	for _, line := range d.Lines {
		datum := curve(d.Frame().Clip(line.X, line.Y), figure.LineStroke(line.Style))
		for k, v := range told("", line.Details) {
			datum[k] = v
		}
		datum["name"], datum["fixed"] = line.Label, true
		data = append(data, datum)
		names = append(names, label{text: line.Label, position: "inside"})
	}
	b.strokes("lines", 0, data, false)
	halo := fields{"fontSize": 11, "textBorderColor": "#fff", "textBorderWidth": 4}
	b.letters("line-names", names, halo, false)
	b.onPage(0, 7)
	legend := append(b.windows(d), b.spots(d)...)
	b.top["legend"] = fields{"show": true, "bottom": 2, "left": "center", "data": legend, "itemWidth": 14, "selectedMode": false}
	b.picked(0)
}

// regions adds the fields and their names; the page script places the names.
func (b *builder) regions(d *figure.Diagram) {
	data, names := []fields{}, []label{}
	for i, r := range d.Regions {
		var corners [][2]float64
		for _, p := range d.Frame().Area(r.X, r.Y) {
			corners = append(corners, pair(p[0], p[1]))
		}
		data = append(data, fields{"name": r.Label, "value": corners[0], "corners": corners, "fill": figure.RegionFill(i)})
		names = append(names, label{text: r.Label, position: "inside"})
	}
	s := charts.SingleSeries{Type: "custom", Data: data}
	b.add(s, "regions", fields{"draw": "region", "silent": true, "z": 0, "clip": false, "tooltip": fields{"show": false}}, nil)
	b.letters("region-names", names, fields{"fontStyle": "italic", "fontSize": 11, "color": figure.MutedColor, "textBorderColor": "#fff", "textBorderWidth": 2}, false)
	b.onPage(0, 7)
}

// windows adds a series of bars and one of marks for each group, and returns
// their entries of the legend.
func (b *builder) windows(d *figure.Diagram) []fields {
	windows := d.Windows()
	legend := []fields{}
	var flagged, beyond, moved bool
	for g := range b.figure.Groups {
		look, group := figure.LookOf(g), b.figure.Groups[g].Label
		bars := []fields{}
		data := []opts.ScatterData{}
		var points []fields
		for i, s := range d.Boxes {
			if s.Group != g {
				continue
			}
			w := windows[i]
			flagged, beyond, moved = flagged || s.Flagged, beyond || w.Below || w.Above, moved || w.Moved
			more := told(group, s.Details)
			name := s.Sample
			if name == "" { // a whole group: its name is the heading, and it cannot be picked
				name, more["group"], more["fixed"] = group, "", true
			}
			bar := fields{"name": name, "value": pair(w.X, w.At), "color": look.Edge,
				"window": []float64{round(w.X), round(w.Lo), round(w.Hi), round(w.Left), round(w.Right), round(w.At)},
				"below":  w.Below, "above": w.Above, "tint": figure.BoxOpacity}
			for k, v := range more {
				bar[k] = v
			}
			bars = append(bars, bar)
			if s.Flagged {
				more["itemStyle"] = hollow(look)["itemStyle"]
			}
			data = append(data, point(name, w.X, w.At))
			points = append(points, more)
		}
		if len(data) == 0 {
			continue
		}
		id := strconv.Itoa(g)
		s := charts.SingleSeries{Type: "custom", Data: bars}
		b.add(s, "windows-"+id, fields{"draw": "window", "z": 9, "clip": false, "cursor": "pointer"}, nil)
		b.marks("marks-"+id, g, 0, data, points, 10)
		legend = append(legend, fields{"name": group})
	}
	b.say(flagged, "hollow: outside the model's range")
	b.say(beyond, "arrow: goes on beyond the frame")
	b.say(moved, "windows set side by side where they would coincide")
	return legend
}

// spots adds a series of points for each group, and returns their entries of
// the legend.
func (b *builder) spots(d *figure.Diagram) []fields {
	legend := []fields{}
	hollowed, barred := false, false
	for g := range b.figure.Groups {
		look, group := figure.LookOf(g), b.figure.Groups[g].Label
		data := []opts.ScatterData{}
		var points []fields
		var bars [][][2]float64
		for _, s := range d.Points {
			if s.Group != g {
				continue
			}
			more := told(group, s.Details)
			if s.Hollow {
				more["itemStyle"], hollowed = hollow(look)["itemStyle"], true
			}
			for _, bar := range d.Bars(s) {
				bars = append(bars, [][2]float64{pair(bar[0][0], bar[0][1]), pair(bar[1][0], bar[1][1])})
			}
			name := s.Sample
			if name == "" {
				name, more["fixed"] = s.Name, true
			}
			at := d.Frame().Place(s.X, s.Y)
			data, points = append(data, point(name, at[0], at[1])), append(points, more)
		}
		if len(bars) > 0 {
			barred = true
			b.line("spot-bars-"+strconv.Itoa(g), bars, 8, opts.LineStyle{Color: look.Edge, Width: 1})
		}
		if len(data) > 0 {
			b.marks("spots-"+strconv.Itoa(g), g, 0, data, points, 10)
			legend = append(legend, fields{"name": group})
		}
	}
	b.say(barred, "bars: ± one standard uncertainty")
	b.say(hollowed, "hollow: "+d.Hollow)
	return legend
}
