package assay

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

const kinds = "id,kind,origin\nKR-1,slag,experimental\nLS-1,slag,excavated\nOV-1,ore,natural\nFW-1,lining,experimental\n"

func sampleOf(t *testing.T, c *Campaign, id string) *Sample {
	t.Helper()
	s, ok := c.Sample(id)
	if !ok {
		t.Fatalf("%s is lost: %v", id, c.Notices)
	}
	return s
}

// The slag of the constructed case N01: 103.19 as given, 97.62 with FeO, 97.20
// with copper as the element and the oxygen for sulphur taken off.
func TestSumsBeforeAndAfter(t *testing.T) {
	files := map[string]string{"samples.csv": kinds,
		"xrf.csv": "WD-XRF\nSample,SiO2,TiO2,Al2O3,Fe2O3T,MnO,MgO,CaO,Na2O,K2O,P2O5,CuO,S\n,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%\n" +
			"KR-1,32.1,0.35,5.8,55.6,0.42,1.15,4.7,0.3,1.05,0.22,1.1,0.4\nLS-1,32.1,0.35,5.8,55.6,0.42,1.15,4.7,0.3,1.05,0.22,1.1,0.4\n"}
	c := load(t, files, Config{})
	s := sampleOf(t, c, "KR-1")
	var sums []float64
	for _, step := range s.Steps {
		sums = append(sums, step.Total.Measured)
	}
	if len(sums) != 5 {
		t.Fatalf("steps %v", s.Steps)
	}
	for i, want := range []float64{103.19, 97.62, 97.40, 97.20, 100} {
		checkdata.Near(t, s.Steps[i].What, sums[i], want, 0.01)
	}
	checkdata.Near(t, "SiO2", s.Composition.Wt("SiO2"), 33.025, 0.005)
	checkdata.Near(t, "O=S", s.Composition.Wt("O=S"), -0.1996*100/97.199, 0.0005)
	if q, _ := s.Merged.Get("Fe2O3T"); q.Value != 55.6 {
		t.Errorf("the laboratory's iron is now %s", q.Text())
	}
	// One recipe: replica and excavated come out alike.
	other := sampleOf(t, c, "LS-1")
	for _, p := range s.Composition.Parts {
		if q, _ := other.Composition.Get(p.ID); q.Value != p.Value || q.U != p.U {
			t.Errorf("%s differs between replica and excavated: %s and %s", p.ID, p.Text(), q.Text())
		}
	}
	// Changed in one place, it changes for both.
	c = load(t, files, Config{Recipe: Recipe{
		Sulphur: map[string]chem.SulphurForm{Slag: chem.SulphurReported}, Copper: map[string]string{Slag: "CuO"}, Iron: map[string]chem.Iron{Slag: chem.AsFe2O3}}})
	for _, id := range []string{"KR-1", "LS-1"} {
		checkdata.Near(t, "sum of "+id, sampleOf(t, c, id).Total.Measured, 103.19, 0.01)
	}
}

// Every value leaves with a standard uncertainty and its source, or below its
// limit with the limit, whichever road it came by: major oxides in wt%, traces
// in ppm, titration, handheld analyses, loss on ignition.
func TestEveryRoadCarriesItsUncertainty(t *testing.T) {
	c := load(t, map[string]string{"samples.csv": kinds,
		"xrf.csv":      "WD-XRF on fused beads; ± is one standard uncertainty (k = 1)\nSample,SiO2,±,Al2O3,FeO*,MgO,Pb,As,LOI\n,wt%,wt%,wt%,wt%,wt%,ppm,ppm,wt%\nKR-1,33,0.3,6,55,<0.05,120,<20,-3\n\n* total iron as FeO\n",
		"wet.csv":      "Wet chemistry\nSample,Cu,S\n,wt%,wt%\nKR-1,1.30,0.2\nKR-1,1.40,0.2\n",
		"handheld.csv": "handheld XRF\nSample,Zn,Sn\n,ppm,ppm\nKR-1,300,<50\n",
	}, Config{Recipe: Recipe{AcceptTotals: []string{"all"}}})
	s := sampleOf(t, c, "KR-1")
	from := map[string]string{
		"SiO2": "standard", "Al2O3": "assumed 1.5 % relative for WD-XRF", "FeO": "assumed 1.5 % relative for WD-XRF", "Pb": "assumed 1.5 % relative for WD-XRF",
		"LOI": "assumed", "Cu": "mean of 2 determinations", "S": "assumed 1 % relative for wet chemistry", "Zn": "assumed 10 % relative for handheld XRF", "O=S": "oxygen counted too much",
	}
	for _, p := range s.AsReported.Parts {
		if p.Known() {
			if !p.HasU() || p.U == 0 || !strings.Contains(p.UNote, from[p.ID]) || from[p.ID] == "" {
				t.Errorf("%s is %s from %q", p.ID, p.Text(), p.UNote)
			}
		}
		if len(p.From) == 0 {
			t.Errorf("%s comes from no cell", p.ID)
		}
	}
	for id, limit := range map[string]float64{"MgO": 0.05, "As": 0.002, "Sn": 0.005} {
		if q, _ := s.AsReported.Get(id); q.Class != quantity.Below || math.Abs(q.Limit-limit) > 1e-12 {
			t.Errorf("%s is %s, want below %g", id, q.Text(), limit)
		}
	}
	if s.Total.WithLimits-s.Total.Measured < 0.05 {
		t.Errorf("the sum is %v, want a pair", s.Total)
	}
}

