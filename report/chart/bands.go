package chart

import (
	"github.com/go-echarts/go-echarts/v2/charts"

	"smeltbook/report/figure"
)

func (b *builder) bands(f *figure.Bands) {
	rows, tall := f.Layout()
	b.layout.Kind, b.layout.Tall = "bands", tall
	b.top["grid"] = []fields{{"left": 60, "top": 8, "right": 120, "bottom": 20}}
	b.top["xAxis"] = []fields{plainAxis(0, 0, 1)}
	y := plainAxis(0, 0, tall)
	y["inverse"] = true
	b.top["yAxis"] = []fields{y}
	bands, bars := []fields{}, [][]float64{}
	for i, r := range f.Rows {
		l := rows[i]
		b.layout.Bands = append(b.layout.Bands, BandName{At: round((l.Top + l.Bottom) / 2), Text: r.Name, Sub: r.Total, Left: true})
		bars = append(bars, []float64{0, round(l.Top), round(l.Bottom)})
		for k, part := range r.Parts {
			place := l.Bands[k]
			b.layout.Bands = append(b.layout.Bands, BandName{At: round(place.Label), Text: part.Label})
			var corners [][2]float64
			for _, q := range place.Outline() {
				corners = append(corners, pair(q[0], q[1]))
			}
			datum := told(r.Name, part.Details)
			datum["name"], datum["fixed"] = f.Places[part.Place], true
			datum["value"], datum["corners"] = corners[0], corners
			datum["fill"], datum["end"] = figure.BandFill(part.Place), figure.PartLookOf(part.Place).Fill
			bands = append(bands, datum)
		}
	}
	b.add(charts.SingleSeries{Type: "custom", Data: bands}, "bands", fields{"draw": "band", "z": 3, "clip": false}, nil)
	b.custom("bars", "bar", 0, bars, fields{"z": 4, "clip": false, "itemStyle": fields{"color": figure.InkColor}})
}
