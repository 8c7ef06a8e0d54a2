package report_test

import (
	"context"
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"smeltbook/report"
	"smeltbook/report/internal/browsertest"
)

// overlaps is a JavaScript function of two rectangles and a gap in pixels.
const overlaps = `((a, b, gap) => a.left < b.right + gap && b.left < a.right + gap && a.top < b.bottom + gap && b.top < a.bottom + gap)`

// TestLayoutOnALaptop measures what a reader would complain about at 1280 px:
// tables that are cut, values broken in two, empty room before a figure.
func TestLayoutOnALaptop(t *testing.T) {
	ctx := openReport(t, 1280)
	cut := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("main .entry > .sheet .scroll"))
		.filter(s => s.scrollWidth > s.clientWidth).map(s => s.querySelector("table").id)`)
	if len(cut) > 0 {
		t.Errorf("tables that do not fit: %v", cut)
	}
	broken := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("main .entry > .sheet .plain td:not(.t), small"))
		.filter(c => { const r = document.createRange(); r.selectNodeContents(c.tagName === "SMALL" ? c : c.firstChild || c);
			return new Set(Array.from(r.getClientRects(), b => Math.round(b.bottom / 8))).size > 1 }).map(c => c.textContent)`)
	if len(broken) > 0 {
		t.Errorf("%d values are broken over lines, first %q", len(broken), broken[0])
	}
	gaps := browsertest.Evaluate[[]float64](t, ctx, `Array.from(document.querySelectorAll(".broad .sources"),
		s => s.nextElementSibling.getBoundingClientRect().top - s.getBoundingClientRect().bottom)`)
	if len(gaps) != 10 {
		t.Errorf("%d entries begin with something wide, want 10", len(gaps))
	}
	for i, gap := range gaps {
		if gap < 0 || gap > 40 {
			t.Errorf("entry %d: %.0f px between its sources and what it shows", i+1, gap)
		}
	}
}

// TestSmallScreen checks that a phone's reader can scroll a table in its own
// box with the samples' names in view, and sees whole captions.
func TestSmallScreen(t *testing.T) {
	ctx := openReport(t, 390)
	browsertest.Evaluate[int](t, ctx, `(document.querySelector("section[data-kind=composition] table").closest(".scroll").scrollLeft = 200, 0)`)
	if off := browsertest.Evaluate[float64](t, ctx, `(t => t.tBodies[0].rows[0].cells[0].getBoundingClientRect().left - t.closest(".scroll").getBoundingClientRect().left)(document.querySelector("section[data-kind=composition] table"))`); off < -1 || off > 1 {
		t.Errorf("the column of the samples stands %v px from the edge of its box", off)
	}
	outside := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("main .entry > .sheet caption, main figcaption, main .sources"))
		.filter(c => { const r = document.createRange(); r.selectNodeContents(c);
			return Array.from(r.getClientRects()).some(b => b.right > innerWidth) }).map(c => c.textContent.slice(0, 40))`)
	if len(outside) > 0 {
		t.Errorf("texts that are cut: %q", outside)
	}
	if columns := browsertest.Evaluate[[]float64](t, ctx, `(r => [r.querySelector("td.fired").getBoundingClientRect().left, r.querySelector("td.dug").getBoundingClientRect().left,
		r.querySelector("td.fired[style*='--place:1']").getBoundingClientRect().top - r.querySelector("td.dug[style*='--place:1']").getBoundingClientRect().top])(document.querySelector(".open-book").tBodies[0].rows[0])`); columns[1] < columns[0]+100 || columns[2] != 0 {
		t.Errorf("the pages of the folded spread do not stand beside each other: %v", columns)
	}
}

// TestLetteringOfCharts checks at several widths that no axis title lies on
// tick labels, and that names on the triangle are free of points and of each
// other.
func TestLetteringOfCharts(t *testing.T) {
	if report.Assets().ChartLibrary == "" {
		t.Skip("built without the charting library: the figures are still")
	}
	ctx := openReport(t, 1280)
	for _, width := range []int64{1280, 900, 600, 390} {
		settled := fmt.Sprintf(`innerWidth === %d && Array.from(document.querySelectorAll(".live")).every(l => Math.abs(l.firstElementChild.offsetWidth - l.parentElement.clientWidth) < 3)`, width)
		if err := chromedp.Do(ctx, chromedp.EmulateViewport(width, 900), chromedp.Poll[chromedp.Void](settled, chromedp.WithPollingTimeout(10*time.Second))); err != nil {
			t.Fatalf("%d px: %v", width, err)
		}
		struck := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll(".live")).flatMap(live => {
			const texts = Array.from(live.querySelectorAll("text"), e => ({text: e.textContent, box: e.getBoundingClientRect()}));
			const titles = texts.filter(e => e.box.height > 60 && /\(|index/.test(e.text));
			return titles.flatMap(title => texts.filter(e => e !== title && /^[\d.]+$/.test(e.text) && `+overlaps+`(title.box, e.box, 1)).map(e => title.text + " on " + e.text));
		})`)
		if len(struck) > 0 {
			t.Errorf("%d px: %q", width, struck)
		}
		checkTriangle(t, ctx, width)
	}
}

