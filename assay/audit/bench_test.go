package audit

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
)

// BenchmarkOf judges a campaign of many samples by two methods; reading it is
// the anchor beside it.
func BenchmarkOf(b *testing.B) {
	for _, n := range []int{50, 1000, 4000} {
		dir := b.TempDir()
		rng := rand.New(rand.NewPCG(1, 1))
		var bead, held, list strings.Builder
		bead.WriteString("WD-XRF on fused beads\nSample,SiO2,TiO2,Al2O3,FeO,MnO,MgO,CaO,K2O,CuO\n" + strings.Repeat(",wt%", 9) + "\n")
		held.WriteString("handheld XRF\nSample,Cu,Fe,Zn,Pb\n,ppm,ppm,ppm,ppm\n")
		list.WriteString("id,kind,origin\n")
		for i := range n {
			near := func(x float64) string { return fmt.Sprintf("%.3f", x*(1+0.1*rng.NormFloat64())) }
			fmt.Fprintf(&bead, "S-%05d,32,%s,%s,55,%s,%s,%s,%s,%s\n", i, near(0.3), near(5), near(0.5), near(1), near(3), near(1.2), near(1))
			fmt.Fprintf(&held, "S-%05d,%s,%s,%s,%s\n", i, near(8000), near(430000), near(400), near(100))
			fmt.Fprintf(&list, "S-%05d,slag,excavated\n", i)
		}
		for name, text := range map[string]string{"bead.csv": bead.String(), "held.csv": held.String(), "samples.csv": list.String()} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				b.Fatal(err)
			}
		}
		read := func() *assay.Campaign {
			c, err := assay.Load(context.Background(), dir, assay.Config{Recipe: assay.Recipe{AcceptTotals: []string{"all"}}}, nil)
			if err != nil {
				b.Fatal(err)
			}
			return c
		}
		c := read()
		b.Run(fmt.Sprintf("judge/%d", n), func(b *testing.B) {
			for b.Loop() {
				a := Of(c)
				a.Notices()
				a.Verdicts()
			}
		})
		b.Run(fmt.Sprintf("read/%d", n), func(b *testing.B) {
			for b.Loop() {
				read()
			}
		})
	}
}