func TestBelowLimitCounts(t *testing.T) {
	files := map[string]string{"samples.csv": kinds, "xrf.csv": "Sample,SiO2,FeO*,MgO\n,wt%,wt%,wt%\nKR-1,40,58,<2\n\n* total iron as FeO\n"}
	for rule, total := range map[BelowLimit]float64{"": 99, CountZero: 98, CountHalf: 99, CountLimit: 100} {
		c := load(t, files, Config{Recipe: Recipe{BelowLimit: rule}})
		checkdata.Near(t, "SiO2 with "+string(rule), sampleOf(t, c, "KR-1").Composition.Wt("SiO2"), 4000/total, 1e-9)
	}
}

func TestPrillsByRecipe(t *testing.T) {
	wt := func(x float64) quantity.Quantity { return quantity.WithU(x, 0, "wt%", "") }
	files := map[string]string{"samples.csv": kinds, "xrf.csv": "Sample,SiO2,FeO*,Cu\n,wt%,wt%,wt%\nKR-1,40,57,2.5\nLS-1,40,58,1.08\n\n* total iron as FeO\n"}
	metal := []SampleMetal{
		{Sample: "kr-1", Prills: chem.Prills{Metal: wt(1.4), Copper: wt(96), Iron: wt(3)}, Line: 9},
		{Sample: "LS-1", Prills: chem.Prills{Metal: wt(1.28), Copper: wt(78), Iron: wt(0)}, Sieved: true, Line: 10},
	}
	for rule, want := range map[PrillRule][2]float64{"": {2.5, 1.08}, PrillsWithout: {1.1724, 1.08}, PrillsWith: {2.5, 2.0646}} {
		c := load(t, files, Config{Recipe: Recipe{Prills: rule, Metal: metal}})
		for i, id := range []string{"KR-1", "LS-1"} {
			s := sampleOf(t, c, id)
			checkdata.Near(t, "Cu of "+id+" "+string(rule), s.AsReported.Wt("Cu"), want[i], 0.0005)
			checkdata.Near(t, "with metal", s.CopperWith.Value, [2]float64{2.5, 2.0646}[i], 0.0005)
			checkdata.Near(t, "without", s.CopperWithout.Value, [2]float64{1.1724, 1.08}[i], 0.0005)
		}
	}
	metal[0].Metal = wt(5)
	c := load(t, files, Config{Recipe: Recipe{Prills: PrillsWithout, Metal: metal}})
	wantNotice(t, c.Notices, source.Error, "PRILLS", "line 9", "KR-1", "too large")
	metal[0].Sample = "KR-11"
	c = load(t, files, Config{Recipe: Recipe{Metal: metal}})
	wantNotice(t, c.Notices, source.Error, "UNKNOWN_SAMPLE", "line 9", `"KR-11"`, `did you mean "KR-1"`)
}

func TestIgnitionIsJudged(t *testing.T) {
	head := "Sample,SiO2,Al2O3,Fe2O3T,FeOT,CaO,LOI\n,wt%,wt%,wt%,wt%,wt%,wt%\n"
	c := load(t, map[string]string{"samples.csv": kinds, "xrf.csv": head +
		"KR-1,33,6,,54,4,3\nLS-1,33,6,,57,4,-3\nOV-1,40,20,30,,12,-2\nFW-1,60,25,10,,4,11.2\n"}, Config{Recipe: Recipe{AcceptTotals: []string{"all"}}})
	wantNotice(t, c.Notices, source.Warning, "LOI_OF_SLAG", "KR-1", "charcoal, sulphide or weathering")
	wantNotice(t, c.Notices, source.Warning, "LOI_NEGATIVE", "OV-1")
	wantNotice(t, c.Notices, source.Warning, "MIXED_BASES", "FW-1", "ignited: [xrf.csv]")
	for _, n := range c.Notices {
		if strings.HasPrefix(n.Code, "LOI_") && (strings.Contains(n.Message, "LS-1") || strings.Contains(n.Message, "FW-1")) {
			t.Errorf("told without need: %s", n.Error())
		}
	}
}

