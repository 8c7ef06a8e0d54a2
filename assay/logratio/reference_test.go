package logratio_test

import (
	"fmt"
	"testing"

	"smeltbook/assay/logratio"
	"smeltbook/assay/logratio/internal/published"
)

// Centred log-ratios, pivot coordinates and distances of rows printed in
// Aitchison 1986, against values worked in R.
func TestTransformsOfTextbookRows(t *testing.T) {
	for _, set := range []string{"skye_afm", "hongite", "boxite", "arctic_lake"} {
		t.Run(set, func(t *testing.T) {
			want := published.Reference(t, set)
			m, rows := published.Rows(t, set)
			z := m.Clr()
			pivot, err := logratio.Pivot(m.Parts).Coordinates(m)
			if err != nil {
				t.Fatal(err)
			}
			checked := 0
			check := func(quantity, key string, got float64) {
				if w, ok := want[[2]string{quantity, key}]; ok {
					published.Near(t, quantity+" "+key, got, w)
					checked++
				}
			}
			for i, row := range rows {
				for j, p := range m.Parts {
					check("clr", fmt.Sprintf("row%d:%s", row, p), z[i][j])
				}
				for j, v := range pivot[i] {
					check("ilr_pivot", fmt.Sprintf("row%d:z%d", row, j+1), v)
				}
				for k := range i {
					check("aitchison_distance", fmt.Sprintf("row%d-row%d", rows[k], row), logratio.Distance(m.X[k], m.X[i]))
				}
			}
			check("mahalanobis_cut_chisq_0.975", "", logratio.CutChiSquared(len(m.Parts)-1, 0.975))
			if checked != len(want) {
				t.Errorf("%d of %d reference values checked", checked, len(want))
			}
		})
	}
}

// Centre, variances, components and distances of the Laos slags.
func TestSummariesOfPublishedSlags(t *testing.T) {
	want := published.Reference(t, "slag_laos_separate_4part")
	table, _ := published.Laos(t, published.FourParts...)
	m, err := table.Complete(logratio.Simple)
	if err != nil {
		t.Fatal(err)
	}
	got := map[[2]string]float64{
		{"n", ""}: float64(len(m.X)), {"parts", ""}: float64(len(m.Parts)),
		{"total_variance_clr_n-1", ""}:      logratio.TotalVariance(m.Clr()),
		{"mahalanobis_cut_chisq_0.975", ""}: logratio.CutChiSquared(3, 0.975),
	}
	centre, variation, z := m.Centre(100), m.Variation(), m.Clr()
	for j, p := range m.Parts {
		got[[2]string{"centre_closed_100", p}] = centre[j]
		for k := j + 1; k < len(m.Parts); k++ {
			got[[2]string{"variation_var_ln", p + "/" + m.Parts[k]}] = variation[j][k]
		}
	}
	pivot, err := logratio.Pivot(m.Parts).Coordinates(m)
	if err != nil {
		t.Fatal(err)
	}
	d2, ok := logratio.Mahalanobis(pivot, logratio.Mean(pivot), logratio.Covariance(pivot))
	if !ok {
		t.Fatal("no Mahalanobis distances")
	}
	distances, sum := m.Distances(), 0.0
	for i := range m.X {
		got[[2]string{"mahalanobis_sq_ilr", fmt.Sprintf("row%d", i+1)}] = d2[i]
		for j, p := range m.Parts {
			got[[2]string{"clr", fmt.Sprintf("row%d:%s", i+1, p)}] = z[i][j]
		}
		for j, v := range pivot[i] {
			got[[2]string{"ilr_pivot", fmt.Sprintf("row%d:z%d", i+1, j+1)}] = v
		}
		for k := range i {
			sum += distances[k][i]
			got[[2]string{"aitchison_distance", fmt.Sprintf("row%d-row%d", k+1, i+1)}] = distances[k][i]
		}
	}
	got[[2]string{"aitchison_distance_sum_all_pairs", ""}] = sum
	c, err := m.Principal()
	if err != nil {
		t.Fatal(err)
	}
	for a, loading := range c.Loadings {
		name := fmt.Sprintf("PC%d", a+1)
		got[[2]string{"pca_clr_eigenvalue", name}] = c.Variances[a]
		got[[2]string{"pca_clr_share", name}] = c.Shares[a]
		for j, p := range m.Parts {
			got[[2]string{"pca_clr_loading_" + name + "_largest_positive", p}] = loading[j]
		}
	}
	for key, w := range want {
		g, ok := got[key]
		if !ok {
			t.Errorf("%v is not worked out", key)
			continue
		}
		published.Near(t, key[0]+" "+key[1], g, w)
	}
}

// Replacement of what was not detected in the nine-part Laos slags.
func TestReplacementInPublishedSlags(t *testing.T) {
	table, _ := published.Laos(t, published.NineParts...)
	m, err := table.Complete(logratio.Simple)
	if err != nil {
		t.Fatal(err)
	}
	z := m.Clr()
	replaced := published.Reference(t, "slag_laos_9part_mult_replacement_delta0.13")
	clr := published.Reference(t, "slag_laos_9part_clr_after_replacement")
	checked := 0
	for i, s := range m.Samples {
		for j, p := range m.Parts {
			if w, ok := replaced[[2]string{s, p}]; ok {
				published.Near(t, s+" "+p, m.X[i][j], w)
				published.Near(t, "clr "+s+" "+p, z[i][j], clr[[2]string{s, p}])
				checked++
			}
		}
	}
	if checked != 27 {
		t.Errorf("%d values checked, want 27", checked)
	}
}
