package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// road takes a campaign folder the whole way to a page.
func road(t testing.TB, dir string, o report.Options) (*study.Study, []byte) {
	t.Helper()
	ctx := context.Background()
	text, err := os.ReadFile(filepath.Join(dir, assay.NotebookName))
	if err != nil {
		t.Fatal(err)
	}
	n, notices := notebook.Parse(assay.NotebookName, text)
	c, err := assay.Load(ctx, dir, n.Config, nil)
	if err != nil {
		t.Fatal(err)
	}
	notices = append(notices, c.Notices...)
	if notices.Failed() {
		t.Fatalf("the campaign has errors: %v", notices)
	}
	s, err := study.Compute(ctx, c, study.ConditionsOf(n.Seed, 200), nil)
	if err != nil {
		t.Fatal(err)
	}
	o.Version, o.Notices = "test", notices
	var page bytes.Buffer
	notices, err = report.Write(ctx, &page, s, n, o)
	if err != nil {
		t.Fatal(err)
	}
	if notices.Failed() {
		t.Fatalf("the report has errors: %v", notices)
	}
	return s, page.Bytes()
}

const laos = "../testdata/laos"

// TestPublishedSlagsReachThePage takes the excavated slags of Wątroba 2012
// (MSc dissertation, UCL, Table 15) from the spreadsheet to the page.
func TestPublishedSlagsReachThePage(t *testing.T) {
	s, page := road(t, laos, report.Options{})
	doc, err := html.Parse(bytes.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	text := textOf(doc)
	for _, row := range published(t) {
		sample, ok := s.Campaign.Sample(row.name)
		if !ok {
			t.Errorf("%s is lost", row.name)
			continue
		}
		// The paper counts copper as CuO, smeltbook states it as the element:
		// the sum falls by the oxygen, 0.20113 × CuO (CIAAW weights). The printed
		// sums are of rounded means, each of up to twelve parts by half a unit
		// of the last place.
		if got := sample.Total.Measured + 0.20113*row.copper; math.Abs(got-row.total) > 0.05*math.Sqrt(12)+0.05 {
			t.Errorf("%s sums to %.2f, printed %.1f", row.name, got, row.total)
		}
		if got := sample.AsReported.Wt("SiO2"); got != row.silica {
			t.Errorf("%s: SiO2 %g, printed %g", row.name, got, row.silica)
		}
		if got := sample.AsReported.Wt("FeO"); got != row.iron {
			t.Errorf("%s: FeO %g, printed %g", row.name, got, row.iron)
		}
		if !strings.Contains(text, row.name) {
			t.Errorf("%s is not on the page", row.name)
		}
		e, why, ok := s.Estimate(row.name)
		if !ok {
			t.Errorf("%s has no estimate: %s", row.name, why)
			continue
		}
		// Wątroba judged the working temperature of the crucible process 1100 to
		// 1200 °C; a liquidus far outside would be news. The band is wide because
		// a slag may hold crystals when it runs.
		if tc := e.Liquidus.Value; tc < 1000 || tc > 1350 {
			t.Errorf("%s: liquidus %.0f °C", row.name, tc)
		}
	}
	if got := len(find(doc, "h1")); got != 1 {
		t.Errorf("%d first-level headings, want 1", got)
	}
	if figures := find(doc, "figure"); len(figures) != 6 {
		t.Errorf("%d figures, want composition, ternary, melting, freezing, indices and copper", len(figures))
	}
}

func TestSameInputSameBytes(t *testing.T) {
	_, a := road(t, laos, report.Options{})
	_, b := road(t, laos, report.Options{})
	if !bytes.Equal(a, b) {
		t.Error("two reports of the same campaign differ")
	}
}

type publishedSlag struct {
	name                        string
	silica, iron, copper, total float64
}

// published reads the printed table without the reader under test.
func published(t *testing.T) []publishedSlag {
	t.Helper()
	f, err := os.Open(filepath.Join(laos, "lab", "sem-eds.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	var out []publishedSlag
	for _, row := range rows[5:] {
		if len(row) < 26 {
			continue
		}
		copper := 0.0
		if row[21] != "nd" {
			copper = number(row[21])
		}
		out = append(out, publishedSlag{row[0], number(row[1]), number(row[7]), copper, number(row[25])})
	}
	if len(out) != 14 {
		t.Fatalf("%d published slags, want 14", len(out))
	}
	return out
}

func find(n *html.Node, tag string) []*html.Node {
	var out []*html.Node
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.Data == tag {
			out = append(out, d)
		}
	}
	return out
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
			b.WriteByte(' ')
		}
	}
	return b.String()
}
