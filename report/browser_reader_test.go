package report_test

import (
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"smeltbook/report"
	"smeltbook/report/internal/browsertest"
)

func press(t *testing.T, ctx context.Context, keys ...string) {
	t.Helper()
	for _, key := range keys {
		if err := chromedp.Do(ctx, chromedp.KeyEvent(key)); err != nil {
			t.Fatal(err)
		}
	}
}

// clickOn presses the mouse on the first element of a selector, once the page
// holds still under it: a part of the page laid out for the first time, or rows
// just sent away, may move the element between the look and the click.
func clickOn(t *testing.T, ctx context.Context, selector string) {
	t.Helper()
	still := fmt.Sprintf(`(e => { e.scrollIntoView({block: "center", behavior: "instant"});
		const b = e.getBoundingClientRect(), at = [b.left + b.width / 2, b.top + b.height / 2], before = window.clickAt;
		window.clickAt = at.join();
		return before === window.clickAt && e.contains(document.elementFromPoint(...at)) ? at : null })(document.querySelector(%q))`, selector)
	at, err := chromedp.Run(ctx, chromedp.Poll[[]float64](still, chromedp.WithPollingTimeout(10*time.Second)))
	if err != nil {
		t.Fatalf("%s cannot be clicked on: %v", selector, err)
	}
	if err := chromedp.Do(ctx, chromedp.MouseClickXY(at[0], at[1])); err != nil {
		t.Fatal(err)
	}
}

// TestNotesByKeyboard reaches the notes of the first table with the Tab key,
// walks them with the arrows and sends them away with Escape.
func TestNotesByKeyboard(t *testing.T) {
	ctx := openReport(t, 1280)
	const shown = `(document.getElementById("tip").hidden ? "" : document.getElementById("tip").textContent)`
	const described = `document.activeElement.getAttribute("aria-describedby") || ""`
	for range 80 { // past the contents
		press(t, ctx, kb.Tab)
		if browsertest.Evaluate[bool](t, ctx, `document.activeElement.dataset.note !== undefined`) {
			break
		}
	}
	first := browsertest.Evaluate[string](t, ctx, shown)
	if first == "" {
		t.Fatal("no note came up on the way of the Tab key")
	}
	if got := browsertest.Evaluate[string](t, ctx, described); got != "tip" {
		t.Errorf("the cell is described by %q", got)
	}
	press(t, ctx, kb.ArrowDown)
	if second := browsertest.Evaluate[string](t, ctx, shown); second == "" {
		t.Error("no note of the row below")
	}
	press(t, ctx, kb.Escape)
	if left := browsertest.Evaluate[string](t, ctx, shown); left != "" {
		t.Errorf("after Escape the note %q is still there", left)
	}
	if got := browsertest.Evaluate[string](t, ctx, described); got != "" {
		t.Errorf("after Escape the cell is described by %q", got)
	}
	press(t, ctx, kb.ArrowUp)
	if again := browsertest.Evaluate[string](t, ctx, shown); again != first {
		t.Errorf("back up the note is %q, was %q", again, first)
	}
	press(t, ctx, kb.Tab)
	if err := chromedp.Do(ctx, chromedp.Poll[chromedp.Void](`document.getElementById("tip").hidden || document.activeElement.dataset.note !== undefined`)); err != nil {
		t.Errorf("the note stays after the Tab key went on: %v", err)
	}
}

// TestSorting sorts by numbers that stand above their uncertainties, by
// names that stand above where they come from, and back.
func TestSorting(t *testing.T) {
	ctx := openReport(t, 1280)
	const column = `Array.from(document.querySelector("section[data-kind=composition] table").tBodies[0].rows, r => %s)`
	numbers := fmt.Sprintf(column, `Number(r.cells[1].firstChild.textContent)`)
	names := fmt.Sprintf(column, `r.dataset.sample`)
	before := browsertest.Evaluate[[]string](t, ctx, names)
	silica := `section[data-kind=composition] table thead tr:last-child th:nth-child(2) button`
	clickOn(t, ctx, silica)
	if got := browsertest.Evaluate[[]float64](t, ctx, numbers); len(got) != len(before) || !slices.IsSorted(got) {
		t.Errorf("sorted upwards: %v", got)
	}
	press(t, ctx, kb.Enter)
	got := browsertest.Evaluate[[]float64](t, ctx, numbers)
	slices.Reverse(got)
	if !slices.IsSorted(got) {
		t.Errorf("sorted downwards with the Enter key: %v", got)
	}
	if sort := browsertest.Evaluate[string](t, ctx, fmt.Sprintf(`document.querySelector(%q).closest("th").getAttribute("aria-sort")`, silica)); sort != "descending" {
		t.Errorf("the head says %q", sort)
	}
	clickOn(t, ctx, `section[data-kind=composition] table thead tr:last-child th:first-child button`)
	if got := browsertest.Evaluate[[]string](t, ctx, names); !slices.IsSorted(got) || len(got) != len(before) {
		t.Errorf("sorted by name: %v", got)
	}
}

