package page

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"smeltbook/assay/source"
)

// The sample is invented: no furnace was fired and no slag was dug for it.

// sampleDocument returns a report with every kind of block and part.
func sampleDocument() Document {
	return Document{
		Title: "Orrin Vale, second season", Subtitle: "Did the bowl furnaces run as hot as the old ones?",
		Authors: []string{"A. Reeve", "T. Marsh"}, Date: "14 August 2026", Site: "Kettle Rigg and Low Sallow",
		Blocks: []Block{
			&Prose{
				HTML: template.HTML(`<h2 id="s-what-we-asked">What we asked</h2>
<p>The excavated slag from Low Sallow is dense, dark and full of flow lines; ours from Kettle Rigg is paler and holds charcoal. Before we argue from the look of it we put the analyses side by side. The replica slags melt at <span class="value">1172 ± 18 °C</span>, the excavated ones at <span class="value">1148 ± 12 °C</span>.<sup id="fnref:1"><a href="#fn:1" class="footnote-ref" role="doc-noteref">1</a></sup></p>
<p>All analyses are stated on one basis: <em>normalised</em>, without ignition loss, iron as FeO in slag and as Fe<sub>2</sub>O<sub>3</sub> in ore and lining.</p>
<h2 id="s-side-by-side">Side by side</h2>
<p>The spread below is the whole argument in one opening. Where the difference in the gutter is smaller than twice its uncertainty, we say nothing.</p>
`),
				Headings: []Heading{{2, "s-what-we-asked", "What we asked"}, {2, "s-side-by-side", "Side by side"}},
			},
			&Entry{Number: 1, Kind: "spread", Title: "Slag from both sites, facing",
				Margin: []string{"lab/xrf.xlsx, sheets “Slag 2025” and “Low Sallow”", "Pressed pellets; uncertainty from six duplicates.", "8 fired, 11 dug"},
				Parts:  []Part{sampleSpread()}},
			&Entry{Number: 2, Kind: "melting", Title: "How hot it had to be",
				Margin: []string{"Liquidus from the melt model; bars are one standard uncertainty, analysis and model together.", "2000 draws, seed 20260814"},
				Parts: []Part{
					&Text{Paragraphs: [][]Run{
						{{Text: "Both groups were "}, {Text: "fully molten", Style: Emphasis}, {Text: " below 1200 °C, a temperature that firing KR-05 held for forty minutes."}},
					}},
					&Figure{Number: 1, ID: "melting-facing", Layout: Facing, Caption: "Liquidus temperature of every slag, replica left and excavated right, on one scale. The hollow sign lies outside the range in which the model was tested.",
						Alt: "Two facing pages of points: fired slags between 1140 and 1205 °C, dug slags between 1125 and 1170 °C.", SVG: facingSVG(), ChartJSON: []byte(`{"note": "</script><b>", "series": [1172, 1148]}`)},
					&Notices{List: source.Notices{
						{Severity: source.Warning, Code: "OUT_OF_RANGE", Message: "KR-07 has 9.1 wt% MgO; the model was tested up to 6 wt%.", At: source.Cell{File: "lab/xrf.xlsx", Sheet: "Slag 2025", Ref: "H9"}},
						{Severity: source.Note, Code: "LIMIT", Message: "three values below detection were drawn between zero and their limit."},
					}},
				}},
			&Prose{
				HTML: template.HTML(`<h2 id="s-where-they-plot">Where they plot</h2>
<p>On the triangle the two groups overlap, with the replicas reaching towards silica: lining went into the melt.</p>
<blockquote><p>“Runs like treacle, then sets all at once.” — field book, firing 5</p></blockquote>
<h3 id="s-reading-the-triangle">Reading the triangle</h3>
<div class="scroll" tabindex="0" role="region" aria-label="table"><table class="prose"><thead><tr><th scope="col">corner</th><th scope="col">what is counted</th></tr></thead><tbody><tr><td>FeO</td><td>FeO + MnO</td></tr><tr><td>SiO₂</td><td>SiO₂ + TiO₂</td></tr><tr><td>CaO</td><td>CaO + MgO + alkalis</td></tr></tbody></table></div>
`),
				Headings: []Heading{{2, "s-where-they-plot", "Where they plot"}, {3, "s-reading-the-triangle", "Reading the triangle"}},
			},
			&Entry{Number: 3, Kind: "ternary", Title: "The slags between iron, silica and lime",
				Margin: []string{"Shares of the three corners, renormalised.", "Isotherms every 50 °C"},
				Parts: []Part{&Figure{Number: 2, ID: "ternary-slags", Caption: "Fired (▲) and dug (○) slags in the triangle of FeO, SiO₂ and CaO, with lines of equal liquidus temperature.",
					Alt: "A triangle with two overlapping clouds of points near its lower left side.", SVG: ternarySVG()}}},
			&Entry{Number: 4, Kind: "indices", Title: "Basicity and its kin",
				Margin: []string{"Every index from the composition of entry 1."},
				Parts:  []Part{sampleTable()}},
			&Entry{Number: 5, Kind: "data", Title: "Every cell behind this report",
				Margin: []string{"As the laboratory sent it; nothing converted."},
				Parts:  []Part{sampleLong()}},
			&Prose{HTML: template.HTML(`<div class="footnotes" role="doc-endnotes"><hr><ol><li id="fn:1"><p>Medians, with the melt model's own error.&#160;<a href="#fnref:1" class="footnote-backref" role="doc-backlink">↩︎</a></p></li></ol></div>`)},
			&Entry{Number: 6, Kind: "methods", Parts: []Part{&Text{Paragraphs: [][]Run{
				{{Text: "Analyses were made comparable by one recipe. Uncertainties follow "}, {Text: "JCGM 101:2008", Link: "https://www.bipm.org/en/committees/jc/jcgm/publications"}, {Text: "; the table can be had with "}, {Text: "smeltbook table", Style: Code}, {Text: "."}},
			}}}},
		},
		Colophon: Colophon{Version: "0.1.0", Seed: 20260814, Draws: 2000,
			Files: []File{
				{"lab/xrf.xlsx", strings.Repeat("9f86d081884c7d65", 4), 48213},
				{"lab/wet-chemistry.xlsx", strings.Repeat("60303ae22b998861", 4), 9120},
				{"field/samples.xlsx", strings.Repeat("fd61a03af4f77d87", 4), 1_204_311},
			},
			Notices: source.Notices{{Severity: source.Note, Code: "UNIT_FROM_HEAD", Message: "the unit wt% was taken from the heading.", At: source.Cell{File: "lab/xrf.xlsx", Sheet: "Slag 2025", Ref: "C4"}}},
		},
	}
}

