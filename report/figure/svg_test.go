package figure_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

var update = flag.Bool("update", false, "rewrite the golden files; read the difference before keeping it")

func golden() []figure.Figure {
	return []figure.Figure{
		figuretest.Ternary(4, 3), figuretest.Facing(4, 3), figuretest.Stacked(2, 2), figuretest.Profile(2, 2),
		figuretest.Melted(4, 3), figuretest.Viscosity(3, 2), figuretest.Diagram(5, 3), figuretest.Bands(2), figuretest.Biplot(4, 4), figuretest.Effects(5, 3), figuretest.Methods(5),
	}
}

func TestSVGGolden(t *testing.T) {
	for _, f := range golden() {
		t.Run(f.ID, func(t *testing.T) {
			got := mustSVG(t, f, 140)
			path := filepath.Join("testdata", f.ID+".svg")
			if *update {
				if err := os.WriteFile(path, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); diff != "" {
				t.Errorf("drawing differs from %s (-want +got):\n%s", path, diff)
			}
		})
	}
}

func TestSVGSameBytesTwice(t *testing.T) {
	for _, f := range figuretest.All() {
		if !bytes.Equal(mustSVG(t, f, 140), mustSVG(t, f, 140)) {
			t.Errorf("%s: two drawings differ", f.ID)
		}
	}
}

// The root element must state the printed width, so that a journal prints the
// figure at its size, and keep a viewBox of the same shape.
func TestSVGPrintedSize(t *testing.T) {
	for _, f := range figuretest.All() {
		for _, mm := range []float64{90, 140, 190} { // column widths of common practice
			root := parse(t, mustSVG(t, f, mm)).attrs
			width, err := strconv.ParseFloat(strings.TrimSuffix(root["width"], "mm"), 64)
			if err != nil || math.Abs(width-mm) > 0.01 {
				t.Errorf("%s at %v mm: width is %q", f.ID, mm, root["width"])
			}
			height, err := strconv.ParseFloat(strings.TrimSuffix(root["height"], "mm"), 64)
			if err != nil {
				t.Errorf("%s: height is %q", f.ID, root["height"])
			}
			var x, y, w, h float64
			if _, err := fmt.Sscan(root["viewBox"], &x, &y, &w, &h); err != nil || x != 0 || y != 0 {
				t.Errorf("%s: viewBox is %q", f.ID, root["viewBox"])
			}
			if math.Abs(w/h-width/height) > 1e-3 || math.Abs(w-mm*72/25.4) > 0.01 {
				t.Errorf("%s: viewBox %q does not fit %v × %v mm", f.ID, root["viewBox"], width, height)
			}
			if root["role"] != "img" {
				t.Errorf("%s: role is %q", f.ID, root["role"])
			}
		}
	}
}

// Every point of the description is drawn once, in its group's colours, beside
// the samples of the legend and the heads.
func TestSVGDrawsEveryPoint(t *testing.T) {
	tests := []struct {
		figure figure.Figure
		want   [2]int // marks of both groups
		extra  int    // marks of each group in the legend or over the page
	}{
		{figuretest.Ternary(14, 12), [2]int{14, 12}, 1},
		{figuretest.Facing(14, 12), [2]int{14, 12}, 1},
		{figuretest.Profile(14, 12), [2]int{14 * 12, 12 * 12}, 1},
		{figuretest.Ternary(40, 0), [2]int{40, -1}, 1},
	}
	for _, tt := range tests {
		doc := parse(t, mustSVG(t, tt.figure, 140))
		for g := range 2 {
			edge := figure.LookOf(g).Edge
			n := 0
			for _, style := range doc.pathStyles {
				if strings.HasPrefix(style, "fill:#") && strings.Contains(style, "stroke:"+edge) {
					n++
				}
			}
			if want := tt.want[g] + tt.extra; n != want {
				t.Errorf("%s, group %d: %d marks drawn, want %d", tt.figure.ID, g, n, want)
			}
		}
	}
}

// Every line and window of the description is drawn, in its own look.
func TestSVGDrawsEveryLine(t *testing.T) {
	for _, f := range []figure.Figure{figuretest.Melted(14, 12), figuretest.Viscosity(30, 30), figuretest.Melted(2, 1), figuretest.Melted(1, 0)} {
		styles := parse(t, mustSVG(t, f, 140)).pathStyles
		body := f.Body.(*figure.Curves)
		for _, side := range body.Pages {
			want := map[string]int{}
			for i, n := range side.Strand() {
				want[strokeStyle(figure.CurveStroke(side.Group, n, side.Lines[i].Dashed))]++
			}
			for style, n := range want {
				got := 0
				for _, s := range styles {
					if strings.HasPrefix(s, style) {
						got++
					}
				}
				if got < n { // a key below the page may repeat it
					t.Errorf("%s: %d lines drawn as %q, want %d", f.ID, got, style, n)
				}
			}
		}
	}
	styles := parse(t, mustSVG(t, figuretest.Diagram(14, 12), 140)).pathStyles
	var marks [2]int
	boxes := 0
	for _, s := range styles {
		if strings.Contains(s, "fill-opacity") {
			boxes++
		}
		for g := range 2 {
			if strings.HasPrefix(s, "fill:#") && strings.Contains(s, "stroke:"+figure.LookOf(g).Edge) {
				marks[g]++
			}
		}
	}
	// Beside the samples the window of the group, and the sign in the legend.
	if want := [2]int{14 + 2, 12 + 2}; marks != want || boxes != 2 {
		t.Errorf("%d marks and %d boxes of windows drawn, want %d and 2", marks, boxes, want)
	}
}

func strokeStyle(s figure.Stroke) string {
	style := fmt.Sprintf("fill:none;stroke:%s;stroke-width:%g", s.Color, s.Width)
	if len(s.Dashes) > 0 {
		style += ";stroke-dasharray:" + strings.Trim(strings.Join(strings.Fields(fmt.Sprint(s.Dashes)), ","), "[]")
	}
	return style
}

// In print nothing can be hovered: every sample is named beside its line or in
// the key, and every line and region of a diagram bears its name.
func TestSVGNamesEveryLine(t *testing.T) {
	for _, mm := range []float64{figure.MinWidthMM, 140, 180, 400} {
		for _, f := range []figure.Figure{figuretest.Melted(14, 12), figuretest.Melted(3, 2), figuretest.Viscosity(30, 25)} {
			texts := parse(t, mustSVG(t, f, mm)).texts
			for _, side := range f.Body.(*figure.Curves).Pages {
				for _, line := range side.Lines {
					if !contains(texts, line.Sample) {
						t.Errorf("%s at %v mm: %s is not named", f.ID, mm, line.Sample)
					}
				}
			}
		}
		texts := parse(t, mustSVG(t, figuretest.Diagram(14, 12), mm)).texts
		for _, want := range []string{"Cu–Cu₂O", "magnetite–hematite", "quartz–fayalite–magnetite", "wüstite–magnetite", "iron–wüstite", "metallic iron", "no metallic copper", "−10", "log pO₂ (bar)"} {
			if !contains(texts, want) {
				t.Errorf("diagram at %v mm: no text %q among %q", mm, want, texts)
			}
		}
	}
}

func TestSVGHoldsItsLabels(t *testing.T) {
	text := parse(t, mustSVG(t, figuretest.Facing(14, 12), 140)).texts
	for _, want := range []string{"KR-01", "KR-14", "LS-012", "liquidus temperature (°C)", "+38 ± 17 °C", "reached at the tuyère", "dug (excavated slag)", "1200"} {
		if !contains(text, want) {
			t.Errorf("no text %q among %q", want, text)
		}
	}
	text = parse(t, mustSVG(t, figuretest.Profile(14, 12), 140)).texts
	for _, want := range []string{"SiO₂", "P₂O₅", "0.01", "content (wt%)"} {
		if !contains(text, want) {
			t.Errorf("no text %q among %q", want, text)
		}
	}
}

// Text from spreadsheets must stay text whatever it holds.
var hostile = []string{
	`</script><script>alert(1)</script>`,
	`__f__alert(1)__f__`,
	`<img src=x onerror=alert(1)>`,
	`</text></svg><svg onload="alert(1)">`,
	`" d="M0,0" x="1`,
	"a\x00b\x0b\xff\ufffe c\nd",
	`]]>&amp;<!--`,
	`{a}{b}{c}`,
}

func TestSVGHostileText(t *testing.T) {
	for _, s := range hostile {
		for _, f := range figuretest.Hostile(s) {
			doc := parse(t, mustSVG(t, f, 190))
			for name := range doc.elements {
				if !contains([]string{"svg", "title", "desc", "g", "path", "circle", "text"}, name) {
					t.Errorf("%s with %q: there is an element %q", f.ID, s, name)
				}
			}
		}
	}
}

func FuzzSVGText(f *testing.F) {
	for _, s := range hostile {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		parse(t, mustSVG(t, figuretest.Hostile(s)[1], 140))
	})
}

