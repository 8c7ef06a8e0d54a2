package balance

import (
	"math"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// An ingot that nobody analysed has no balance, and the notice says what would
// give it one; with contents that the notebook states it has, and every time it
// is told that they are assumed. 700 g of 96 ± 2 wt% hold 672 ± 14 g of copper.
func TestIngotWithoutAnalysis(t *testing.T) {
	files := sheets(goodRun)
	for name, text := range files {
		var kept []string
		for _, line := range strings.Split(text, "\n") {
			if !strings.HasPrefix(line, "I-1,") {
				kept = append(kept, line)
			}
		}
		files[name] = strings.Join(kept, "\n")
	}
	c := campaign(t, files)
	_, ns, ok := FromRun(c, c.Runs[0])
	i := slices.IndexFunc(ns, func(n source.Notice) bool { return n.Code == "PRODUCT_WITHOUT_ASSAYS" })
	if ok || i < 0 || !strings.Contains(ns[i].Message, "assume: {ingot: {Cu: [96, 2]}}") {
		t.Fatalf("%v", ns)
	}
	c.Config.Recipe.Assume = []assay.AssumedContent{{Kind: assay.Metal, Element: "Cu", Content: quantity.WithU(96, 2, "wt%", "assumed")}}
	f, ns, ok := FromRun(c, c.Runs[0])
	i = slices.IndexFunc(ns, func(n source.Notice) bool { return n.Code == "CONTENT_ASSUMED" })
	if !ok || i < 0 || ns[i].Severity != source.Warning || !strings.Contains(ns[i].Message, "F1: no metal is analysed; 96.0 ± 2.0 wt% Cu is assumed of the ingot") {
		t.Fatalf("%v", ns)
	}
	if _, err := f.Whereabouts("Cu"); err != nil {
		t.Fatal(err)
	}
	found := false
	for _, x := range f.Streams {
		if x.Kind != assay.Metal {
			continue
		}
		found = true
		wt, u, _, known := x.content("Cu")
		kg, du := x.Mass.Value*wt/100, math.Hypot(x.Mass.Value*u/100, x.Mass.U*wt/100)
		if !known || math.Abs(kg-0.672) > 1e-9 || math.Abs(du-0.014) > 2e-4 {
			t.Errorf("the ingot holds %g ± %g kg of copper", kg, du)
		}
	}
	if !found {
		t.Error("no ingot among the streams")
	}
}
