package index

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

// Twelve compositions, most of them published (Wątroba 2012), whose indices
// were worked apart from this program; see testdata/slag/README.md.
func TestWorkedSlags(t *testing.T) {
	checked := 0
	for _, s := range worked.Slags(t) {
		for _, v := range Table(s.Melt) {
			if want, ok := s.Want[v.Key]; ok {
				worked.Printed(t, s.ID+" "+v.Key, v.Quantity.Value, want)
				checked++
			}
		}
	}
	if checked != 12*5 {
		t.Errorf("%d values checked, want 60", checked)
	}
}

// PB-31 with its intermediate values, worked apart from this program.
func TestWorkedSlagInDetail(t *testing.T) {
	m := worked.Melt(t, "SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 SO3=0.3 CuO=3.0")
	w, x := m.Wt, m.Wt.Mol()
	checkdata.Near(t, "CaO/SiO2", LimeSilica(w), 0.0465, 0.00005)
	checkdata.Near(t, "CaO/SiO2 molar", LimeSilica(x), 0.0498, 0.00005)
	checkdata.Near(t, "(CaO+MgO)/SiO2", EarthsSilica(w), 0.0814, 0.00005)
	checkdata.Near(t, "(CaO+MgO)/(SiO2+Al2O3)", EarthsAcids(w), 0.0680, 0.00005)
	checkdata.Near(t, "silicate degree, alumina as acid", SilicateDegree(x, AluminaAcid), 1.6909, 0.00005)
	checkdata.Near(t, "silicate degree, alumina as base", SilicateDegree(x, AluminaBase), 1.1541, 0.00005)
	checkdata.Near(t, "NBO/T", NBOT(x, 0), 2.0676, 0.00005)
	checkdata.Near(t, "optical basicity", OpticalBasicity(x), 0.6853, 0.00005)
	checkdata.Near(t, "compensated", CompensatedBasicity(x), 0.6729, 0.00005)
}

// What the definitions say about the pure silicates, by stoichiometry.
func TestStoichiometricSilicates(t *testing.T) {
	mol := func(parts map[slag.Oxide]float64) (x slag.Wt) {
		var sum float64
		for o, n := range parts {
			x[o] = n
			sum += n
		}
		for o := range x {
			x[o] /= sum
		}
		return x
	}
	tests := []struct {
		name         string
		x            slag.Wt
		degree, nbot float64
	}{
		{"2FeO·SiO2", mol(map[slag.Oxide]float64{slag.FeO: 2, slag.SiO2: 1}), 1, 4},
		{"FeO·SiO2", mol(map[slag.Oxide]float64{slag.FeO: 1, slag.SiO2: 1}), 2, 2},
		{"4FeO·3SiO2", mol(map[slag.Oxide]float64{slag.FeO: 4, slag.SiO2: 3}), 1.5, 8.0 / 3},
		{"2FeO·3SiO2", mol(map[slag.Oxide]float64{slag.FeO: 2, slag.SiO2: 3}), 3, 4.0 / 3},
		{"SiO2", mol(map[slag.Oxide]float64{slag.SiO2: 1}), math.Inf(1), 0},
		{"K2O·Al2O3·2SiO2", mol(map[slag.Oxide]float64{slag.K2O: 1, slag.Al2O3: 1, slag.SiO2: 2}), 4, 0},
	}
	for _, tt := range tests {
		if got := SilicateDegree(tt.x, AluminaNeutral); got != tt.degree {
			checkdata.Near(t, tt.name+" silicate degree", got, tt.degree, 1e-12)
		}
		checkdata.Near(t, tt.name+" NBO/T", NBOT(tt.x, 0), tt.nbot, 1e-12)
	}
	fayalite := tests[0].x
	checkdata.Near(t, "optical basicity of fayalite", OpticalBasicity(fayalite), 0.74, 1e-12)
	checkdata.Near(t, "the same compensated", CompensatedBasicity(fayalite), 0.74, 1e-12)
}

func TestFerricRamp(t *testing.T) {
	for share, want := range map[float64]float64{0: 0, 0.3: 0, 0.4: 0.5, 0.5: 1, 1: 1} {
		checkdata.Near(t, "share in tetrahedra", TetrahedralFerric(share), want, 1e-12)
	}
	// A network former lowers NBO/T.
	x := worked.Melt(t, "SiO2=50 Fe2O3=20 CaO=30").Wt.Mol()
	if !(NBOT(x, 1) < NBOT(x, 0)) {
		t.Error("ferric iron in tetrahedra must lower NBO/T")
	}
}

