package study

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
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
