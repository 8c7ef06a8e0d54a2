package chart

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
	"smeltbook/report/internal/browsertest"
)

// inWindow gives the place in the window of a point of a chart, in fractions of
// its frame.
func inWindow(t *testing.T, id, point string) string {
	t.Helper()
	return fmt.Sprintf(`(d => {
		const c = echarts.getInstanceByDom(d), all = c.getOption().series;
		const series = id => all.find(s => s.id === id);
		d.scrollIntoView({block: "center"});
		const at = c.convertToPixel({gridIndex: 0}, %s), box = d.getBoundingClientRect();
		return [box.left + at[0], box.top + at[1]];
	})(document.querySelector('[data-for="%s"]'))`, point, id)
}

// Pointing at a line tells its sample; a click makes it thick in every chart.
func TestPickingALine(t *testing.T) {
	ctx := open(t, 900, figuretest.Melted(4, 4), figuretest.Viscosity(4, 4), figuretest.Diagram(4, 4))
	at := browsertest.Evaluate[[]float64](t, ctx, inWindow(t, "viscosity", `(p => p[Math.floor(p.length / 2)])(series("curves-0").data[1].parts[0])`))
	// The widest line of a chart, white grounds left out.
	widest := `Array.from(document.querySelectorAll(".live"), d => Math.max(...Array.from(d.querySelectorAll("svg path[stroke]"),
		p => ["#fff", "#000", "none"].includes(p.getAttribute("stroke")) ? 0 : parseFloat(p.getAttribute("stroke-width") || 1))) > 3).join(" ")`
	rings := `Array.from(document.querySelectorAll(".live"), d => echarts.getInstanceByDom(d).getOption().series
		.filter(s => s.id.startsWith("picked")).reduce((n, s) => n + s.data.length, 0)).join(" ")`
	tip := `document.querySelector('[data-for="viscosity"] > div:last-child').textContent`

	if err := chromedp.Do(ctx, chromedp.MouseEvent(chromedp.MouseMoved, at[0], at[1]), chromedp.Sleep(200*time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	if got := browsertest.Evaluate[string](t, ctx, tip); got != "KR-02fired (experimental slag)" {
		t.Errorf("the line is told as %q", got)
	}
	if got := browsertest.Evaluate[string](t, ctx, widest); got != "false false false" {
		t.Errorf("before a pick the lines are thick: %s", got)
	}
	for _, want := range []struct{ thick, rings string }{{"true true false", "1 1 1"}, {"false false false", "0 0 0"}} {
		if err := chromedp.Do(ctx, chromedp.MouseClickXY(at[0], at[1]), chromedp.MouseEvent(chromedp.MouseMoved, 1, 1), chromedp.Sleep(100*time.Millisecond)); err != nil {
			t.Fatal(err)
		}
		if got := browsertest.Evaluate[string](t, ctx, widest); got != want.thick {
			t.Errorf("lines are thick: %s, want %s", got, want.thick)
		}
		if got := browsertest.Evaluate[string](t, ctx, rings); got != want.rings {
			t.Errorf("the charts hold %q rings, want %q", got, want.rings)
		}
	}
}

// A buffer and a group's window tell of themselves but are no samples to pick.
func TestLinesThatAreNoSamples(t *testing.T) {
	ctx := open(t, 900, figuretest.Diagram(4, 4))
	browsertest.Evaluate[int](t, ctx, `(window.heard = 0, document.addEventListener("sample-picked", () => heard++), 0)`)
	tests := []struct{ name, point, tip string }{
		{"buffer", `series("lines").data[4].parts[0][12]`, "iron–wüstitesourceinvented for the test"},
		{"group", `(w => [w[0], (w[2] + w[5]) / 2])(series("windows-0").data[4].window)`, "fired (experimental slag)samples4"},
		{"sample", `(w => [w[0], (w[2] + w[5]) / 2])(series("windows-0").data[2].window)`, "KR-03fired (experimental slag)"},
	}
	for i, tt := range tests {
		at := browsertest.Evaluate[[]float64](t, ctx, inWindow(t, "oxygen", tt.point))
		if err := chromedp.Do(ctx, chromedp.MouseEvent(chromedp.MouseMoved, at[0], at[1]), chromedp.Sleep(200*time.Millisecond)); err != nil {
			t.Fatal(err)
		}
		got := browsertest.Evaluate[string](t, ctx, `document.querySelector('[data-for="oxygen"] > div:last-child').textContent`)
		if len(got) < len(tt.tip) || got[:len(tt.tip)] != tt.tip {
			t.Errorf("the %s is told as %q, want %q", tt.name, got, tt.tip)
		}
		if err := chromedp.Do(ctx, chromedp.MouseClickXY(at[0], at[1])); err != nil {
			t.Fatal(err)
		}
		if heard := browsertest.Evaluate[int](t, ctx, `heard`); heard != i/2 {
			t.Errorf("after a click on the %s the page heard of %d picks", tt.name, heard)
		}
	}
}

// No text of a chart of lines lies over another or leaves the chart.
func TestLetteringOfLinesNeverCollides(t *testing.T) {
	// Corners of the letters' boxes, which lean with their lines; two boxes
	// overlap unless a side of one of them parts them by less than a pixel.
	const collisions = `(() => {
		const found = [];
		for (const live of document.querySelectorAll(".live")) {
			const frame = live.getBoundingClientRect();
			const all = Array.from(live.querySelectorAll("svg text")).filter(e => e.textContent.trim()).map(e => {
				const b = e.getBBox(), m = e.getScreenCTM();
				const dy = b.height * 0.17; // boxes of letters have room above and below
				return {text: e.textContent, c: [[b.x, b.y + dy], [b.x + b.width, b.y + dy], [b.x + b.width, b.y + b.height - dy], [b.x, b.y + b.height - dy]]
					.map(p => [m.a * p[0] + m.c * p[1] + m.e, m.b * p[0] + m.d * p[1] + m.f])};
			});
			const along = (c, d) => { const v = c.map(p => p[0] * d[0] + p[1] * d[1]); return [Math.min(...v), Math.max(...v)] };
			const parted = (a, b) => [0, 1].some(i => {
				const d = [a[i + 1][0] - a[i][0], a[i + 1][1] - a[i][1]], n = Math.hypot(...d) || 1;
				const p = along(a, d), q = along(b, d);
				return p[1] - q[0] < n || q[1] - p[0] < n;
			});
			all.forEach((a, i) => {
				if (a.c.some(p => p[0] < frame.left - 1 || p[0] > frame.right + 1 || p[1] < frame.top - 1 || p[1] > frame.bottom + 1)) found.push(live.dataset.for + ": " + a.text + " leaves the chart");
				for (const b of all.slice(0, i)) if (!parted(a.c, b.c) && !parted(b.c, a.c)) found.push(live.dataset.for + ": " + a.text + " over " + b.text);
			});
		}
		return found;
	})()`
	figures := []figure.Figure{
		figuretest.Melted(14, 12), figuretest.Viscosity(14, 12), figuretest.Diagram(14, 12), figuretest.Biplot(14, 12), figuretest.Effects(5, 4),
		figuretest.Melted(3, 2), figuretest.Diagram(2, 30), figuretest.Viscosity(30, 30), figuretest.Melted(0, 1), figuretest.Diagram(0, 0), figuretest.Bands(5), figuretest.Methods(28), figuretest.Melted(95, 2),
	}
	for i := range figures {
		figures[i].ID += fmt.Sprint("-", i)
	}
	for _, width := range []int{390, 700, 1280} {
		ctx := open(t, width, figures...)
		for _, f := range figures {
			if !browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, f.ID, "live")) {
				t.Errorf("%s at %d px is not drawn", f.ID, width)
			}
		}
		for _, s := range browsertest.Evaluate[[]string](t, ctx, collisions) {
			t.Errorf("at %d px, %s", width, s)
		}
	}
}
