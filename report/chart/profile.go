package chart

import (
	"fmt"
	"math"

	"github.com/go-echarts/go-echarts/v2/opts"

	"smeltbook/report/figure"
)

func (b *builder) profile(p *figure.Profile) {
	b.layout.Kind = "profile"
	b.layout.Rows = len(p.Rows)
	b.layout.AxisTitle = p.Axis.Title()
	b.twoGrids()
	b.heads(p.Pages)

	geometry := figure.Rows{Profile: p}
	ticks := p.Axis.Ticks(5)
	rows := AxisLabels{Axis: "yAxis", Index: 1, At: []float64{}, Text: []string{}}
	for i, r := range p.Rows {
		rows.At = append(rows.At, geometry.Middle(i))
		rows.Text = append(rows.Text, r.Label)
	}
	var xs, ys []fields
	for side := range 2 {
		x := b.letteredAxis("xAxis", side, ticks, geometry.Out)
		x["inverse"] = side == 0
		x["position"] = "bottom"
		xs = append(xs, x)
		ys = append(ys, fields{"type": "value", "gridIndex": side, "min": 0, "max": max(1, len(p.Rows)), "interval": 1,
			"inverse": true, "position": [2]string{"right", "left"}[side],
			"axisTick":  fields{"show": false},
			"axisLine":  fields{"show": true, "onZero": false, "lineStyle": fields{"color": figure.InkColor}},
			"axisLabel": fields{"show": side == 1, "customValues": rows.At, "align": "center", "color": figure.InkColor, "fontSize": 13},
			"splitLine": fields{"show": false},
			"splitArea": fields{"show": true, "areaStyle": fields{"color": []string{"rgba(255,255,255,0)", "#F6F5F0"}}}})
	}
	b.layout.Labels = append(b.layout.Labels, rows)
	b.top["xAxis"], b.top["yAxis"] = xs, ys

	var all []figure.Mark
	for side := range 2 {
		b.profilePage(p, side)
		for _, r := range p.Rows {
			all = append(all, r.Marks[side]...)
		}
	}
	b.notes(all, "")
}

func (b *builder) profilePage(p *figure.Profile, side int) {
	geometry := figure.Rows{Profile: p}
	look, group := figure.LookOf(p.Pages[side]), b.figure.Groups[p.Pages[side]].Label
	data := []opts.ScatterData{}
	var points []fields
	arrows, middles := [][]float64{}, [][]float64{}
	for row, r := range p.Rows {
		for i, m := range r.Marks[side] {
			x, y := geometry.Out(m.Value), geometry.Down(row, i)
			data = append(data, point(m.Sample, x, y))
			more := told(group, m.Details)
			more["row"] = r.Label
			if m.Limit || m.Flagged {
				more["itemStyle"] = hollow(look)["itemStyle"]
			}
			points = append(points, more)
			if m.Limit {
				arrows = append(arrows, []float64{round(x), round(y)})
			}
		}
		if mid := r.Middle[side]; !math.IsNaN(mid) {
			middles = append(middles, []float64{round(geometry.Out(mid)), geometry.Middle(row)})
		}
	}
	b.custom(fmt.Sprintf("limits-%d", side), [2]string{"rightwards", "leftwards"}[side], side, arrows, fields{"z": 9, "itemStyle": fields{"color": look.Edge}})
	b.marks(fmt.Sprintf("marks-%d", side), p.Pages[side], side, data, points, 8)
	b.custom(fmt.Sprintf("middles-%d", side), "median", side, middles, fields{"z": 12, "itemStyle": fields{"color": figure.InkColor}})
	b.picked(side)
}
