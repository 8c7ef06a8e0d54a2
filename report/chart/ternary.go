package chart

import (
	"math"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) ternary(t *figure.Ternary) {
	b.layout.Kind = "ternary"
	b.top["grid"] = []fields{{"left": 40, "top": 30, "right": 40, "bottom": 70}}
	b.top["xAxis"] = []fields{plainAxis(0, 0, 1)}
	b.top["yAxis"] = []fields{plainAxis(0, 0, figure.TriangleHeight)}

	var grid [][][2]float64
	for _, g := range (figure.Triangle{}).Grid(10) {
		grid = append(grid, placed([]figure.Share{g.From, g.To}))
	}
	b.line("grid", grid, 1, opts.LineStyle{Color: figure.GridColor, Width: 0.6})
	var minor, major [][][2]float64
	for _, iso := range t.Isotherms {
		if iso.Major {
			major = append(major, clipped(iso.Line)...)
		} else {
			minor = append(minor, clipped(iso.Line)...)
		}
	}
	b.line("isotherms", minor, 2, opts.LineStyle{Color: figure.IsoColor, Width: 0.6})
	b.line("isotherms-major", major, 2, opts.LineStyle{Color: figure.IsoColor, Width: 1.2})
	var bounds [][][2]float64
	for _, line := range t.Boundaries {
		bounds = append(bounds, clipped(line)...)
	}
	b.line("boundaries", bounds, 3, opts.LineStyle{Color: figure.InkColor, Width: 1.6})
	corners := []figure.Share{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 0}}
	b.line("frame", [][][2]float64{placed(corners)}, 4, opts.LineStyle{Color: figure.InkColor, Width: 1.2})

	b.ternaryLettering(t)
	names := []fields{}
	for g := range b.figure.Groups {
		var data []opts.ScatterData
		var points []fields
		for _, p := range t.Points {
			if p.Group == g {
				x, y := figure.Triangle{}.Place(p.At)
				data = append(data, point(p.Sample, x, y))
				points = append(points, told(b.figure.Groups[g].Label, p.Details))
			}
		}
		if len(data) > 0 {
			b.marks("marks-"+strconv.Itoa(g), g, 0, data, points, 11)
			names = append(names, fields{"name": b.figure.Groups[g].Label})
		}
	}
	b.picked(0)
	b.top["legend"] = fields{"show": true, "bottom": 2, "left": "center", "data": names, "itemWidth": 14, "selectedMode": true}
}

// label is a piece of text at a place in the chart.
type label struct {
	text     string
	x, y     float64
	position string
	rotate   float64
	distance float64
	align    string     // "" as the position has it
	offset   [2]float64 // in pixels along and across the text
	tries    []place    // where else it may stand, nil for a label that stays
}

// letters adds a series of labels without marks. Where labels overlap, the
// library leaves out some.
func (b *builder) letters(id string, labels []label, style fields, hide bool) {
	data := make([]opts.ScatterData, 0, len(labels))
	var points []fields
	for _, l := range labels {
		data = append(data, opts.ScatterData{Name: l.text, Value: pair(l.x, l.y)})
		style := fields{"position": l.position, "rotate": round(l.rotate), "distance": l.distance}
		if l.align != "" {
			style["align"], style["verticalAlign"], style["offset"] = l.align, "middle", l.offset
		}
		more := fields{"label": style}
		if l.tries != nil {
			more["tries"] = l.tries
		}
		points = append(points, more)
	}
	show := fields{"show": true, "formatter": "{b}", "color": figure.InkColor, "fontSize": 12}
	for k, v := range style {
		show[k] = v
	}
	more := fields{"silent": true, "z": 5, "clip": false, "symbolSize": 1, "label": show, "tooltip": fields{"show": false}, "lettering": true}
	if hide {
		more["labelLayout"] = fields{"hideOverlap": true}
	}
	b.scatter(id, "", data, points, more, charts.WithItemStyleOpts(opts.ItemStyle{Color: "transparent", Opacity: opts.Float(1)}))
}

func (b *builder) ternaryLettering(t *figure.Ternary) {
	h := figure.TriangleHeight
	b.letters("corners", []label{
		{text: t.Corners[0], x: 0, y: 0, position: "bottom", distance: 24},
		{text: t.Corners[1], x: 0.5, y: h, position: "top", distance: 6},
		{text: t.Corners[2], x: 1, y: 0, position: "bottom", distance: 24},
	}, fields{"fontWeight": "bold", "fontSize": 13, "overflow": "truncate", "width": 150}, false)

	var ticks []label
	for _, g := range (figure.Triangle{}).Grid(5) {
		x, y := figure.Triangle{}.Place(g.From)
		// A label stands with its inner end just off the side and leans with its line.
		ticks = append(ticks, label{
			text: strconv.Itoa(int(math.Round(g.Value * 100))), x: x, y: y, position: "inside",
			rotate: figure.Triangle{}.LetteringAngle(g.Corner),
			align:  [3]string{"right", "left", "right"}[g.Corner],
			offset: [3][2]float64{{-7, 0}, {7, 0}, {-7, 0}}[g.Corner],
		})
	}
	b.letters("ticks", ticks, fields{"color": figure.MutedColor, "fontSize": 11}, false)

	var fieldNames []label
	for _, f := range t.Fields {
		x, y := figure.Triangle{}.Place(f.At)
		fieldNames = append(fieldNames, label{text: f.Text, x: x, y: y, position: "inside"})
	}
	halo := fields{"textBorderColor": "#fff", "textBorderWidth": 3}
	b.letters("fields", fieldNames, fields{"fontStyle": "italic", "color": figure.MutedColor, "textBorderColor": "#fff", "textBorderWidth": 3}, true)

	var temperatures []label
	for _, iso := range t.Isotherms {
		if !iso.Major {
			continue
		}
		if tries := placesOn(clipped(iso.Line)); len(tries) > 0 {
			temperatures = append(temperatures, label{text: strconv.FormatFloat(iso.TC, 'f', 0, 64),
				x: tries[0][0], y: tries[0][1], rotate: tries[0][2], position: "inside", tries: tries})
		}
	}
	b.letters("temperatures", temperatures, halo, true)
}

func placed(line []figure.Share) [][2]float64 {
	out := make([][2]float64, 0, len(line))
	for _, s := range line {
		out = append(out, pair(figure.Triangle{}.Place(s)))
	}
	return out
}

func clipped(line []figure.Share) [][][2]float64 {
	var out [][][2]float64
	for _, part := range (figure.Triangle{}).Clip(line) {
		out = append(out, placed(part))
	}
	return out
}
