package chart

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
	"smeltbook/report/internal/browsertest"
)

// open starts a browser that is not shown and loads a page of figures in it.
func open(t *testing.T, width int, figures ...figure.Figure) context.Context {
	t.Helper()
	ctx := browser(t, width)
	load(t, ctx, figures...)
	return ctx
}

// browser starts a browser that is not shown. The test is skipped where there
// is none, or no charting library, and in short runs.
func browser(t *testing.T, width int) context.Context {
	t.Helper()
	script(t)
	return browsertest.Start(t, width)
}

// load puts figures into a page as the report does, with the report's content
// policy, and loads it.
func load(t *testing.T, ctx context.Context, figures ...figure.Figure) {
	t.Helper()
	var page strings.Builder
	page.WriteString(`<!doctype html><html lang="en"><meta charset="utf-8"><title>t</title>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data:">
<style>body{margin:0}figure{margin:0 8px}.card{padding:0 5px;border:1px solid #ccc}</style>
<p data-sample="KR-02" id="row">KR-02</p>`)
	for _, f := range figures {
		svg, err := f.SVG(140)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&page, `<figure id="fig-%s"><div class="card"><div class="still">%s</div><div class="live" data-for="%s"></div></div></figure>`, f.ID, svg, f.ID)
		fmt.Fprintf(&page, "<script type=\"application/json\" data-chart=\"%s\">%s</script>\n", f.ID, mustJSON(t, f))
	}
	fmt.Fprintf(&page, "<script>%s</script><script>%s</script>", script(t), PageScript())
	path := filepath.Join(t.TempDir(), "page.html")
	if err := os.WriteFile(path, []byte(page.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
}

const shown = `(e => e.offsetHeight > 0)(document.querySelector("#fig-%s .%s"))`

func TestChartsReplaceStillFigures(t *testing.T) {
	for _, width := range []int{390, 1000} {
		ctx := open(t, width, figuretest.All()...)
		for _, f := range figuretest.All() {
			if browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, f.ID, "still")) || !browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, f.ID, "live")) {
				t.Errorf("%s at %d px: the chart does not stand in the place of the still figure", f.ID, width)
			}
		}
		if over := browsertest.Evaluate[float64](t, ctx, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
			t.Errorf("at %d px the page is %v px too wide", width, over)
		}
		// Letters readable on a small screen: nothing below 11 px.
		if size := browsertest.Evaluate[float64](t, ctx, `Math.min(...Array.from(document.querySelectorAll(".live text"), e => parseFloat(getComputedStyle(e).fontSize)))`); size < 11 {
			t.Errorf("at %d px there is lettering of %v px", width, size)
		}
		corners := browsertest.Evaluate[[][]float64](t, ctx, `(c => [[0,0],[0.5,Math.sqrt(3)/2],[1,0]].map(p => c.convertToPixel({gridIndex:0}, p)))(echarts.getInstanceByDom(document.querySelector('[data-for="melt-map"]')))`)
		var sides [3]float64
		for i := range corners {
			p, q := corners[i], corners[(i+1)%3]
			sides[i] = math.Hypot(p[0]-q[0], p[1]-q[1])
		}
		if math.Abs(sides[0]-sides[1]) > 0.5 || math.Abs(sides[0]-sides[2]) > 0.5 || sides[0] < 200 {
			t.Errorf("at %d px the sides of the triangle are %.1f px", width, sides)
		}
	}
}

func TestChartsFollowTheWindow(t *testing.T) {
	ctx := open(t, 1000, figuretest.Ternary(4, 4))
	width := `echarts.getInstanceByDom(document.querySelector(".live")).getWidth()`
	before := browsertest.Evaluate[float64](t, ctx, width)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(390, 900), chromedp.Poll[chromedp.Void](width+` < 400`, chromedp.WithPollingTimeout(10*time.Second))); err != nil {
		t.Fatalf("chart of %v px did not follow the window: %v", before, err)
	}
}

func TestPaperShowsStillFigures(t *testing.T) {
	ctx := open(t, 800, figuretest.Facing(4, 4))
	// What is shown is noted at the moment when the browser lays out for paper.
	browsertest.Evaluate[int](t, ctx, `(matchMedia("print").addEventListener("change", e => {
		const display = c => getComputedStyle(document.querySelector("#fig-melting ." + c)).display;
		if (e.matches) window.onPaper = display("still") + " " + display("live");
	}), 0)`)
	if _, err := chromedp.Run(ctx, chromedp.PrintToPDF()); err != nil {
		t.Fatal(err)
	}
	if got := browsertest.Evaluate[string](t, ctx, `window.onPaper || "not laid out"`); got != "block none" {
		t.Errorf("on paper the still figure and the chart are displayed as %q", got)
	}
	if browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, "melting", "still")) {
		t.Error("after printing the still figure stays on the screen")
	}
}

