package chart

import (
	"bytes"
	"encoding/json"
	"maps"
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

// fields are settings that the typed options have no place for.
type fields map[string]any

// builder gathers a chart: typed options first, and fields to be added to
// their JSON form afterwards.
type builder struct {
	figure figure.Figure
	layout Layout
	base   *charts.Scatter
	series []fields   // added to the series of the same place
	points [][]fields // added to the data of the series of the same place
	top    fields     // replaces parts of the whole option
}

func newBuilder(f figure.Figure) *builder {
	b := &builder{figure: f, base: charts.NewScatter(), top: fields{}}
	b.base.SetGlobalOptions(
		charts.WithAnimation(false),
		charts.WithTooltipOpts(opts.Tooltip{Show: opts.Bool(true), Trigger: "item", Formatter: "{b}"}),
		charts.WithAriaOpts(&opts.Aria{Enabled: opts.Bool(true)}),
		charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false)}),
	)
	label := fields{"description": f.Alt}
	if f.Alt == "" {
		delete(label, "description")
	}
	b.top["aria"] = fields{"enabled": true, "label": label, "decal": fields{"show": false}}
	b.top["textStyle"] = fields{"fontFamily": "Notebook Figures, Liberation Sans, Arial, Helvetica, sans-serif", "color": figure.InkColor}
	return b
}

// add puts a typed series into the chart.
func (b *builder) add(s charts.SingleSeries, id string, more fields, points []fields) {
	s.Id = id
	b.base.MultiSeries = append(b.base.MultiSeries, s)
	b.series = append(b.series, more)
	b.points = append(b.points, points)
}

// scatter adds points; points[i] goes into data[i].
func (b *builder) scatter(id, name string, data []opts.ScatterData, points []fields, more fields, with ...charts.SeriesOpts) {
	s := charts.NewScatter().AddSeries(name, data, with...).MultiSeries[0]
	b.add(s, id, more, points)
}

// unseen is how far lines of a chart, which is 1 wide, may stray: about a
// quarter of a point of the screen.
const unseen = 0.0004

// line adds lines joined in one series, with breaks between them. It takes no
// part in hovering.
func (b *builder) line(id string, lines [][][2]float64, z int, style opts.LineStyle) {
	data := []any{}
	for i, l := range lines {
		if i > 0 {
			data = append(data, nil)
		}
		for _, p := range figure.Thin(l, unseen) {
			data = append(data, p)
		}
	}
	s := charts.NewLine().AddSeries("", nil, charts.WithLineStyleOpts(style)).MultiSeries[0]
	s.Data = data
	s.ShowSymbol = opts.Bool(false)
	s.Symbol = "none"
	b.add(s, id, fields{"silent": true, "z": z, "clip": false, "tooltip": fields{"show": false}}, nil)
}

// custom adds a series that the page script draws by the named renderer. Its
// values are positions in the chart.
func (b *builder) custom(id, draw string, axis int, data [][]float64, more fields) {
	s := charts.SingleSeries{Type: "custom", Data: data, XAxisIndex: axis, YAxisIndex: axis}
	all := fields{"draw": draw, "silent": true, "tooltip": fields{"show": false}}
	maps.Copy(all, more)
	b.add(s, id, all, nil)
}

// option joins the typed options and the added fields.
func (b *builder) option() (json.RawMessage, error) {
	b.base.Validate()
	raw, err := json.Marshal(b.base.JSON())
	if err != nil {
		return nil, err
	}
	var option map[string]any
	decoder := json.NewDecoder(bytes.NewReader(raw))
	decoder.UseNumber() // numbers keep their digits
	if err := decoder.Decode(&option); err != nil {
		return nil, err
	}
	delete(option, "toolbox")
	delete(option, "color")
	delete(option, "title")
	series, _ := option["series"].([]any)
	for i, s := range series {
		target, ok := s.(map[string]any)
		if !ok {
			continue
		}
		maps.Copy(target, b.series[i])
		data, _ := target["data"].([]any)
		for k, more := range b.points[i] {
			if datum, ok := data[k].(map[string]any); ok {
				maps.Copy(datum, more)
			}
		}
	}
	maps.Copy(option, b.top)
	return json.Marshal(option)
}

// round keeps positions short: a ten-thousandth of the drawing.
func round(v float64) float64 { return math.Round(v*1e4) / 1e4 }

func pair(x, y float64) [2]float64 { return [2]float64{round(x), round(y)} }

