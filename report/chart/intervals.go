package chart

import (
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) intervals(f *figure.Intervals) {
	b.layout.Kind = "intervals"
	b.layout.Rows = len(f.Rows)
	b.layout.AxisTitle = f.Axis.Title()
	ticks := f.Axis.Ticks(4)
	var grids, xs, ys, titles []fields
	rows := AxisLabels{Axis: "yAxis", At: []float64{}, Text: []string{}}
	for i, r := range f.Rows {
		rows.At, rows.Text = append(rows.At, float64(i)+0.5), append(rows.Text, r)
	}
	for k, p := range f.Panels {
		grids = append(grids, fields{"left": "10%", "width": "20%", "top": 40, "bottom": 60})
		x := b.letteredAxis("xAxis", k, ticks, f.Axis.Fraction)
		x["position"] = "bottom"
		xs = append(xs, x)
		ys = append(ys, fields{"type": "value", "gridIndex": k, "min": 0, "max": max(1, len(f.Rows)), "interval": 1, "inverse": true,
			"axisTick": fields{"show": false}, "axisLine": fields{"show": false},
			"axisLabel": fields{"show": true, "customValues": rows.At, "color": figure.InkColor, "overflow": "truncate"},
			"splitLine": fields{"show": false},
			"splitArea": fields{"show": true, "areaStyle": fields{"color": []string{"rgba(255,255,255,0)", "#F6F5F0"}}}})
		titles = append(titles, fields{"text": p.Label, "top": 4, "textAlign": "center",
			"textStyle": fields{"fontSize": 13, "color": figure.InkColor, "overflow": "break", "lineHeight": 15}})
	}
	for k := range f.Panels {
		own := rows
		own.Index = k
		b.layout.Labels = append(b.layout.Labels, own)
	}
	b.top["grid"], b.top["xAxis"], b.top["yAxis"], b.top["title"] = grids, xs, ys, titles
	firm := false
	for k, p := range f.Panels {
		b.panel(f, k, p)
		for _, x := range p.Bars {
			firm = firm || !x.Empty() && x.Firm
		}
	}
	b.say(true, "bar: "+f.Bars)
	b.say(firm, "filled: "+f.Firm)
}

// panel adds the zero line, the bars and the marks of one panel.
func (b *builder) panel(f *figure.Intervals, k int, p figure.Panel) {
	id := strconv.Itoa(k)
	look := figure.IntervalLook()
	bars := [][]float64{}
	data := []opts.ScatterData{}
	var points []fields
	for i, x := range p.Bars {
		if x.Empty() {
			continue
		}
		y := float64(i) + 0.5
		bars = append(bars, []float64{y, round(f.Axis.Held(x.Lo)), round(f.Axis.Held(x.Hi))})
		data = append(data, point(f.Rows[i], f.Axis.Fraction(x.Value), y))
		more := told(p.Label, x.Details)
		more["fixed"] = true
		if !x.Firm {
			more["itemStyle"] = hollow(look)["itemStyle"]
		}
		points = append(points, more)
	}
	b.custom("zero-"+id, "upright", k, [][]float64{{round(f.Axis.Fraction(0)), float64(max(1, len(f.Rows)))}}, fields{"z": 3, "itemStyle": fields{"color": figure.RefColor}})
	b.custom("spans-"+id, "span", k, bars, fields{"z": 9, "itemStyle": fields{"color": figure.InkColor}})
	b.scatter("marks-"+id, p.Label, data, points, fields{"symbolSize": 9, "z": 10, "clip": false},
		charts.WithSeriesOpts(func(s *charts.SingleSeries) { s.Symbol, s.XAxisIndex, s.YAxisIndex = "diamond", k, k }),
		charts.WithItemStyleOpts(opts.ItemStyle{Color: look.Fill, BorderColor: look.Edge, BorderWidth: 1.2, Opacity: opts.Float(1)}))
}
