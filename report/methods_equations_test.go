package report

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/audit"
	"smeltbook/assay/chem"
	"smeltbook/assay/dressing"
	"smeltbook/assay/fragment"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/phase/hearth"
	"smeltbook/phase/index"
	"smeltbook/phase/lining"
	"smeltbook/phase/redox"
	"smeltbook/phase/slag"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// The equations of the methods, computed from their printed text, give what the
// code gives.

// aSlag has no manganese and zinc, which the published ratio of Utigard & Warczok
// does not have either.
func aSlag() (w slag.Wt, signs map[string]float64) {
	w[slag.SiO2], w[slag.FeO], w[slag.CaO], w[slag.Al2O3], w[slag.MgO], w[slag.K2O], w[slag.Na2O] = 31, 50, 9, 6, 2, 1, 1
	signs = map[string]float64{"Cr₂O₃": 0, "ZrO₂": 0, "Fe₂O₃": 0, "PbO": 0, "Cu₂O": 0, "MnO": 0, "BaO": 0}
	for o, x := range w {
		if x > 0 {
			signs[formulaText(slag.Oxide(o).String())] = x
		}
	}
	return w, signs
}

func near(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-6*math.Abs(want)) {
		t.Errorf("%s: by the printed equation %g, by the code %g", what, got, want)
	}
}

func with(signs map[string]float64, more ...any) map[string]float64 {
	out := map[string]float64{}
	for k, v := range signs {
		out[k] = v
	}
	for i := 0; i < len(more); i += 2 {
		out[more[i].(string)] = more[i+1].(float64)
	}
	return out
}

func TestPrintedViscosities(t *testing.T) {
	const tc = 1240.0
	T := tc + 273.15
	w, oxides := aSlag()
	mol := w.Mol()
	for _, m := range flow.Models() {
		law, err := m.Law(w)
		if err != nil {
			t.Fatal(err)
		}
		f, ok := viscosityFormulas()[m.Key()]
		if !ok {
			t.Errorf("no equation for %s", m.Name())
			continue
		}
		e := equations(f)
		signs := map[string]float64{"T": T}
		switch m.Key() {
		case "utigard_warczok_1995":
			a, b := value(t, e["a"], oxides), value(t, e["b"], oxides)
			v := value(t, e["V"], map[string]float64{"a": a, "b": b})
			near(t, m.Name(), math.Pow(10, value(t, e["log η"], with(signs, "V", v))), law.At(tc))
		case "urbain_1981", "urbain_1987": // B has coefficients by the dozen: from the code
			a := math.Exp(-value(t, e["−ln A"], with(signs, "B", law.B)))
			near(t, m.Name(), value(t, e["η"], with(signs, "A", a, "B", law.B)), law.At(tc))
		case "riboud_1981":
			groups := with(signs, "C", mol[slag.CaO]+mol[slag.MgO]+mol[slag.FeO], "N", mol[slag.Na2O]+mol[slag.K2O], "L", mol[slag.Al2O3])
			near(t, m.Name(), value(t, e["η"], with(signs, "A", math.Exp(value(t, e["ln A"], groups)), "B", value(t, e["B"], groups))), law.At(tc))
		case "mills_sridhar_1999":
			basicity := map[string]float64{"Λ": index.CompensatedBasicity(mol)}
			near(t, m.Name(), value(t, e["η"], with(signs, "A", math.Exp(value(t, e["ln A"], basicity)), "B", 1000*math.Exp(value(t, e["ln (B / 1000)"], basicity)))), law.At(tc))
		case "giordano_2008":
			near(t, m.Name(), math.Pow(10, value(t, e["log η"], with(signs, "B", law.B/math.Ln10, "C", law.C))), law.At(tc))
		default:
			t.Errorf("the equation of %s is not checked", m.Name())
		}
	}
}

func TestPrintedFlow(t *testing.T) {
	b := &builder{notebook: &notebook.Notebook{}, flowAt: []flowConditions{{tc: 1200, depth: 50, time: 30}}}
	e := of(t, b.settlingMethod().formulas, "v_S")
	bath := flow.Bath{Viscosity: 0.4, SlagDensity: 3500, MetalDensity: 7800, MetalViscosity: 0.003}
	signs := map[string]float64{"g": 9.80665, "d": 4e-4, "ρ_m": 7800, "ρ_s": 3500, "η": 0.4, "η_m": 0.003}
	rigid := value(t, e["v_S"], signs)
	near(t, "Stokes", rigid, bath.Velocity(flow.Stokes, 4e-4))
	near(t, "Hadamard and Rybczyński", value(t, e["v_H"], with(signs, "v_S", rigid)), bath.Velocity(flow.HadamardRybczynski, 4e-4))
	s := flow.Roscoe()
	factor, err := s.Factor(0.2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "crystals", value(t, "(1 − A f)^(−N)", map[string]float64{"A": s.A, "f": 0.2, "N": s.N}), factor)
}