// point is one sample's mark: where it stands and what a reader is told.
func point(sample string, x, y float64) opts.ScatterData {
	return opts.ScatterData{Name: sample, Value: pair(x, y)}
}

// told is the hover text of a mark.
func told(group string, details []figure.Detail) fields {
	lines := make([][2]string, 0, len(details))
	for _, d := range details {
		lines = append(lines, [2]string{d.Label, d.Value})
	}
	return fields{"group": group, "details": lines}
}

// symbolOf names the library's symbol for a shape.
func symbolOf(s figure.Shape) (symbol string, turn int) {
	switch s {
	case figure.Triangular:
		return "triangle", 0
	case figure.Square:
		return "rect", 0
	case figure.Diamond:
		return "diamond", 0
	case figure.Inverted:
		return "triangle", 180
	}
	return "circle", 0
}

// marks adds a series of pickable points in a group's look.
func (b *builder) marks(id string, group, axis int, data []opts.ScatterData, points []fields, size float64) {
	look := figure.LookOf(group)
	symbol, turn := symbolOf(look.Shape)
	b.scatter(id, b.figure.Groups[group].Label, data, points,
		fields{"symbolSize": size, "symbolRotate": turn, "z": 10, "clip": false, "pick": true, "cursor": "pointer",
			"emphasis": fields{"scale": 1.4}},
		charts.WithSeriesOpts(func(s *charts.SingleSeries) {
			s.Symbol, s.XAxisIndex, s.YAxisIndex = symbol, axis, axis
		}),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: look.Fill, BorderColor: look.Edge, BorderWidth: 1.2, Opacity: opts.Float(1)}))
}

// picked adds the ring that marks the sample the reader has picked; it is
// empty until the page script fills it.
func (b *builder) picked(axis int) {
	id := "picked-0"
	if axis == 1 {
		id = "picked-1"
	}
	b.scatter(id, "", []opts.ScatterData{}, nil,
		fields{"silent": true, "z": 20, "clip": false, "symbolSize": 20, "tooltip": fields{"show": false},
			"label":       fields{"show": true, "formatter": "{b}", "position": "top", "fontWeight": "bold", "color": figure.InkColor, "textBorderColor": "#fff", "textBorderWidth": 3},
			"labelLayout": fields{"hideOverlap": true}},
		charts.WithSeriesOpts(func(s *charts.SingleSeries) { s.Symbol, s.XAxisIndex, s.YAxisIndex = "circle", axis, axis }),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: "transparent", BorderColor: "#111111", BorderWidth: 2}))
}

// hollow is the look of a mark that is a limit or lies outside the model's
// range.
func hollow(look figure.Look) fields {
	return fields{"itemStyle": fields{"color": "#FFFFFF", "borderColor": look.Edge, "borderWidth": 1.2}}
}

// plainAxis is a hidden axis over a range of positions.
func plainAxis(grid int, lo, hi float64) fields {
	return fields{"type": "value", "gridIndex": grid, "min": lo, "max": hi, "show": false}
}

// letteredAxis is an axis over positions whose ticks stand where the printed
// figure has them.
func (b *builder) letteredAxis(axis string, index int, ticks []figure.Tick, place func(float64) float64) fields {
	labels := AxisLabels{Axis: axis, Index: index, At: []float64{}, Text: []string{}}
	for _, t := range ticks {
		if t.Label != "" {
			labels.At = append(labels.At, round(place(t.Value)))
			labels.Text = append(labels.Text, t.Label)
		}
	}
	b.layout.Labels = append(b.layout.Labels, labels)
	return fields{
		"type": "value", "gridIndex": index, "min": 0, "max": 1, "show": true,
		"axisLabel": fields{"customValues": labels.At, "hideOverlap": true, "color": figure.InkColor},
		"axisTick":  fields{"show": true, "customValues": labels.At},
		"axisLine":  fields{"show": true, "onZero": false, "lineStyle": fields{"color": figure.InkColor}},
		"splitLine": fields{"show": true, "lineStyle": fields{"color": figure.GridColor}},
	}
}

// heads are the names of the groups over the two pages.
func (b *builder) heads(groups [2]int) {
	var titles []fields
	for _, g := range groups {
		look := figure.LookOf(g)
		titles = append(titles, fields{"text": b.figure.Groups[g].Label, "top": 4, "textAlign": "center",
			"textStyle": fields{"fontSize": 13, "color": look.Edge, "overflow": "break", "lineHeight": 15}})
	}
	b.top["title"] = titles
}
