package chart

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"golang.org/x/net/html"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

var update = flag.Bool("update", false, "rewrite the golden files; read the difference before keeping it")

func mustOption(t testing.TB, f figure.Figure) Chart {
	t.Helper()
	c, err := Option(f)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func mustJSON(t testing.TB, f figure.Figure) []byte {
	t.Helper()
	b, err := mustOption(t, f).JSON()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestOptionGolden(t *testing.T) {
	for _, f := range []figure.Figure{
		figuretest.Ternary(2, 1), figuretest.Facing(3, 3), figuretest.Stacked(2, 1), figuretest.Profile(2, 2),
		figuretest.Melted(3, 2), figuretest.Diagram(4, 3), figuretest.Bands(1), figuretest.Biplot(4, 3), figuretest.Effects(4, 3), figuretest.Methods(4),
	} {
		t.Run(f.ID, func(t *testing.T) {
			var got bytes.Buffer
			if err := json.Indent(&got, mustJSON(t, f), "", " "); err != nil {
				t.Fatal(err)
			}
			text := compact(got.String())
			path := filepath.Join("testdata", f.ID+".json")
			if *update {
				if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(text, "\n")); diff != "" {
				t.Errorf("option differs from %s (-want +got):\n%s", path, diff)
			}
		})
	}
}

var innerArray = regexp.MustCompile(`\[\s+([^\[\]{}]*?)\s+\]`)

// compact puts arrays of plain values on one line, for readable golden files.
func compact(s string) string {
	return innerArray.ReplaceAllStringFunc(s, func(a string) string {
		return strings.Join(strings.Fields(a), " ")
	}) + "\n"
}

func TestOptionSameBytesTwice(t *testing.T) {
	for _, f := range figuretest.All() {
		if !bytes.Equal(mustJSON(t, f), mustJSON(t, f)) {
			t.Errorf("%s: two options differ", f.ID)
		}
	}
}

// series is what the tests read of an option.
type series struct {
	ID        string          `json:"id"`
	Type      string          `json:"type"`
	Name      string          `json:"name"`
	Pick      bool            `json:"pick"`
	Draw      string          `json:"draw"`
	Animation *bool           `json:"animation"`
	Data      json.RawMessage `json:"data"`
}

func seriesOf(t *testing.T, c Chart) map[string]series {
	t.Helper()
	var option struct {
		Animation *bool    `json:"animation"`
		Series    []series `json:"series"`
	}
	if err := json.Unmarshal(c.Option, &option); err != nil {
		t.Fatal(err)
	}
	if option.Animation == nil || *option.Animation {
		t.Errorf("%s: animation is not off", c.ID)
	}
	out := map[string]series{}
	for _, s := range option.Series {
		if s.ID == "" {
			t.Errorf("%s: a series of type %s has no id", c.ID, s.Type)
		}
		if _, twice := out[s.ID]; twice {
			t.Errorf("%s: two series %q", c.ID, s.ID)
		}
		out[s.ID] = s
	}
	return out
}

func count(t *testing.T, s series) int {
	t.Helper()
	var data []json.RawMessage
	if err := json.Unmarshal(s.Data, &data); err != nil {
		t.Fatalf("series %q: %v", s.ID, err)
	}
	return len(data)
}

// Every point of the description must be in the chart, as in the still
// drawing (see the same test of package figure).
func TestOptionHoldsEveryPoint(t *testing.T) {
	tests := []struct {
		figure figure.Figure
		want   map[string]int
	}{
		{figuretest.Ternary(14, 12), map[string]int{"marks-0": 14, "marks-1": 12, "corners": 3, "ticks": 12, "fields": 7}},
		{figuretest.Facing(14, 12), map[string]int{"marks-0": 14, "marks-1": 12, "bars-0": 13, "bars-1": 10, "limits-0": 0, "limits-1": 1}},
		{figuretest.Stacked(14, 12), map[string]int{"marks-0": 14, "marks-1": 12, "part-0-0": 14, "part-3-1": 12, "bars-0": 14}},
		{figuretest.Profile(14, 12), map[string]int{"marks-0": 14 * 12, "marks-1": 12 * 12, "middles-0": 12, "limits-0": 4, "limits-1": 3}},
		{figuretest.Melted(14, 12), map[string]int{"curves-0": 15, "curves-1": 13, "names-0": 14, "names-1": 12}}, // a sample in two parts on either page
		{figuretest.Viscosity(30, 0), map[string]int{"curves-0": 30, "curves-1": 0}},
		{figuretest.Diagram(14, 12), map[string]int{"lines": 5, "line-names": 5, "regions": 2, "windows-0": 15, "marks-0": 15, "windows-1": 13, "marks-1": 13}},
		{figuretest.Bands(5), map[string]int{"bands": 30, "bars": 5}},
		{figuretest.Biplot(5, 4), map[string]int{"lines": 7, "spots-0": 5, "spots-1": 4}},
		{figuretest.Methods(9), map[string]int{"lines": 2, "line-names": 2, "regions": 1, "spots-0": 9, "spot-bars-0": 3*16 - 1}}, // two ends and a break for each bar
		{figuretest.Effects(5, 2), map[string]int{"marks-0": 5, "spans-0": 5, "marks-1": 4, "spans-1": 4}},
		{figuretest.Facing(1, 0), map[string]int{"marks-0": 1, "marks-1": 0}},
	}
	for _, tt := range tests {
		all := seriesOf(t, mustOption(t, tt.figure))
		for id, want := range tt.want {
			s, ok := all[id]
			if !ok {
				t.Errorf("%s: no series %q", tt.figure.ID, id)
				continue
			}
			if got := count(t, s); got != want {
				t.Errorf("%s: series %q holds %d, want %d", tt.figure.ID, id, got, want)
			}
		}
	}
}

// The chart places points where the geometry of the printed figure does.
func TestOptionSharesTheGeometry(t *testing.T) {
	f := figuretest.Ternary(5, 4)
	var data []struct {
		Name  string     `json:"name"`
		Value [2]float64 `json:"value"`
	}
	if err := json.Unmarshal(seriesOf(t, mustOption(t, f))["marks-0"].Data, &data); err != nil {
		t.Fatal(err)
	}
	for i, d := range data {
		p := f.Body.(*figure.Ternary).Points[i]
		x, y := figure.Triangle{}.Place(p.At)
		if d.Name != p.Sample || math.Hypot(d.Value[0]-x, d.Value[1]-y) > 1e-4 { // charts round to that
			t.Errorf("%s stands at %v in the chart, want %v, %v", d.Name, d.Value, x, y)
		}
	}
}

// Curves and windows stand where the geometry of the printed figure has them.
func TestOptionSharesTheGeometryOfLines(t *testing.T) {
	f := figuretest.Melted(4, 3)
	body := f.Body.(*figure.Curves)
	all := seriesOf(t, mustOption(t, f))
	for page, side := range body.Pages {
		var data []struct {
			Name  string
			Parts [][][2]float64
		}
		if err := json.Unmarshal(all[fmt.Sprintf("curves-%d", page)].Data, &data); err != nil {
			t.Fatal(err)
		}
		for i, d := range data {
			want := body.Frame().Clip(side.Lines[i].X, side.Lines[i].Y)
			if diff := cmp.Diff(want, d.Parts, cmpopts.EquateApprox(0, 1e-4)); d.Name != side.Lines[i].Sample || diff != "" {
				t.Errorf("line %d of page %d is %s (-want +got):\n%s", i, page, d.Name, diff)
			}
		}
	}

	f = figuretest.Diagram(4, 0)
	windows := f.Body.(*figure.Diagram).Windows()
	var bars []struct {
		Name   string
		Window [6]float64
	}
	if err := json.Unmarshal(seriesOf(t, mustOption(t, f))["windows-0"].Data, &bars); err != nil {
		t.Fatal(err)
	}
	for i, w := range windows {
		want := [6]float64{w.X, w.Lo, w.Hi, w.Left, w.Right, w.At}
		if diff := cmp.Diff(want, bars[i].Window, cmpopts.EquateApprox(0, 1e-4)); diff != "" {
			t.Errorf("window %d (-want +got):\n%s", i, diff)
		}
	}
}

var hostile = []string{
	`</script><script>alert(1)</script>`,
	`__f__alert(1)__f__`,
	`<img src=x onerror=alert(1)>`,
	`<!--<script>`,
	"\u2028\u2029\x00\xff",
	`{a}{b}{c}`,
}

// Names from spreadsheets must not end the script element, and must come back
// from it unchanged.
func TestOptionHostileText(t *testing.T) {
	for _, s := range hostile {
		for _, f := range figuretest.Hostile(s) {
			text := mustJSON(t, f)
			if bytes.ContainsAny(text, "<>&") || bytes.Contains(text, []byte("\u2028")) {
				t.Errorf("%s with %q: the JSON holds characters of markup", f.ID, s)
			}
			page := fmt.Sprintf(`<script type="application/json" data-chart="%s">%s</script>`, f.ID, text)
			z := html.NewTokenizer(strings.NewReader(page))
			var tags []string
			var body []byte
			for z.Next() != html.ErrorToken {
				token := z.Token()
				if token.Type == html.TextToken {
					body = append(body, token.Data...)
				} else {
					tags = append(tags, token.Type.String()+" "+token.Data)
				}
			}
			if diff := cmp.Diff([]string{"StartTag script", "EndTag script"}, tags); diff != "" {
				t.Errorf("%s with %q: elements (-want +got):\n%s", f.ID, s, diff)
			}
			var c Chart
			if err := json.Unmarshal(body, &c); err != nil {
				t.Fatalf("%s with %q: %v", f.ID, s, err)
			}
			var data []struct{ Name string }
			all := seriesOf(t, c)
			points := all["marks-0"]
			for _, other := range []string{"curves-0", "bands", "spots-0"} {
				if points.ID == "" {
					points = all[other]
				}
			}
			if err := json.Unmarshal(points.Data, &data); err != nil {
				t.Fatal(err)
			}
			if want := strings.ToValidUTF8(s, "\ufffd"); len(data) == 0 || data[0].Name != want {
				t.Errorf("%s: name %q came back as %+v", f.ID, want, data)
			}
		}
	}
}

// The option is plain data: nothing in it is a function for the library.
func TestOptionHoldsNoFunction(t *testing.T) {
	for _, f := range figuretest.All() {
		if bad := regexp.MustCompile(`__f__|function|=\\u003e|renderItem`).Find(mustJSON(t, f)); bad != nil {
			t.Errorf("%s holds %q", f.ID, bad)
		}
	}
}

// Every renderer that an option names must be in the page script.
func TestRenderersExist(t *testing.T) {
	for _, f := range figuretest.All() {
		for _, s := range seriesOf(t, mustOption(t, f)) {
			if s.Type == "custom" && !strings.Contains(PageScript(), fmt.Sprintf("[%q, ", s.Draw)) {
				t.Errorf("%s: series %q asks for the renderer %q", f.ID, s.ID, s.Draw)
			}
		}
	}
}

func TestOptionRefusesWhatCannotBeDrawn(t *testing.T) {
	f := figuretest.Facing(2, 2)
	f.Body.(*figure.Facing).Pages[0].Marks[1].Value = math.NaN()
	if _, err := Option(f); err == nil || !strings.Contains(err.Error(), "KR-02") {
		t.Errorf("error %v, want one that names the sample", err)
	}
	if _, err := Option(figure.Figure{ID: "a"}); err == nil {
		t.Error("a figure without a body gave no error")
	}
}

func BenchmarkOption(b *testing.B) {
	f := figuretest.Ternary(200, 100)
	b.Run("ternary-300", func(b *testing.B) {
		for b.Loop() {
			if _, err := Option(f); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("anchor-marshal", func(b *testing.B) { // the anchor: the description itself as JSON
		for b.Loop() {
			if _, err := json.Marshal(f.Body); err != nil {
				b.Fatal(err)
			}
		}
	})
}