// With all iron as FeO or as Fe2O3 the ratios that count all iron agree.
func TestIronFormsAgree(t *testing.T) {
	a, b := worked.Melt(t, "SiO2=30 FeO=50.029").Wt, worked.Melt(t, "SiO2=30 Fe2O3=55.6").Wt
	checkdata.Near(t, "FeO/SiO2", FerrousSilica(b), FerrousSilica(a), 1e-4)
	checkdata.Near(t, "Fe/SiO2", IronSilica(b), 38.888/30, 1e-4)
	checkdata.Near(t, "k_v", Bachmann(b), Bachmann(a), 1e-4)
	for i, v := range Table(slag.FromWt(a)) {
		if v.Key == "feo_sio2" || v.Key == "fe_sio2" {
			checkdata.Near(t, v.Key, Table(slag.FromWt(b))[i].Quantity.Value, v.Quantity.Value, 1e-4)
		}
	}
}

// The drawn uncertainty of a ratio of two independent parts against the law of
// propagation, u²(r)/r² = u²(a)/a² + u²(b)/b²; 2000 draws are good to 1.6 %
// (one standard deviation), and the ratio's second-order term is below 1 %.
func TestUncertaintyOfRatio(t *testing.T) {
	c, err := chem.NewComposition(
		chem.Part{ID: "SiO2", Quantity: quantity.WithU(34, 1.0, "wt%", "")},
		chem.Part{ID: "CaO", Quantity: quantity.WithU(12, 0.5, "wt%", "")},
		chem.Part{ID: "FeO", Quantity: quantity.New(48, "wt%", "none")})
	if err != nil {
		t.Fatal(err)
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	table := Table(m)
	r := 12.0 / 34
	checkdata.Near(t, "CaO/SiO2", table[0].Quantity.Value, r, 1e-12)
	checkdata.Near(t, "u", table[0].Quantity.U, r*math.Hypot(1.0/34, 0.5/12), 0.05*table[0].Quantity.U)
	if !strings.Contains(table[0].Quantity.UNote, "FeO") {
		t.Errorf("note %q does not name the part without uncertainty", table[0].Quantity.UNote)
	}
	for i, v := range TableOf(m, Draws, Seed) {
		if v.Quantity.U != table[i].Quantity.U {
			t.Errorf("%s: the same seed gives another uncertainty", v.Key)
		}
	}
	if TableOf(m, Draws, 2)[0].Quantity.U == table[0].Quantity.U {
		t.Error("another seed gives the very same uncertainty")
	}
}

func TestWhatCannotBeFormedOrIsDoubtful(t *testing.T) {
	codes := func(text, key string) string {
		for _, v := range Table(worked.Melt(t, text)) {
			if v.Key == key {
				return strings.Join(v.Notices.Codes(), " ")
			}
		}
		t.Fatalf("no index %s", key)
		return ""
	}
	tests := []struct{ melt, key, want string }{
		{"FeO=80 CaO=20", "cao_sio2", "INDEX_UNDEFINED"},
		{"FeO=80 CaO=20", "optical_basicity", ""},
		{"SiO2=100", "silicate_degree", "INDEX_UNDEFINED"},
		{"SiO2=20 FeO=80", "nbo_t", "NBOT_ABOVE_4"},
		{"SiO2=29.486 FeO=70.514", "nbo_t", ""},
		{"SiO2=50 FeO=10 Fe2O3=40", "nbo_t", "NBOT_FERRIC"},
		{"SiO2=40 FeO=45 ZnO=15", "optical_basicity", "OPTICAL_DOUBTFUL_OXIDES"},
		{"SiO2=60 Al2O3=38 K2O=2", "optical_basicity_corrected", "OPTICAL_NO_DONOR"},
		{"SiO2=35 FeO=60 CaO=5", "optical_basicity_corrected", ""},
	}
	for _, tt := range tests {
		if got := codes(tt.melt, tt.key); got != tt.want {
			t.Errorf("%s of %s: notices %q, want %q", tt.key, tt.melt, got, tt.want)
		}
	}
	seen := map[string]bool{}
	for _, v := range Table(worked.Melt(t, "SiO2=35 FeO=60 CaO=5")) {
		if seen[v.Key] || v.Label == "" || v.Source == "" || v.Quantity.Unit != "1" || v.Quantity.UNote == "" {
			t.Errorf("incomplete or repeated: %+v", v)
		}
		seen[v.Key] = true
	}
}