// Oxides of ignited powder are brought to the dry sample: 60 wt% at a loss of
// 11.2 is 53.28.
func TestIgnitedPowder(t *testing.T) {
	files := map[string]string{"samples.csv": kinds,
		"xrf.csv": "Sample,SiO2,Al2O3,Fe2O3T,CaO\n,wt%,wt%,wt%,wt%\nFW-1,60,25,10,4.5\n", "loi.csv": "Wet chemistry\nSample,LOI,Cu\n,wt%,wt%\nFW-1,11.2,0\n"}
	c := load(t, files, Config{Recipe: Recipe{Ignited: []string{"xrf.csv"}}})
	s := sampleOf(t, c, "FW-1")
	checkdata.Near(t, "SiO2", s.AsReported.Wt("SiO2"), 60*0.888, 1e-9)
	checkdata.Near(t, "sum", s.Total.Measured, 99.5*0.888+11.2, 1e-9)
	c = load(t, files, Config{Recipe: Recipe{Ignited: []string{"xfr.csv"}, IgnitedLines: []int{9}}})
	wantNotice(t, c.Notices, source.Error, "MISSING_FILE", "line 9", `"xfr.csv"`, `did you mean "xrf.csv"`)
	delete(files, "loi.csv")
	c = load(t, files, Config{Recipe: Recipe{Ignited: []string{"xrf.csv"}}})
	wantNotice(t, c.Notices, source.Error, "NO_LOI", "FW-1")
}

// A slag of FeO 48.00 that gained 4.10 on ignition held 1.245 wt% of volatiles
// (constructed case N04).
func TestVolatilesByRecipe(t *testing.T) {
	files := map[string]string{"samples.csv": kinds, "xrf.csv": "Sample,SiO2,FeO*,CaO,LOI\n,wt%,wt%,wt%,wt%\nKR-1,40,48,10,-4.10\n\n* total iron as FeO\n"}
	c := load(t, files, Config{})
	checkdata.Near(t, "sum as measured", sampleOf(t, c, "KR-1").Total.Measured, 98, 1e-9)
	c = load(t, files, Config{Recipe: Recipe{LOI: LOIVolatiles}})
	s := sampleOf(t, c, "KR-1")
	checkdata.Near(t, "volatiles", s.AsReported.Wt("LOI"), 1.245, 0.001)
	checkdata.Near(t, "sum with them", s.Total.Measured, 99.245, 0.001)
	if q, _ := s.Merged.Get("LOI"); q.Value != -4.10 {
		t.Errorf("the loss observed is now %g", q.Value)
	}
}

// Total iron by one laboratory, ferrous by another.
func TestIronAcrossTables(t *testing.T) {
	wet := func(feo string) map[string]string {
		return map[string]string{"samples.csv": kinds, "xrf.csv": "WD-XRF\nSample,SiO2,CaO,Fe2O3T,±\n,wt%,wt%,wt%,wt%\nKR-1,40,5,60,0.5\n", "wet.csv": "Wet chemistry\nSample,FeO (titr.),±,S\n,wt%,wt%,wt%\nKR-1," + feo + ",0.3,0.1\n"}
	}
	// By hand: 60 − 1.11134·55 = −1.12, tolerance 2·√(0.25 + 1.235·0.09) = 1.20.
	for _, n := range load(t, wet("55"), Config{}).Notices {
		if n.Code == "IRON_INCONSISTENT" {
			t.Errorf("told within the tolerance: %s", n.Error())
		}
	}
	// 60 − 1.11134·56 = −2.24.
	c := load(t, wet("56"), Config{})
	wantNotice(t, c.Notices, source.Warning, "IRON_INCONSISTENT", "KR-1", "-2.24", "1.20")
}

func TestRecipeLinesSayWhatIsStated(t *testing.T) {
	defaults := Recipe{}.Lines()
	for _, l := range defaults {
		if l.Stated || l.Key == "" || l.Value == "" || l.Means == "" {
			t.Errorf("default line %+v", l)
		}
	}
	r := Recipe{Basis: chem.LOIFree, Iron: map[string]chem.Iron{Ore: chem.AsFeO}, BelowLimit: CountZero}
	want := map[string]string{"basis": "loi_free", "iron": "slag: FeO, ore: FeO, all else: Fe2O3", "below_limit": "zero"}
	lines := r.Lines()
	if len(lines) != len(defaults) {
		t.Errorf("%d lines, %d by default", len(lines), len(defaults))
	}
	for _, l := range lines {
		if value, stated := want[l.Key]; l.Stated != stated || stated && l.Value != value {
			t.Errorf("line %+v, want %q", l, value)
		}
	}
}