func TestPrintedOxygen(t *testing.T) {
	b := &builder{study: &study.Study{}, notebook: &notebook.Notebook{}, redoxAt: []redoxConditions{{tc: 1200}}}
	formulas := b.oxygenMethod().formulas
	texts := strings.Split(joinedText(formulas[0]), "; ")
	law := equations(formulas[0])["log f_O₂"]
	for _, x := range []struct {
		line   int
		tc     float64
		buffer redox.Buffer
	}{{1, 1200, redox.IronWustite()}, {3, 1000, redox.CopperCuprite()}} {
		T := x.tc + 273.15
		_, text, ok := strings.Cut(texts[x.line], "μ = ")
		if !ok {
			t.Fatalf("%q", texts)
		}
		mu := value(t, text, map[string]float64{"T": T})
		want, _ := x.buffer.LogFO2(x.tc)
		near(t, x.buffer.Label, mu/(8.314462618*T*math.Ln10), want)
		near(t, "potential", value(t, strings.Replace(law, "μ (T)", "μ", 1), map[string]float64{"μ": mu, "R": 8.314462618, "T": T}), want)
	}
	w, _ := aSlag()
	const tc, logF = 1250.0, -9.0
	split, err := redox.SplitIron(w, tc, logF)
	if err != nil {
		t.Fatal(err)
	}
	var sum float64
	mol := w.Mol()
	for _, m := range regexp.MustCompile(`(−?[\d.]+) for ([A-Za-z₂₃]+)`).FindAllStringSubmatch(formulas[1].where[1].means, -1) {
		d, err := strconv.ParseFloat(strings.Replace(m[1], "−", "-", 1), 64)
		if err != nil {
			t.Fatal(err)
		}
		for o, x := range mol {
			if formulaText(slag.Oxide(o).String()) == m[2] {
				sum += d * x
			}
		}
	}
	ratio := equations(formulas[1])["ln (X_Fe₂O₃/X_FeO)"]
	got := value(t, strings.Replace(ratio, "∑_i d_i X_i", "s", 1), map[string]float64{"f_O₂": math.Pow(10, logF), "T": tc + 273.15, "s": sum})
	if math.Abs(got-math.Log(split.R)) > 1e-4 { // the terms of pressure at 1 bar are as small
		t.Errorf("ferric iron: %g by the printed equation, %g by the code", got, math.Log(split.R))
	}
}

func joinedText(f formula) string {
	return strings.Join(linesOf(f), "; ")
}

func TestPrintedCopper(t *testing.T) {
	b := &builder{notebook: &notebook.Notebook{}, copperAt: []copperConditions{{tc: 1200, lo: -10, hi: -9}}, forms: formsUsed{split: true, firings: true, heap: true, levers: true}}
	w, _ := copper.Dissolved(1200, -9, 1, 27)
	star, _ := redox.LiquidCopperOxide().LogFO2(1200)
	near(t, "dissolved copper", value(t, of(t, b.dissolvedMethod().formulas, "w")["w"], map[string]float64{"c": 27, "a_Cu": 1, "p_O₂": 1e-9, "p_O₂^*": math.Pow(10, star)}), w)
	forms := b.formsMethod().formulas
	prills, err := copper.MetalFromArea(0.02, 3.6)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "prills", value(t, of(t, forms, "w_m")["w_m"], map[string]float64{"φ": 0.02, "ρ_Cu": 8.96, "ρ_s": 3.6}), prills)
	ore, inSlag := quantity.WithU(12, 1e-9, "wt%", ""), quantity.WithU(1, 1e-9, "wt%", "")
	y, err := copper.SlagPerCopper(ore, inSlag, []copper.Tracer{{Name: "SiO2", Ore: quantity.WithU(20, 1e-9, "wt%", ""), Slag: quantity.WithU(30, 1e-9, "wt%", ""), AllToSlag: true, OnlyFromOre: true}})
	if err != nil {
		t.Fatal(err)
	}
	e := of(t, forms, "s")
	s := value(t, e["s"], map[string]float64{"t_o": 20, "t_s": 30})
	near(t, "slag per copper", value(t, e["S"], map[string]float64{"s": s, "w_o": 12, "w_s": 1}), (y.SlagPerCopper.Lo+y.SlagPerCopper.Hi)/2)
}

