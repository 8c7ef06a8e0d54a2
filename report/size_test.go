package report_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"smeltbook/report"
)

// manySlags writes a campaign of n slags in a workbook, half of them fired, half
// dug, with a notebook that asks for every entry that slags alone can fill.
func manySlags(t testing.TB, n int) (dir string) {
	t.Helper()
	random := rand.New(rand.NewPCG(1, uint64(n)))
	oxides := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "Na2O", "K2O", "P2O5", "CuO", "SO3"}
	middle := []float64{30, 0.3, 4.5, 50, 1, 1, 6, 0.3, 1, 0.5, 1.2, 0.3}
	f := excelize.NewFile()
	sheet, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	head := []any{"Sample", "Origin", "Kind"}
	for _, o := range oxides {
		head = append(head, o+" (wt%)", o+" ± (wt%)")
	}
	rows := [][]any{head}
	for i := range n {
		row := []any{fmt.Sprintf("LS-%04d", i), "excavated", "slag"}
		if i%2 == 0 {
			row = []any{fmt.Sprintf("KR-%04d", i), "experimental", "slag"}
		}
		parts, sum := make([]float64, len(oxides)), 0.0
		for k, m := range middle {
			parts[k] = m * math.Exp(0.15*random.NormFloat64())
			sum += parts[k]
		}
		for _, p := range parts {
			p = math.Round(9950*p/sum) / 100
			row = append(row, p, max(0.01, math.Round(2*p)/100))
		}
		rows = append(rows, row)
	}
	for i, row := range rows {
		if err := sheet.SetRow(fmt.Sprintf("A%d", i+1), row); err != nil {
			t.Fatal(err)
		}
	}
	if err := sheet.Flush(); err != nil {
		t.Fatal(err)
	}
	dir = t.TempDir()
	if err := f.SaveAs(filepath.Join(dir, "xrf.xlsx")); err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	text.WriteString("---\ntitle: Many slags\ndata: [xrf.xlsx]\ngroups:\n  fired: {origin: experimental}\n  dug: {origin: excavated}\nseed: 1\n---\n\n## Many slags\n\n")
	for _, kind := range []string{"spread", "composition", "ternary", "melting", "indices", "flow", "copper", "likeness"} {
		fmt.Fprintf(&text, "```%s\ngroups: [fired, dug]\n```\n\n", kind)
	}
	text.WriteString("```methods\n```\n\n```data\n```\n")
	if err := os.WriteFile(filepath.Join(dir, "notebook.md"), []byte(text.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// BenchmarkReport takes campaigns of few and of many slags the whole way to the
// page. Beside the time it tells the bytes of the page.
func BenchmarkReport(b *testing.B) {
	for _, n := range []int{60, 1000} {
		b.Run(fmt.Sprintf("%d samples", n), func(b *testing.B) {
			dir := manySlags(b, n)
			for b.Loop() {
				_, page := road(b, dir, report.Options{Assets: report.Assets()})
				b.ReportMetric(float64(len(page))/1e6, "MB")
			}
		})
	}
}
