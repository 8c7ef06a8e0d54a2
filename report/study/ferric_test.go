package study

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/phase/slag"
)

// iron writes a campaign of three slags: one titrated beside total iron, one
// with total iron alone, one with titrated iron alone.
func ironCampaign(t *testing.T) *Study {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"xrf.csv":     "Sample,SiO2,Al2O3,FeO*,±,CaO\n,wt%,wt%,wt%,wt%,wt%\nS1,30,6,50,0.5,12\nS2,30,6,50,0.5,12\n\n* total iron as FeO\n",
		"wet.csv":     "Sample,FeO (titr.),u,S,Cu\n,wt%,wt%,wt%,wt%\nS1,45,0.3,0.1,0.9\nS3,45,0.3,0.1,0.9\n",
		"samples.csv": "id,kind,origin\nS1,slag,experimental\nS2,slag,experimental\nS3,slag,experimental\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{Data: []string{"*.csv"}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Compute(context.Background(), c, ConditionsOf(0, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestFerricShare(t *testing.T) {
	s := ironCampaign(t)
	sample := func(id string) *assay.Sample {
		x, ok := s.Campaign.Sample(id)
		if !ok {
			t.Fatalf("%s is lost: %v", id, s.Campaign.Notices)
		}
		return x
	}
	// By hand: 1 − 45/50 = 0.1, u = √((0.3/50)² + (45·0.5/50²)²) = 0.01082.
	q, _, ok := FerricShare(sample("S1"))
	if !ok || math.Abs(q.Value-0.1) > 1e-9 || math.Abs(q.U-0.010817) > 1e-5 || len(q.From) != 2 {
		t.Errorf("ferric share %+v", q)
	}
	// S1 holds 0.9 % Cu and 0.1 % S: (2.261·0.9 + 4.482·0.1)/50 = 0.0497.
	if got, ok := falseFerrous(sample("S1")); !ok || math.Abs(got-0.04966) > 1e-5 {
		t.Errorf("share of FeO that copper and sulphide may feign: %g %v", got, ok)
	}
	if _, why, ok := FerricShare(sample("S2")); ok || !strings.Contains(why, "not titrated") {
		t.Errorf("without titration: %v %q", ok, why)
	}
	if _, why, ok := FerricShare(sample("S3")); ok || why == "" {
		t.Errorf("without total iron: %v %q", ok, why)
	}
}

func TestCrystalsOfAStudy(t *testing.T) {
	s := ironCampaign(t)
	c := s.Crystals("S1")
	if !s.CountsCrystals() || c == nil {
		t.Fatal("no crystals of a slag whose freezing can be followed")
	}
	if f := c.SolidFraction(1700); f != 0 {
		t.Errorf("at 1700 °C %g of the slag is solid", f)
	}
	if f := c.SolidFraction(950); f < 0.5 {
		t.Errorf("at 950 °C only %g of the slag is solid", f)
	}
	if s.Crystals("nobody") != nil {
		t.Error("crystals of a sample without an estimate")
	}
}

// TestFerricReachesTheMelt works the iron of the melt by hand. Fe2O3 =
// 1.11134·(total − FeO); W-2 of the USGS: total Fe2O3 10.83, FeO 8.34, by
// difference 1.561, certified 1.53 ± 0.05.
func TestFerricReachesTheMelt(t *testing.T) {
	for _, c := range []struct {
		name, total, titrated, others string
		recipe                        assay.Recipe
		fe2o3                         float64 // in the composition, 0 for none
		feo                           float64
		code                          string
	}{
		{"W-2", "FeO*,±|9.745,0.19", "FeO (titr.),u|8.34,0.09", "", assay.Recipe{}, 1.5614, 8.34, ""},
		{"copper beside it", "FeO*,±|50,0.2", "FeO (titr.),u|45,0.2", ",Cu,S|,1.0,0.2", assay.Recipe{}, 5.5567, 45, "FERROUS_MAXIMUM"},
		{"all ferrous within its error", "FeO*,±|50,0.2", "FeO (titr.),u|50.3,0.2", "", assay.Recipe{}, 0, 50, ""},
		{"more than there is", "FeO*,±|50,0.2", "FeO (titr.),u|52,0.2", "", assay.Recipe{}, 0, 50, "FERRIC_BELOW_ZERO"},
		{"left aside", "FeO*,±|50,0.2", "FeO (titr.),u|45,0.2", "", assay.Recipe{AllFerrous: true}, 0, 50, ""},
		{"not titrated", "FeO*,±|50,0.2", "H2O-,u|0.3,0.1", "", assay.Recipe{}, 0, 50, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			column := func(s string) (head, row string) { head, row, _ = strings.Cut(s, "|"); return head, row }
			th, tr := column(c.total)
			fh, fr := column(c.titrated)
			oh, or := column(c.others)
			units := strings.Repeat(",wt%", strings.Count(fh+oh, ",")+1)
			dir := t.TempDir()
			for name, text := range map[string]string{
				"xrf.csv":     "Sample,SiO2," + th + ",CaO\n,wt%,wt%,wt%,wt%\nS1,35," + tr + ",12\n\n* total iron as FeO\n",
				"wet.csv":     "Wet chemistry\nSample," + fh + ",MnO" + oh + "\n" + units + ",wt%\nS1," + fr + ",0.5" + or + "\n",
				"samples.csv": "id,kind,origin\nS1,slag,experimental\n",
			} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			c.recipe.AcceptTotals = []string{"all"}
			campaign, err := assay.Load(context.Background(), dir, assay.Config{Data: []string{"*.csv"}, Recipe: c.recipe}, nil)
			if err != nil || campaign.Notices.Failed() {
				t.Fatal(err, campaign.Notices)
			}
			s, err := Compute(context.Background(), campaign, ConditionsOf(0, 20), nil)
			if err != nil {
				t.Fatal(err)
			}
			e, why, ok := s.Estimate("S1")
			if !ok {
				t.Fatal(why)
			}
			sample, _ := campaign.Sample("S1")
			m := meltOf(sample, campaign.Config.Recipe)
			if got := m.composition.Wt("Fe2O3"); math.Abs(got-c.fe2o3) > 0.001 {
				t.Errorf("Fe2O3 = %g, want %g", got, c.fe2o3)
			}
			if got := m.composition.Wt("FeO"); math.Abs(got-c.feo) > 0.001 {
				t.Errorf("FeO = %g, want %g", got, c.feo)
			}
			if (e.Melt.Wt[slag.Fe2O3] > 0) != (c.fe2o3 > 0) {
				t.Errorf("the estimate has %g wt%% Fe2O3", e.Melt.Wt[slag.Fe2O3])
			}
			var codes []string
			for _, n := range e.Notices {
				if strings.HasPrefix(n.Code, "FERR") && n.Code != "FERRIC_SHARE_EXTRAPOLATED" {
					codes = append(codes, n.Code)
				}
			}
			if got := strings.Join(codes, " "); got != c.code {
				t.Errorf("notices %q, want %q", got, c.code)
			}
		})
	}
}