// Setting subscripts must lose nothing: the digits come back.
func FuzzFormula(f *testing.F) {
	for _, s := range append(hostile, "Fe2O3", "FeO + Al2O3 (wt%)", "Ca(OH)2", "CaO·SiO2") {
		f.Add(s)
	}
	back := strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9")
	f.Fuzz(func(t *testing.T, s string) {
		if got := back.Replace(figure.Formula(s)); got != back.Replace(s) {
			t.Errorf("Formula(%q) loses text: %q", s, got)
		}
	})
}

var scientific = regexp.MustCompile(`="[^"]*[0-9]e[-+]?[0-9][^"]*"|NaN|Inf|\.[0-9]{3}`)

func TestSVGNumbersAreShort(t *testing.T) {
	for _, f := range figuretest.All() {
		if bad := scientific.Find(mustSVG(t, f, 140)); bad != nil {
			t.Errorf("%s holds %q", f.ID, bad)
		}
	}
}

func TestSVGWidthOutOfRange(t *testing.T) {
	for _, mm := range []float64{0, -5, 10, 5000, math.NaN(), math.Inf(1)} {
		if _, err := figuretest.Ternary(1, 1).SVG(mm); err == nil {
			t.Errorf("a width of %v mm was accepted", mm)
		}
	}
}