// TestFiltering types into the boxes above tables, formulas with and without
// subscripts.
func TestFiltering(t *testing.T) {
	ctx := openReport(t, 1280)
	shown := `Array.from(document.querySelector("%s").tBodies[0].rows).filter(r => r.offsetHeight > 0).length`
	unlabelled := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll(".filter input")).filter(i => !i.labels.length || !i.labels[0].textContent.trim()).length`)
	if unlabelled > 0 {
		t.Errorf("%d boxes without a label", unlabelled)
	}
	typed := func(table, text string) int {
		input := fmt.Sprintf(`document.querySelector("%s").closest(".sheet").querySelector(".filter input")`, table)
		// A table that has just been unfolded takes a moment before it can be
		// typed into.
		focused := `(i => { i.value = ""; i.focus(); return document.activeElement === i })(` + input + `)`
		if err := chromedp.Do(ctx, chromedp.Poll[chromedp.Void](focused, chromedp.WithPollingTimeout(10*time.Second))); err != nil {
			t.Fatalf("the box of %s cannot be typed into: %v", table, err)
		}
		press(t, ctx, text)
		return browsertest.Evaluate[int](t, ctx, fmt.Sprintf(shown, table))
	}
	all := browsertest.Evaluate[int](t, ctx, fmt.Sprintf(shown, "section[data-kind=composition] table"))
	if got := typed("section[data-kind=composition] table", "kr-f1"); got != 3 {
		t.Errorf("%d of %d pieces come from KR-F1, want 3", got, all)
	}
	if says := browsertest.Evaluate[string](t, ctx, `document.querySelector("section[data-kind=composition] table").closest(".sheet").querySelector(".shown").textContent`); says != fmt.Sprintf("3 of %d rows", all) {
		t.Errorf("the count says %q", says)
	}
	clickOn(t, ctx, `.entry[data-kind=data] details.long:last-of-type summary`)
	const values = `.entry[data-kind=data] details.long:last-of-type table`
	plain := typed(values, "sio2 wet chemistry")
	if plain == 0 {
		t.Error("SiO2 typed plain finds nothing")
	}
	if got := typed(values, "SiO₂ Wet Chemistry"); got != plain {
		t.Errorf("SiO₂ finds %d rows, SiO2 %d", got, plain)
	}
}

// TestPickedSampleIsMarkedEverywhere picks a sample in one table and looks for
// it in the others and in the figures.
func TestPickedSampleIsMarkedEverywhere(t *testing.T) {
	ctx := openReport(t, 1280)
	clickOn(t, ctx, `section[data-kind=composition] table tr[data-sample="LS-S08"] .pick`)
	marked := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("main table")).filter(t => t.querySelector('tr[data-sample="LS-S08"]'))
		.filter(t => !t.querySelector("tr.picked")).map(t => t.id)`)
	if len(marked) > 0 {
		t.Errorf("not marked in %v", marked)
	}
	if others := browsertest.Evaluate[int](t, ctx, `document.querySelectorAll('tr.picked:not([data-sample="LS-S08"])').length`); others > 0 {
		t.Errorf("%d rows of other samples are marked", others)
	}
	const rings = `Array.from(document.querySelectorAll(".live"), d => echarts.getInstanceByDom(d).getOption().series)
		.filter(series => series.some(s => JSON.stringify(s.data || []).includes("LS-S08")))
		.map(series => series.filter(s => s.id.startsWith("picked")).reduce((n, s) => n + s.data.length, 0))`
	if report.Assets().ChartLibrary != "" {
		found := browsertest.Evaluate[[]int](t, ctx, rings)
		if len(found) < 10 {
			t.Errorf("%d figures show LS-S08, want ten or more", len(found))
		}
		for i, n := range found {
			if n == 0 {
				t.Errorf("figure %d has no ring round the sample", i+1)
			}
		}
	}
	clickOn(t, ctx, `#picked button`)
	if left := browsertest.Evaluate[int](t, ctx, `document.querySelectorAll("tr.picked").length`); left > 0 {
		t.Errorf("%d rows stay marked after letting go", left)
	}
}
