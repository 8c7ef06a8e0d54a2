package quality

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/source/checkdata"
)

func TestShippedCertificates(t *testing.T) {
	if len(Certificates()) < 8 {
		t.Fatalf("%d certificates", len(Certificates()))
	}
	for _, c := range Certificates() {
		for _, v := range c.Values {
			if _, ok := chem.LookupAnalyte(v.Analyte); !ok {
				t.Errorf("%s: %q is no analyte", c.Material, v.Analyte)
			}
			if !(v.Value > 0) || v.Citation == "" || v.Status == "" {
				t.Errorf("%s %s: %+v", c.Material, v.Analyte, v)
			}
			u, note := v.U()
			if (v.Kind == NoKind) != math.IsNaN(u) || note == "" {
				t.Errorf("%s %s: u %g, %q", c.Material, v.Analyte, u, note)
			}
			if u > 0.25*v.Value && v.Analyte != "P2O5" && v.Analyte != "Fe2O3" { // W-2 prints such ±
				t.Errorf("%s %s: %g ± %g", c.Material, v.Analyte, v.Value, u)
			}
		}
	}
	// Not to be shipped: their certificates were not read.
	for _, name := range []string{"BCR-2", "AGV-2", "SRM 278", "SRM 2780", "SRM 679"} {
		if _, ok := CertificateOf(name, nil); ok {
			t.Errorf("%s is shipped", name)
		}
	}
}

// The certificate of BHVO-2 prints element and oxide; they agree within
// rounding (crustal.usgs.gov, seen).
func TestElementAndOxideOfOneCertificate(t *testing.T) {
	c, ok := CertificateOf("BHVO-2", nil)
	if !ok {
		t.Fatal("no BHVO-2")
	}
	for _, v := range c.Values {
		oxide := map[string]string{"Al": "Al2O3", "Ca": "CaO", "Fe": "Fe2O3T", "K": "K2O", "Mg": "MgO", "Na": "Na2O", "P": "P2O5", "Si": "SiO2"}[v.Analyte]
		if oxide == "" {
			continue
		}
		o, ok := c.For(oxide, "", "")
		f, err := chem.Factor(v.Analyte, oxide)
		if !ok || err != nil {
			t.Fatal(oxide, err)
		}
		if d := math.Abs(v.Value*f - o.Value); d > 0.6*math.Pow(10, math.Ceil(math.Log10(o.PlusMinus))) && d > 0.02*o.Value {
			t.Errorf("%s as %s is %.3f, the certificate prints %g", v.Analyte, oxide, v.Value*f, o.Value)
		}
	}
	// 1290 ppm Mn stated as MnO: 0.16657 wt%.
	mno, ok := c.For("MnO", "", "")
	checkdata.Near(t, "MnO", mno.Value, 0.1290*1.29122, 1e-5)
	feo, _ := c.For("FeOT", "", "")
	checkdata.Near(t, "iron as FeO", feo.Value, 12.3*0.89981, 1e-3)
	if _, ok := c.For("FeO", "", ""); ok {
		t.Error("ferrous iron is scored against total iron")
	}
	if !ok {
		t.Error("no MnO from Mn")
	}
}

func TestNamesOfControls(t *testing.T) {
	own := []Certificate{{Material: "OV-QC1", Own: true}, {Material: "BHVO-2", Own: true, Producer: "mine"}}
	for row, want := range map[string]string{
		"BHVO-2": "BHVO-2", "BHVO2": "BHVO-2", "bhvo 2": "BHVO-2", "USGS BHVO-2 (3)": "BHVO-2", "BHVO-2-2": "BHVO-2", "QC BHVO_2 run 4": "BHVO-2",
		"SL-1": "SL-1", "Std SL1": "SL-1", "SL-10": "", "SL-11 a": "", "W-2": "W-2", "W-2a": "", "OREAS 502c": "OREAS 502c", "OREAS502C": "OREAS 502c",
		"Blank": "", "OV-QC1 dup": "OV-QC1", "OV-QC10": "", "": "",
	} {
		c, ok := CertificateOf(row, own)
		if ok != (want != "") || c.Material != want {
			t.Errorf("%q is taken for %q, want %q", row, c.Material, want)
		}
	}
	if c, _ := CertificateOf("BHVO-2", own); c.Producer != "mine" {
		t.Error("the user's own certificate does not come first")
	}
}

func TestBasisOfACertificate(t *testing.T) {
	c, _ := CertificateOf("CCU-1f", nil)
	for basis, want := range map[string]float64{"dry": 23.56, "as received": 23.33, "": 23.33} {
		if v, ok := c.For("Cu", basis, ""); !ok || v.Value != want {
			t.Errorf("Cu, basis %q: %g, want %g", basis, v.Value, want)
		}
	}
	if v, _ := c.For("Cu", "as received", "instrumental (XRF)"); v.Value != 23.31 {
		t.Errorf("by instrument: %g", v.Value)
	}
}

// The ± of a certificate means different things (section 4.1 of the notes on
// quality: USGS one standard deviation, CCRMP 95 % interval, NIST expanded).
func TestKindsOfPlusMinus(t *testing.T) {
	for text, want := range map[string]Kind{"1s": OneSD, "SD": OneSD, "95% CI": CI95, "95 % confidence interval": CI95, "k = 2": Expanded, "Expanded": Expanded, "SD of laboratories": Laboratories} {
		if got, err := ParseKind(text); err != nil || got != want {
			t.Errorf("%q is %q, %v", text, got, err)
		}
	}
	if _, err := ParseKind("tolerance"); err == nil || !strings.Contains(err.Error(), "sd of laboratories") {
		t.Errorf("%v", err)
	}
	for _, c := range []struct {
		c    Certified
		want float64
	}{
		{Certified{PlusMinus: 0.2, Kind: OneSD}, 0.2},
		{Certified{PlusMinus: 0.2, Kind: CI95}, 0.1},
		{Certified{PlusMinus: 0.2, Kind: Expanded}, 0.1},
		{Certified{PlusMinus: 0.2, Kind: Laboratories, Laboratories: 16}, 0.05},
		{Certified{PlusMinus: 0.2, Kind: Laboratories}, 0.2},
	} {
		u, _ := c.c.U()
		checkdata.Near(t, string(c.c.Kind), u, c.want, 1e-12)
	}
}
