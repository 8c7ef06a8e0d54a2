package report_test

import (
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/go-cmp/cmp"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/internal/browsertest"
	"smeltbook/report/notebook"
)

// TestTablesAsCSV takes the table of compositions along from the page, and one
// whose cell could be run as a formula.
func TestTablesAsCSV(t *testing.T) {
	ctx := openReport(t, 1280)
	const take = `(async () => {
		const table = document.querySelector("section[data-kind=composition] table");
		table.tBodies[0].rows[0].cells[1].firstChild.textContent = "=1+1";
		table.tBodies[0].rows[1].cells[1].firstChild.textContent = "−0.5";
		let blob;
		URL.createObjectURL = b => (blob = b, "#");
		HTMLAnchorElement.prototype.click = () => {};
		table.closest(".sheet").querySelector(".take").click();
		return await blob.text(); })()`
	text, err := chromedp.Run(ctx, chromedp.Evaluate[string](take, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, "\ufeff"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	all := browsertest.Evaluate[int](t, ctx, `document.querySelector("section[data-kind=composition] table").tBodies[0].rows.length`)
	if len(rows) != all+1 {
		t.Fatalf("%d rows, want %d and heads", len(rows), all)
	}
	silica := -1
	for i, head := range rows[0] {
		if strings.HasPrefix(head, "SiO2 (") {
			silica = i
		}
	}
	if silica < 0 || !strings.HasPrefix(rows[0][silica+1], "SiO2_u (") || rows[0][silica+2] != "SiO2_note" {
		t.Fatalf("heads without SiO2, its unit, its uncertainty and its note: %q", rows[0])
	}
	if got := rows[1][silica]; got != "'=1+1" {
		t.Errorf("a formula is written as %q", got)
	}
	if got := rows[2][silica]; got != "-0.5" {
		t.Errorf("a negative number is written as %q", got)
	}
}

// TestPageSavesWhatTheCommandWrites takes every table of the sample campaign along
// and compares it with the csv that is written without a page.
func TestPageSavesWhatTheCommandWrites(t *testing.T) {
	ctx := openReport(t, 1280)
	const take = `(async () => {
		const out = {};
		let blob;
		URL.createObjectURL = b => (blob = b, "#");
		HTMLAnchorElement.prototype.click = () => {};
		for (const button of document.querySelectorAll("main .take")) {
			button.click();
			const name = button.getAttribute("aria-label").match(/\d+/)[0];
			out[name] = await blob.text();
		}
		return out; })()`
	saved, err := chromedp.Run(ctx, chromedp.Evaluate[map[string]string](take, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	all := sampleTables(t)
	if len(all) < 50 || len(saved) != len(all) {
		t.Fatalf("the page saves %d tables, the command writes %d", len(saved), len(all))
	}
	for _, l := range all {
		var want strings.Builder
		if err := l.Table.WriteCSV(&want); err != nil {
			t.Fatal(err)
		}
		if got := "\ufeff" + saved[strconv.Itoa(l.Number)]; got != want.String() { // a blob read as text drops the mark
			t.Errorf("table %d (-command +page):\n%s", l.Number, cmp.Diff(lines(want.String(), 4), lines(got, 4)))
		}
	}
}

func lines(s string, most int) []string {
	all := strings.Split(s, "\r\n")
	return all[:min(most, len(all))]
}

func sampleTables(t *testing.T) []report.Listed {
	t.Helper()
	const dir = "../samples/orrin-vale"
	s, _ := road(t, dir, report.Options{})
	text, err := os.ReadFile(filepath.Join(dir, assay.NotebookName))
	if err != nil {
		t.Fatal(err)
	}
	n, _ := notebook.Parse(assay.NotebookName, text)
	all, notices, err := report.Tables(context.Background(), s, n)
	if err != nil || notices.Failed() {
		t.Fatal(err, notices)
	}
	return all
}
