package chart

import (
	"fmt"
	"strconv"
	"unicode/utf8"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) facing(f *figure.Facing) {
	b.layout.Kind = "facing"
	b.layout.Gutter = f.Gutter
	b.layout.AxisTitle = f.Axis.Title()
	b.twoGrids()
	b.heads([2]int{f.Pages[0].Group, f.Pages[1].Group})

	ticks := f.Axis.Ticks(7)
	var xs, ys []fields
	for page := range 2 {
		names := []string{}
		for _, m := range f.Pages[page].Marks {
			names = append(names, m.Sample)
			b.layout.NameChars = max(b.layout.NameChars, utf8.RuneCountInString(m.Sample))
		}
		xs = append(xs, fields{"type": "category", "gridIndex": page, "data": names,
			"axisTick":  fields{"show": false},
			"axisLine":  fields{"lineStyle": fields{"color": figure.InkColor}, "onZero": false},
			"axisLabel": fields{"rotate": 90, "interval": 0, "overflow": "truncate", "width": 90, "color": figure.InkColor}})
		y := b.letteredAxis("yAxis", page, ticks, f.Axis.Fraction)
		y["position"] = [2]string{"left", "right"}[page]
		ys = append(ys, y)
	}
	b.top["xAxis"], b.top["yAxis"] = xs, ys

	var all []figure.Mark
	for page := range 2 {
		b.facingPage(f, page)
		all = append(all, f.Pages[page].Marks...)
	}
	if len(f.Stack) > 0 {
		b.top["legend"] = fields{"show": true, "bottom": 2, "left": "center", "data": f.Stack, "itemWidth": 18, "selectedMode": false}
	}
	b.notes(all, f.BarsMean())
}

// twoGrids are the two pages; the page script sets their places in pixels.
func (b *builder) twoGrids() {
	b.top["grid"] = []fields{
		{"left": "8%", "width": "38%", "top": 32, "bottom": 90},
		{"left": "54%", "width": "38%", "top": 32, "bottom": 90},
	}
}

func (b *builder) facingPage(f *figure.Facing, page int) {
	geometry := figure.Spread{Facing: f}
	side := f.Pages[page]
	look, group := figure.LookOf(side.Group), b.figure.Groups[side.Group].Label
	b.references(f, page, geometry)

	data := []opts.ScatterData{}
	var points []fields
	whiskers, arrows := [][]float64{}, [][]float64{}
	for i, m := range side.Marks {
		y := geometry.Height(m.Value)
		data = append(data, point(m.Sample, float64(i), y))
		more := told(group, m.Details)
		if m.Limit || m.Flagged {
			more["itemStyle"] = hollow(look)["itemStyle"]
		} else if len(f.Stack) > 0 { // the bar shows itself; the mark stays as a place to point at
			more["itemStyle"] = fields{"opacity": 0}
		}
		points = append(points, more)
		if lo, hi, ok := geometry.Bar(m); ok {
			whiskers = append(whiskers, []float64{float64(i), round(geometry.Height(lo)), round(geometry.Height(hi))})
		}
		if m.Limit {
			arrows = append(arrows, []float64{float64(i), round(y)})
		}
	}
	for k, part := range f.Stack {
		b.part(f, page, k, part)
	}
	color := look.Edge
	if len(f.Stack) > 0 {
		color = figure.InkColor
	}
	b.custom(fmt.Sprintf("bars-%d", page), "whisker", page, whiskers,
		fields{"z": 9, "encode": fields{"x": 0, "y": []int{1, 2}}, "itemStyle": fields{"color": color}})
	b.custom(fmt.Sprintf("limits-%d", page), "below", page, arrows, fields{"z": 9, "itemStyle": fields{"color": look.Edge}})
	b.marks(fmt.Sprintf("marks-%d", page), side.Group, page, data, points, 10)
	b.picked(page)
}