func TestPickingASample(t *testing.T) {
	ctx := open(t, 800, figuretest.Facing(4, 4), figuretest.Profile(4, 4))
	browsertest.Evaluate[int](t, ctx, `(window.heard = [], document.addEventListener("sample-picked", e => heard.push(e.detail.sample)), 0)`)
	rings := `Array.from(document.querySelectorAll(".live"), d => echarts.getInstanceByDom(d).getOption().series
		.filter(s => s.id.startsWith("picked")).reduce((n, s) => n + s.data.length, 0)).join(" ")`
	place := browsertest.Evaluate[[]float64](t, ctx, `(d => {
		const c = echarts.getInstanceByDom(d), box = d.getBoundingClientRect();
		const mark = c.getOption().series.find(s => s.id === "marks-0").data[1].value;
		const at = c.convertToPixel({gridIndex: 0}, mark);
		return [box.left + at[0], box.top + at[1]];
	})(document.querySelector('[data-for="melting"]'))`)
	click := chromedp.MouseClickXY(place[0], place[1])
	picked := `document.getElementById("row").classList.contains("picked")`

	steps := []struct {
		name   string
		action chromedp.Action[chromedp.Void]
		rings  string
		picked bool
		heard  string
	}{
		{"a click", click, "1 12", true, "KR-02"},
		{"a second click", click, "0 0", false, "KR-02,"},
		{"a third click", click, "1 12", true, "KR-02,,KR-02"},
		{"Escape", chromedp.KeyEvent("\x1b"), "0 0", false, "KR-02,,KR-02,"},
		{"an event from the page", chromedp.Evaluate[chromedp.Void](`void document.dispatchEvent(new CustomEvent("sample-picked", {detail: {sample: "KR-02"}}))`), "1 12", true, "KR-02,,KR-02,,KR-02"},
		{"an unknown sample", chromedp.Evaluate[chromedp.Void](`void document.dispatchEvent(new CustomEvent("sample-picked", {detail: {sample: "nobody"}}))`), "0 0", false, "KR-02,,KR-02,,KR-02,nobody"},
	}
	for _, s := range steps {
		if err := chromedp.Do(ctx, s.action); err != nil {
			t.Fatalf("%s: %v", s.name, err)
		}
		if got := browsertest.Evaluate[string](t, ctx, rings); got != s.rings {
			t.Errorf("after %s the charts hold %q rings, want %q", s.name, got, s.rings)
		}
		if got := browsertest.Evaluate[bool](t, ctx, picked); got != s.picked {
			t.Errorf("after %s the row is picked: %v", s.name, got)
		}
		if got := browsertest.Evaluate[string](t, ctx, `heard.map(s => s || "").join(",")`); got != s.heard {
			t.Errorf("after %s the page heard %q, want %q", s.name, got, s.heard)
		}
	}
}

// Hover text is text, whatever the names hold.
func TestHostileTextInABrowser(t *testing.T) {
	ctx := browser(t, 800)
	for _, s := range hostile {
		load(t, ctx, figuretest.Hostile(s)...)
		browsertest.Evaluate[int](t, ctx, `(window.alert = () => { window.alerted = true }, 0)`)
		for _, f := range figuretest.Hostile(s) {
			show := fmt.Sprintf(`(d => { const c = echarts.getInstanceByDom(d);
				const i = c.getOption().series.findIndex(s => ["marks-0", "curves-0", "bands", "spots-0"].includes(s.id));
				c.dispatchAction({type: "showTip", seriesIndex: i, dataIndex: 0}); return d.textContent })(document.querySelector('[data-for="%s"]'))`, f.ID)
			if err := chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void](show), chromedp.Sleep(50*time.Millisecond)); err != nil {
				t.Fatal(err)
			}
			want := strings.TrimSpace(strings.ToValidUTF8(s, "\ufffd"))
			tip := browsertest.Evaluate[string](t, ctx, fmt.Sprintf(`document.querySelector('[data-for="%s"] > div:last-child').textContent`, f.ID))
			if !strings.Contains(tip, want) {
				t.Errorf("%s: hover text of %q is %q", f.ID, want, tip)
			}
		}
		if n := browsertest.Evaluate[int](t, ctx, `document.querySelectorAll("img, .live script, .still script").length`); n != 0 {
			t.Errorf("%q became %d elements", s, n)
		}
		if browsertest.Evaluate[bool](t, ctx, `window.alerted === true`) {
			t.Errorf("%q ran", s)
		}
	}
}

// A chart that cannot be drawn leaves its still figure, and its neighbours.
func TestBrokenChartStaysStill(t *testing.T) {
	ctx := browser(t, 800)
	path := filepath.Join(t.TempDir(), "page.html")
	page := `<!doctype html><meta charset="utf-8"><figure id="fig-a"><div class="still"><svg width="50" height="50"></svg></div><div class="live" data-for="a"></div></figure>
<script type="application/json" data-chart="a">{"layout":{"kind":"unknown"},"option":{"series":[],"tooltip":{}}}</script>
<figure id="fig-b"><div class="still"><svg width="50" height="50"></svg></div><div class="live" data-for="b"></div></figure>
<script type="application/json" data-chart="b">{"layout":</script><script>` + script(t) + "</script><script>" + PageScript() + "</script>"
	if err := os.WriteFile(path, []byte(page), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"a", "b"} {
		if !browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, id, "still")) || browsertest.Evaluate[bool](t, ctx, fmt.Sprintf(shown, id, "live")) {
			t.Errorf("figure %s lost its still drawing", id)
		}
	}
}
