package compare

import (
	"context"
	"testing"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// The tests of two groups of published compositions against values worked in R:
// location over all relabellings, dispersion, Hotelling. The answer hangs on
// the parts: four parts of the Laos slags give p 0.13, Hotelling on the same
// 0.011, nine parts with what was not detected replaced 0.0015.
func TestTwoGroupsAgainstReference(t *testing.T) {
	four, site := published.Laos(t, published.FourParts...)
	nine, _ := published.Laos(t, published.NineParts...)
	complete := func(table logratio.Table) logratio.Matrix {
		m, err := table.Complete(logratio.Simple)
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	kilns, kiln := published.Kilns(t)
	for _, c := range []struct {
		set   string
		m     logratio.Matrix
		group []int
		names [2]string
	}{
		{"slag_laos_site", complete(four), site, [2]string{"Thong Na Nguak", "Peun Baolo"}},
		{"slag_laos_site_9part_replaced", complete(nine), site, [2]string{"Thong Na Nguak", "Peun Baolo"}},
		{"rb_pottery_ashleyrails_vs_islandthorns", kilns, kiln, [2]string{}},
	} {
		t.Run(c.set, func(t *testing.T) {
			z, err := logratio.DefaultPartition(c.m.Parts).Coordinates(c.m)
			if err != nil {
				t.Fatal(err)
			}
			r, err := NewRelabelling(context.Background(), c.group, 999, 1)
			if err != nil {
				t.Fatal(err)
			}
			l, d, h := TestLocation(z, r), testDispersion(z, r, FromMean, false), TestHotelling(z, c.group)
			got := map[[2]string]float64{
				{"permanova_F", ""}: l.F, {"permanova_R2", ""}: l.R2, {"permanova_SS_between", ""}: l.Between, {"permanova_SS_within", ""}: l.Within,
				{"permanova_exact_F", ""}: l.F, {"permanova_exact_p", ""}: l.P, {"permanova_exact_relabellings", ""}: float64(l.Count),
				{"betadisper_centroid_F", ""}: d.F, {"betadisper_centroid_p_F", ""}: d.PF,
				{"betadisper_mean_distance_to_centroid", c.names[0]}: d.Mean[0], {"betadisper_mean_distance_to_centroid", c.names[1]}: d.Mean[1],
				{"hotelling_T2", ""}: h.T2, {"hotelling_F", ""}: h.F, {"hotelling_p", ""}: h.P,
				{"hotelling_df1", ""}: float64(h.DF1), {"hotelling_df2", ""}: float64(h.DF2), {"mahalanobis_sq_between_means", ""}: h.D2,
			}
			for key, want := range published.Reference(t, c.set) {
				published.Near(t, key[0]+" "+key[1], got[key], want)
			}
			if !l.Exact {
				t.Error("the test is not exact")
			}
		})
	}
}

// The p of fifteen hypotheses about a treatment of myocardial infarction,
// printed in Benjamini & Hochberg 1995 (section 3.2): at one in twenty Holm's
// procedure calls three of them and that of the paper four.
func TestAdjustPublished(t *testing.T) {
	p := []float64{0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.000}
	count := func(q []float64) (n int) {
		for _, x := range q {
			if x <= 0.05 {
				n++
			}
		}
		return n
	}
	if n := count(Holm(p)); n != 3 {
		t.Errorf("Holm calls %d, want 3: %v", n, Holm(p))
	}
	bh := BenjaminiHochberg(p)
	if n := count(bh); n != 4 {
		t.Errorf("Benjamini and Hochberg call %d, want 4: %v", n, bh)
	}
	// The fourth by hand: 0.0095·15/4.
	published.Near(t, "adjusted 0.0095", bh[3], 0.035625)
	published.Near(t, "adjusted 0.0019", Holm(p)[2], 0.0247)
}

// The smallest p by group sizes, from binomial coefficients: 3 v 3 0.10, 4 v 4
// 0.029, 5 v 5 0.008.
func TestSmallestP(t *testing.T) {
	for _, c := range []struct {
		a, b int
		want float64
	}{{3, 3, 2.0 / 20}, {4, 4, 2.0 / 70}, {5, 5, 2.0 / 252}, {5, 9, 1.0 / 2002}, {1, 9, 1.0 / 10}} {
		var group []int
		var z [][]float64
		for i := range c.a + c.b {
			g := 0
			if i >= c.a {
				g = 1
			}
			group = append(group, g)
			z = append(z, []float64{float64(1000*g) + float64(i*i)/100})
		}
		r, err := NewRelabelling(context.Background(), group, 999, 1)
		if err != nil {
			t.Fatal(err)
		}
		published.Near(t, "smallest p", r.Smallest(), c.want)
		if p := TestLocation(z, r).P; p != r.Smallest() {
			t.Errorf("%d v %d far apart give p %g, want the smallest, %g", c.a, c.b, p, r.Smallest())
		}
	}
}