func num(format string, x float64) Cell {
	return Cell{Text: strings.ReplaceAll(fmt.Sprintf(format, x), "-", "−"), Sort: &x}
}

func sampleSpread() *Spread {
	s := &Spread{Number: 1, Caption: "Composition of the slags and what follows from it. Values are group means with their standard deviation; the gutter holds dug minus fired with its standard uncertainty.",
		Left: Leaf{"fired", "experimental slag, Kettle Rigg, 8 samples"}, Right: Leaf{"dug", "excavated slag, Low Sallow, 11 samples"},
		Columns: []Column{{Head: "mean ± sd", Numeric: true}, {Head: "range", Numeric: true}, {Head: "n", Numeric: true}},
		Gutter:  Column{Head: "dug − fired"},
		Notes:   []string{"A difference in bold type is larger than twice its uncertainty."},
	}
	for _, r := range []struct {
		name, unit     string
		f, fs, d, ds   float64
		places, fn, dn int
	}{
		{"SiO₂", "wt%", 34.1, 2.9, 30.2, 1.8, 1, 8, 11},
		{"FeO", "wt%", 44.6, 4.1, 50.8, 2.6, 1, 8, 11},
		{"Al₂O₃", "wt%", 7.9, 1.1, 6.1, .7, 1, 8, 11},
		{"CaO", "wt%", 5.2, 1.4, 5.9, 1.2, 1, 8, 11},
		{"MgO", "wt%", 2.1, .9, 1.6, .3, 1, 8, 11},
		{"K₂O", "wt%", 1.62, .21, 1.18, .14, 2, 8, 11},
		{"P₂O₅", "wt%", .31, .08, .47, .11, 2, 7, 11},
		{"Cu", "wt%", 2.4, 1.1, .86, .33, 2, 8, 10},
		{"liquidus", "°C", 1172, 21, 1148, 14, 0, 8, 11},
		{"basicity", "", .78, .12, 1.02, .09, 2, 8, 11},
	} {
		f := func(x float64) string { return fmt.Sprintf("%.*f", r.places, x) }
		cells := func(m, sd float64, n int, from string) []Cell {
			return []Cell{
				{Text: f(m) + " ± " + f(sd), Note: from},
				{Text: f(m-1.6*sd) + "–" + f(m+1.5*sd)},
				{Text: fmt.Sprint(n)},
			}
		}
		row := SpreadRow{Name: r.name, Unit: r.unit,
			Left:  cells(r.f, r.fs, r.fn, "lab/xrf.xlsx, sheet “Slag 2025”, cells C6:C13"),
			Right: cells(r.d, r.ds, r.dn, "lab/xrf.xlsx, sheet “Low Sallow”, cells C5:C15"),
		}
		u := math.Hypot(r.fs/math.Sqrt(float64(r.fn)), r.ds/math.Sqrt(float64(r.dn)))
		sign := "+"
		if r.d < r.f {
			sign = "−"
		}
		row.Difference = Cell{Text: sign + f(math.Abs(r.d-r.f)) + " ± " + f(u), Note: "difference of the means; Welch's standard error"}
		if math.Abs(r.d-r.f) > 2*u {
			row.Difference.Class = Clear
		}
		if r.name == "P₂O₅" {
			row.Left[1] = Cell{Text: "< 0.05–0.44", Class: Censored}
		}
		if r.name == "MgO" {
			row.Left[1].Class = OutOfRange
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

func sampleTable() *Table {
	t := &Table{Number: 2, Caption: "Indices of every slag.", Sortable: true, Filterable: true,
		Columns: []Column{{Head: "Sample"}, {Head: "Basicity", Sub: "CaO + MgO : SiO₂", Numeric: true}, {Head: "Silicate degree", Numeric: true}, {Head: "NBO/T", Numeric: true}, {Head: "Optical basicity", Numeric: true}},
		Groups:  []ColumnGroup{{"", 1, NoSide}, {"by weight", 2, NoSide}, {"by moles", 2, NoSide}},
		Notes:   []string{"NBO/T counts all iron as network modifier."},
	}
	for i := range 8 {
		x := float64(i)
		row := Row{Sample: fmt.Sprintf("KR-%02d", i+1), Side: Fired, Cells: []Cell{{Text: fmt.Sprintf("KR-%02d", i+1)}, num("%.2f", .66+x*.031), num("%.2f", 1.41-x*.04), num("%.2f", 2.6+.11*x), num("%.3f", .61+.004*x)}}
		if i >= 4 {
			row = Row{Sample: fmt.Sprintf("LS-%02d", i-3), Side: Dug, Cells: []Cell{{Text: fmt.Sprintf("LS-%02d", i-3)}, num("%.2f", .95+x*.021), num("%.2f", 1.21-x*.03), num("%.2f", 2.9+.07*x), num("%.3f", .64+.003*x)}}
		}
		row.Cells[1].Note = fmt.Sprintf("from CaO (E%d), MgO (D%d) and SiO₂ (C%d) of lab/xrf.xlsx", i+6, i+6, i+6)
		t.Rows = append(t.Rows, row)
	}
	t.Rows[6].Cells[4].Class = OutOfRange
	t.Rows[2].Cells[3].Class = Flagged
	return t
}

func sampleLong() *Table {
	t := &Table{Number: 3, Caption: "Input cells.", Sortable: true, Filterable: true, Long: true,
		Columns: []Column{{Head: "Sample"}, {Head: "Part"}, {Head: "As read"}, {Head: "Value", Unit: "wt%", Numeric: true}, {Head: "u", Unit: "wt%", Numeric: true}, {Head: "Method"}, {Head: "Cell"}}}
	for i := range 60 {
		oxide := []string{"SiO₂", "FeOT", "Al₂O₃", "CaO", "MgO", "P₂O₅"}[i%6]
		value := []float64{33.2, 45.1, 7.4, 5.5, 1.9, .3}[i%6] + float64(i/6)*.17
		row := Row{Sample: fmt.Sprintf("KR-%02d", i/6+1), Side: Fired, Cells: []Cell{
			{Text: fmt.Sprintf("KR-%02d", i/6+1)}, {Text: oxide}, {Text: fmt.Sprintf("%.2f", value)}, num("%.2f", value), num("%.2f", value*.02), {Text: "XRF"},
			{Text: fmt.Sprintf("lab/xrf.xlsx, “Slag 2025”, %c%d", 'C'+i%6, 6+i/6)},
		}}
		if i%17 == 5 {
			row.Cells[2] = Cell{Text: "<0.05"}
			row.Cells[3] = Cell{Text: "< 0.05", Class: Censored}
			row.Cells[4] = Cell{Text: "–", Class: Absent}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// facingSVG draws two pages of points with error bars on one scale.
func facingSVG() []byte {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?>` + "\n" + `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 860 330" font-family="serif" font-size="12" fill="#26221c"><defs><clipPath id="page"><rect x="0" y="0" width="860" height="330"/></clipPath></defs><g clip-path="url(#page)">`)
	y := func(t float64) float64 { return 290 - (t-1100)*2 }
	for t := 1100.0; t <= 1220; t += 20 {
		fmt.Fprintf(&b, `<path d="M60 %[1]g H405 M455 %[1]g H800" stroke="#e3dac6"/><text x="52" y="%[2]g" text-anchor="end">%[3]g</text><text x="808" y="%[2]g">%[3]g</text>`, y(t), y(t)+4, t)
	}
	b.WriteString(`<text x="60" y="22" fill="#a44600" font-size="14">▲ fired</text><text x="800" y="22" fill="#005b8f" font-size="14" text-anchor="end">dug ○</text><text x="430" y="318" text-anchor="middle" font-style="italic">liquidus, °C</text>`)
	for i, t := range []float64{1158, 1166, 1172, 1149, 1181, 1190, 1203, 1171} {
		x := 90 + float64(i)*42
		fill := "#d55e00"
		if i == 6 {
			fill = "#fff"
		}
		fmt.Fprintf(&b, `<path d="M%[1]g %[2]g V%[3]g" stroke="#d55e00"/><path d="M%[1]g %[4]g l6 11 h-12z" fill="%[5]s" stroke="#d55e00"/><text x="%[1]g" y="306" text-anchor="middle" font-size="9.5">KR-%02[6]d</text>`, x, y(t)-26, y(t)+26, y(t)-7, fill, i+1)
	}
	for i, t := range []float64{1141, 1152, 1148, 1129, 1163, 1155, 1146, 1138, 1150} {
		x := 478 + float64(i)*38
		fmt.Fprintf(&b, `<path d="M%[1]g %[2]g V%[3]g" stroke="#0072b2"/><circle cx="%[1]g" cy="%[4]g" r="5.5" fill="#fff" stroke="#0072b2" stroke-width="1.8"/><text x="%[1]g" y="306" text-anchor="middle" font-size="9.5">LS-%02[5]d</text>`, x, y(t)-20, y(t)+20, y(t), i+1)
	}
	b.WriteString(`</g></svg>`)
	return []byte(b.String())
}

// ternarySVG draws a triangle with two clouds of points.
func ternarySVG() []byte {
	var b strings.Builder
	b.WriteString(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 560 500" font-family="serif" font-size="13" fill="#26221c"><path d="M60 450 L500 450 L280 69 Z" fill="none" stroke="#26221c" stroke-width="1.3"/><text x="50" y="472">FeO</text><text x="280" y="58" text-anchor="middle">SiO₂</text><text x="490" y="472">CaO</text>`)
	for i := 1; i < 10; i++ {
		f := float64(i) / 10
		fmt.Fprintf(&b, `<path d="M%.1f %.1f H%.1f M%.1f 450 L%.1f %.1f M%.1f 450 L%.1f %.1f" stroke="#e3dac6"/>`,
			60+220*f, 450-381*f, 500-220*f, 60+440*f, 280+220*f, 69+381*f, 60+440*f, 60+220*f, 450-381*f)
	}
	for i := range 5 {
		f := float64(i)
		fmt.Fprintf(&b, `<path d="M%.1f %.1f Q%.1f %.1f %.1f %.1f" fill="none" stroke="#9a8c72" stroke-dasharray="5 3"/>`, 110+10*f, 363-14*f, 250+14*f, 390-30*f, 330+14*f, 450-2*f)
	}
	for i := range 8 {
		x, y := 178+9*float64(i)+float64(i*i%5)*3, 312-8*float64(i)+float64(i*i%7)*5
		fmt.Fprintf(&b, `<path d="M%.1f %.1f l6 11 h-12z" fill="#d55e00"/>`, x, y)
	}
	for i := range 11 {
		x, y := 152+6*float64(i)+float64(i*i%5)*4, 352-5*float64(i)+float64(i*i%7)*6
		fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="5" fill="none" stroke="#0072b2" stroke-width="1.8"/>`, x, y)
	}
	b.WriteString(`</svg>`)
	return []byte(b.String())
}