// part adds one layer of the stacked bars of a page.
func (b *builder) part(f *figure.Facing, page, k int, name string) {
	look := figure.PartLookOf(k)
	data := make([]opts.BarData, 0, len(f.Pages[page].Marks))
	var points []fields
	for _, m := range f.Pages[page].Marks {
		data = append(data, opts.BarData{Name: m.Sample, Value: round(f.Axis.Fraction(m.Stack[k]))})
		points = append(points, told(b.figure.Groups[f.Pages[page].Group].Label, m.Details))
	}
	s := charts.NewBar().AddSeries(name, data).MultiSeries[0]
	s.Stack = "page-" + strconv.Itoa(page)
	s.XAxisIndex, s.YAxisIndex = page, page
	style := fields{"color": look.Fill, "borderColor": figure.InkColor, "borderWidth": 0.6}
	if look.Hatch != figure.Plain {
		style["decal"] = decal(look)
	}
	b.add(s, fmt.Sprintf("part-%d-%d", k, page), fields{"itemStyle": style, "barWidth": "68%", "barMaxWidth": 28, "z": 5, "pick": true, "cursor": "pointer"}, points)
}

// decal is the library's form of a hatch.
func decal(look figure.PartLook) fields {
	turn := map[figure.Hatch]float64{figure.Rising: 0.7854, figure.Falling: -0.7854, figure.Crossed: 0.7854}[look.Hatch]
	d := fields{"color": look.Line, "rotation": turn, "symbol": "rect", "dashArrayX": []float64{1, 0}, "dashArrayY": []float64{1, 4}}
	if look.Hatch == figure.Crossed {
		d["symbol"], d["dashArrayX"], d["dashArrayY"], d["symbolSize"] = "diamond", []float64{4, 4}, []float64{4, 4}, 0.8
	}
	return d
}

// references adds lines and bands across a page, named on the right page.
func (b *builder) references(f *figure.Facing, page int, geometry figure.Spread) {
	if len(f.References) == 0 {
		return
	}
	lines, bands := []fields{}, [][2]fields{}
	for _, r := range f.References {
		lo, hi := round(geometry.Height(r.From)), round(geometry.Height(r.To))
		if r.From == r.To {
			lines = append(lines, fields{"name": r.Label, "yAxis": lo})
		} else {
			bands = append(bands, [2]fields{{"name": r.Label, "yAxis": lo}, {"yAxis": hi}})
		}
	}
	more := referenceMarks(lines, bands, page == 1)
	b.scatter(fmt.Sprintf("references-%d", page), "", []opts.ScatterData{}, nil, more,
		charts.WithSeriesOpts(func(s *charts.SingleSeries) { s.XAxisIndex, s.YAxisIndex = page, page }))
}

// referenceMarks is the look of lines and bands, with or without their names.
func referenceMarks(lines []fields, bands [][2]fields, named bool) fields {
	lineLabel, bandLabel := fields{"position": "insideStartTop"}, fields{"position": "insideTopLeft"}
	for k, v := range (fields{"show": named, "formatter": "{b}", "color": figure.RefColor, "fontStyle": "italic", "textBorderColor": "#fff", "textBorderWidth": 2}) {
		lineLabel[k], bandLabel[k] = v, v
	}
	return fields{"silent": true, "tooltip": fields{"show": false},
		"markLine": fields{"silent": true, "symbol": "none", "data": lines, "label": lineLabel,
			"lineStyle": fields{"color": figure.RefColor, "type": "dashed", "width": 1.2}},
		"markArea": fields{"silent": true, "data": bands, "label": bandLabel,
			"itemStyle": fields{"color": figure.BandColor}},
	}
}

// notes say what hollow marks and bars mean, where the figure has any.
// bars says what error bars are, and is empty where none are drawn.
func (b *builder) notes(marks []figure.Mark, bars string) {
	var uncertain, flagged, limit bool
	for _, m := range marks {
		uncertain = uncertain || bars != "" && (m.U > 0 || m.Ends != nil) && !m.Limit
		flagged = flagged || m.Flagged && !m.Limit
		limit = limit || m.Limit
	}
	b.say(uncertain, "bar: "+bars)
	b.say(flagged, "hollow: outside the model's range")
	b.say(limit, "hollow with arrow: upper limit (below detection)")
}

// say adds a note where it is needed.
func (b *builder) say(needed bool, note string) {
	if needed {
		b.layout.Notes = append(b.layout.Notes, note)
	}
}