func checkTriangle(t *testing.T, ctx context.Context, width int64) {
	t.Helper()
	const chart = `const live = Array.from(document.querySelectorAll(".live")).find(l => echarts.getInstanceByDom(l).getOption().series.some(s => s.id === "fields"));
		const c = echarts.getInstanceByDom(live), o = c.getOption(), at = live.getBoundingClientRect();
		const names = o.series.find(s => s.id === "fields").data.filter(d => d.label.show !== false).map(d => d.name);
		const boxes = Array.from(live.querySelectorAll("text")).filter(e => names.includes(e.textContent)).map(e => ({text: e.textContent, box: e.getBoundingClientRect()}));`
	if n := browsertest.Evaluate[int](t, ctx, `(() => {`+chart+` return new Set(boxes.map(b => b.text)).size })()`); n < 5 {
		t.Errorf("%d px: %d fields of the triangle are named, want five or more", width, n)
	}
	covered := browsertest.Evaluate[[]string](t, ctx, `(() => {`+chart+`
		const points = o.series.filter(s => s.pick).flatMap(s => s.data.map(d => c.convertToPixel({gridIndex: 0}, d.value)));
		return boxes.filter(b => points.some(p => p[0] + at.left > b.box.left && p[0] + at.left < b.box.right && p[1] + at.top > b.box.top && p[1] + at.top < b.box.bottom))
			.concat(boxes.filter(b => boxes.some(d => d.text !== b.text && `+overlaps+`(b.box, d.box, -4)))).map(b => b.text) })()`)
	if len(covered) > 0 {
		t.Errorf("%d px: names of fields under points or names: %q", width, covered)
	}
}

// TestPrintLayout lays the report out as wide as the text of an A4 page and
// checks that nothing is folded, cut or left over from the screen.
func TestPrintLayout(t *testing.T) {
	ctx := openReport(t, 673) // 178 mm
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	browsertest.Evaluate[int](t, ctx, `(dispatchEvent(new Event("beforeprint")), 0)`)
	if folded := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll("main table")).filter(t => t.tBodies[0].rows[0].offsetHeight === 0).length`); folded > 0 {
		t.Errorf("%d tables stay folded", folded)
	}
	wide := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("main table, main .still, main .sources, #colophon table"))
		.filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => (e.id || e.className) + " " + e.getBoundingClientRect().right)`)
	if len(wide) > 0 {
		t.Errorf("wider than the page: %v", wide)
	}
	if left := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll("nav, .filter, #tip, #picked, summary")).filter(e => e.offsetHeight > 0).length`); left > 0 {
		t.Errorf("%d things that are of use on a screen only are printed", left)
	}
	apart := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll(".spread:not(.tall), .opening:not(:has(.spread.tall)), figure:not(.photos), .photo-row")).filter(e => !getComputedStyle(e).breakInside.startsWith("avoid")).length`)
	if apart > 0 {
		t.Errorf("%d figures and spreads may be cut by the end of a page", apart)
	}
	alone := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll(".spread tbody tr:nth-child(-n+3)")).filter(e => getComputedStyle(e).breakBefore !== "avoid").length`)
	if alone > 0 {
		t.Errorf("%d first rows of spreads may stand apart from their heads", alone)
	}
	if heads := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll("main thead")).filter(h => getComputedStyle(h).display !== "table-header-group").length`); heads > 0 {
		t.Errorf("%d table heads are not repeated", heads)
	}
}