func BenchmarkSVG(b *testing.B) {
	for _, f := range []figure.Figure{figuretest.Ternary(200, 100), figuretest.Profile(14, 12), figuretest.Melted(30, 30), figuretest.Diagram(30, 30)} {
		b.Run(f.ID, func(b *testing.B) {
			for b.Loop() {
				if _, err := f.SVG(140); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	// The anchor: writing the same number of plain circles as text.
	b.Run("anchor-300-circles", func(b *testing.B) {
		for b.Loop() {
			var out bytes.Buffer
			for i := range 300 {
				fmt.Fprintf(&out, "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"2.7\"/>\n", float64(i)*1.3, float64(i)*0.7)
			}
		}
	})
}

type document struct {
	attrs      map[string]string // of the root
	elements   map[string]int
	pathStyles []string // of paths and circles
	texts      []string
}

// parse reads an SVG strictly as XML.
func parse(t *testing.T, svg []byte) document {
	t.Helper()
	doc := document{attrs: map[string]string{}, elements: map[string]int{}}
	d := xml.NewDecoder(bytes.NewReader(svg))
	inText := false
	var styles []string // of the elements that are open
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%.600s", err, svg)
		}
		switch token := token.(type) {
		case xml.StartElement:
			style := ""
			for _, a := range token.Attr {
				if len(doc.elements) == 0 {
					doc.attrs[a.Name.Local] = a.Value
				}
				if a.Name.Local == "style" {
					style = a.Value
				}
			}
			if name := token.Name.Local; name == "path" || name == "circle" {
				if style == "" {
					style = styles[len(styles)-1] // that of the group
				}
				doc.pathStyles = append(doc.pathStyles, style)
			}
			styles = append(styles, style)
			doc.elements[token.Name.Local]++
			inText = token.Name.Local == "text"
		case xml.EndElement:
			inText = false
			styles = styles[:len(styles)-1]
		case xml.CharData:
			if inText {
				doc.texts = append(doc.texts, string(token))
			}
		}
	}
	return doc
}

func mustSVG(t *testing.T, f figure.Figure, mm float64) []byte {
	t.Helper()
	svg, err := f.SVG(mm)
	if err != nil {
		t.Fatal(err)
	}
	return svg
}

func contains(all []string, want string) bool {
	for _, s := range all {
		if s == want {
			return true
		}
	}
	return false
}