func TestPrintedWall(t *testing.T) {
	b := &builder{notebook: &notebook.Notebook{}, linings: []liningUsed{{atmosphere: "reducing", limit: 6, clay: true}}, fragments: []fragmentsUsed{{layers: true}}}
	c, err := chem.ParseComposition("SiO2=62 Al2O3=18 TiO2=1 FeO=6 CaO=3 MgO=2 K2O=3 Na2O=1")
	if err != nil {
		t.Fatal(err)
	}
	all, err := lining.Table(c)
	if err != nil {
		t.Fatal(err)
	}
	wall := b.wallMethod().formulas
	for _, v := range all {
		switch v.Key {
		case "schuen_c":
			f := 100 / (62 + 18.0)
			near(t, v.Label, value(t, of(t, wall, "t")["t"], map[string]float64{"A": 18 * f, "R": (15 + 1) * f}), v.Quantity.Value)
		case "bischof_quotient":
			m := func(o slag.Oxide, x, oxygen float64) float64 { return x / o.Mass() * oxygen }
			bases := m(slag.FeO, 6, 1) + m(slag.CaO, 3, 1) + m(slag.MgO, 2, 1) + m(slag.K2O, 3, 1) + m(slag.Na2O, 1, 1)
			near(t, v.Label, value(t, of(t, wall, "Q")["Q"], map[string]float64{"O_A": m(slag.Al2O3, 18, 3), "O_R": bases, "O_S": m(slag.SiO2, 62, 2)}), v.Quantity.Value)
		}
	}
	pieces := b.fragmentsMethod().formulas
	k := fragment.OfSagitta(60, 0, 3, 0)
	e := of(t, pieces, "k")
	near(t, "curvature", value(t, e["k"], map[string]float64{"s": 3, "c": 60}), k.K)
	for _, text := range strings.Split(e["D"], " = ") {
		near(t, "diameter", value(t, text, map[string]float64{"k": k.K, "s": 3, "c": 60}), 2/k.K)
	}
	near(t, "heat in the wall", value(t, of(t, pieces, "T")["T"], map[string]float64{"T_0": 10, "T_f": 1200, "x": 12, "κ": 0.5, "t": 7200}), hearth.Temperature(12, 2*math.Sqrt(0.5*7200), 1200, 10))
}

func TestPrintedDressing(t *testing.T) {
	mineral, sampling := malachite(t)
	b := &builder{notebook: &notebook.Notebook{}, dressings: []dressingUsed{{mineral: mineral, sampling: sampling}}}
	m := b.dressingMethod()
	e := of(t, m.formulas, "Y")
	two, err := dressing.FromAssays(quantity.WithU(9, 0.1, "wt%", ""), quantity.WithU(17, 0.1, "wt%", ""), quantity.WithU(3.5, 0.1, "wt%", ""))
	if err != nil {
		t.Fatal(err)
	}
	signs := map[string]float64{"f": 9, "c": 17, "t": 3.5, "m": mineral.Copper, "Y": two.Yield.Value}
	near(t, "yield", value(t, e["Y"], signs), two.Yield.Value)
	near(t, "recovery", value(t, e["R"], signs), two.Recovery.Value)
	near(t, "efficiency", value(t, e["E"], signs), dressing.SeparationEfficiency(two.Yield.Value, 9, 17, mineral.Copper))
	sd, err := sampling.FundamentalSD(10, 20, 1500)
	if err != nil {
		t.Fatal(err)
	}
	e = of(t, m.formulas, "s^2")
	a := 10 / mineral.Copper
	factor := value(t, e["m"], map[string]float64{"a": a, "ρ": mineral.Density, "γ": sampling.Gangue})
	near(t, "splitting", math.Sqrt(value(t, e["s^2"], map[string]float64{"f": sampling.Shape, "g": sampling.Range, "l": math.Sqrt(sampling.Liberation / 20), "m": factor, "d": 2, "M": 1500})), sd)
}

func malachite(t *testing.T) (dressing.Mineral, dressing.Sampling) {
	t.Helper()
	m, ok := dressing.LookupMineral("malachite")
	if !ok {
		t.Fatal("malachite is not known")
	}
	return m, dressing.DefaultSampling(m)
}

func TestPrintedQuality(t *testing.T) {
	b := &builder{}
	b.audited = &audit.Audit{References: []audit.Reference{{}}, Repeats: []audit.Repeat{{}}, Blanks: []audit.Blank{{Limits: quality.Detection{Detection: 1}}}}
	formulas := qualityFormulas(b.audited)
	e := of(t, formulas, "z′")
	s := quality.ScoresOf(5.2, 0.08, 5, 0.05, 0.12)
	signs := map[string]float64{"x̄": 5.2, "X": 5, "Δ": 5.2 - 5, "σ": 0.12, "u_x": 0.08, "u_X": 0.05}
	near(t, "recovery", value(t, e["R"], signs), quality.BiasOf(5.2, 0.08, 5, 0.05).Recovery)
	near(t, "z′", value(t, e["z′"], signs), s.ZPrime)
	near(t, "ζ", value(t, e["ζ"], signs), s.Zeta)
	d := quality.DetectionOf(0.01, 6, false)
	e = of(t, formulas, "L_D")
	student := map[string]float64{"t": d.Critical / 0.01, "s_B": 0.01}
	near(t, "detection", value(t, e["L_D"], student), d.Detection)
	near(t, "quantification", value(t, e["L_Q"], student), d.Quantification)
	near(t, "repeatability limit", value(t, of(t, formulas, "r")["r"], map[string]float64{"s": 0.3}), quality.RepeatabilityLimit(0.3))
}

func TestPrintedIndices(t *testing.T) {
	w, oxides := aSlag()
	near(t, "k_v", value(t, equations(indexFormulas()["bachmann_index"])["k_v"], oxides), index.Bachmann(w))
	for _, v := range study.Indices() {
		if _, ok := indexFormulas()[v.Key]; !ok && v.Source != "common practice" {
			t.Errorf("%s has no equation", v.Label)
		}
	}
}
