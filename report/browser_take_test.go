package report_test

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"smeltbook/report/internal/browsertest"
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
		if strings.HasPrefix(head, "SiO₂ (") {
			silica = i
		}
	}
	if silica < 0 || !strings.HasPrefix(rows[0][silica+1], "± SiO₂") {
		t.Fatalf("heads without SiO₂, its unit and its uncertainty: %q", rows[0])
	}
	if got := rows[1][silica]; got != "'=1+1" {
		t.Errorf("a formula is written as %q", got)
	}
	if got := rows[2][silica]; got != "-0.5" {
		t.Errorf("a negative number is written as %q", got)
	}
}
