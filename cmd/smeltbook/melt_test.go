package main

import (
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"
)

// meltObject asks for one composition as JSON.
func meltObject(t *testing.T, args ...string) map[string]any {
	t.Helper()
	status, out, messages := call(append([]string{"melt", "--json"}, args...)...)
	if status != exitOK {
		t.Fatalf("%q ends with %d: %s", args, status, messages)
	}
	var o map[string]any
	if err := json.Unmarshal([]byte(out), &o); err != nil {
		t.Fatal(err)
	}
	return o
}

// The keys are a contract with scripts.
func TestMeltKeys(t *testing.T) {
	o := meltObject(t, "SiO2=30 FeO=50 CaO=10 Al2O3=6 MgO=1")
	for _, key := range []string{
		"sample", "liquidus_c", "liquidus_sd_c", "model_sd_c", "assay_sd_c", "first_phase", "in_range", "warnings",
		"solidus_c", "t_half_molten_c", "t_90_molten_c", "phases", "a_feo", "a_sio2", "reductions",
		"cao_sio2", "cao_mgo_sio2", "cao_mgo_sio2_al2o3", "silicate_degree", "nbo_t", "optical_basicity",
		"optical_basicity_corrected", "bachmann_index", "viscosity_pa_s", "viscosity_model", "density_kg_m3",
		"surface_tension_mn_m", "fe3_fe_total", "cu_dissolved_wt_pct", "at_c", "log_po2",
	} {
		if _, ok := o[key]; !ok {
			t.Errorf("no key %q", key)
		}
	}
	models := o["viscosity_pa_s"].(map[string]any)
	for _, key := range []string{"urbain_1981", "urbain_1987", "riboud_1981", "mills_sridhar_1999", "utigard_warczok_1995", "giordano_2008"} {
		if _, ok := models[key].(float64); !ok {
			t.Errorf("no viscosity by %s", key)
		}
	}
	phases := o["phases"].([]any)
	if len(phases) == 0 || phases[0].(map[string]any)["phase"] != o["first_phase"] {
		t.Errorf("phases %v do not begin with the first phase %v", phases, o["first_phase"])
	}
	if len(o["reductions"].([]any)) == 0 {
		t.Error("no reductions")
	}
	liquidus, t90, half := o["liquidus_c"].(float64), o["t_90_molten_c"].(float64), o["t_half_molten_c"].(float64)
	if !(liquidus > t90 && t90 > half) {
		t.Errorf("liquidus %g, 90 %% molten %g, half molten %g: not in order", liquidus, t90, half)
	}
}

// TestMeltAgainstWorkedSlag compares with the slag PB-31 of Wątroba 2012 (MSc
// dissertation, UCL, Table 15) as worked by hand with the published formulas:
// testdata/slag/worked.csv has the sources.
func TestMeltAgainstWorkedSlag(t *testing.T) {
	o := meltObject(t, "SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 SO3=0.3 CuO=3.0", "--at", "1250", "--log-po2", "-10")
	viscosity := o["viscosity_pa_s"].(map[string]any)
	for _, c := range []struct {
		name      string
		got       any
		want, tol float64
	}{
		{"Bachmann index", o["bachmann_index"], 1.34, 0.005},
		{"silicate degree", o["silicate_degree"], 1.44, 0.005},
		{"NBO/T", o["nbo_t"], 2.07, 0.005},
		{"optical basicity", o["optical_basicity"], 0.685, 0.0005},
		{"corrected", o["optical_basicity_corrected"], 0.673, 0.0005},
		{"Urbain 1981", viscosity["urbain_1981"], 2.626, 0.0005},
		{"Urbain 1987", viscosity["urbain_1987"], 0.751, 0.0005},
		{"Riboud 1981", viscosity["riboud_1981"], 1.855, 0.0005},
		{"Mills & Sridhar 1999", viscosity["mills_sridhar_1999"], 0.364, 0.0005},
		{"Utigard & Warczok 1995", viscosity["utigard_warczok_1995"], 0.281, 0.0005},
		{"density", o["density_kg_m3"], 3570, 5},
		{"ferric share", o["fe3_fe_total"], 0.0223, 0.00005},
		{"dissolved copper", o["cu_dissolved_wt_pct"], 1.00, 0.005},
	} {
		got, ok := c.got.(float64)
		if !ok || math.Abs(got-c.want) > c.tol {
			t.Errorf("%s = %v, want %g", c.name, c.got, c.want)
		}
	}
	if o["viscosity_model"] != "utigard_warczok_1995" {
		t.Errorf("default model %v", o["viscosity_model"])
	}
}

// A fayalitic slag begins with olivine: the primary fields of Bowen & Schairer
// 1932 and Schairer & Yagi 1952 (from memory).
func TestFayaliticSlagBeginsWithOlivine(t *testing.T) {
	for _, c := range []string{"SiO2=29.5 FeO=70.5", "SiO2=32 FeO=62 Al2O3=4", "SiO2=32 FeO=58 CaO=4 Al2O3=5"} {
		if first := meltObject(t, c)["first_phase"]; first != "olivine" {
			t.Errorf("%s begins with %v", c, first)
		}
	}
}

func TestMeltWarnings(t *testing.T) {
	for _, c := range []struct{ composition, at, want string }{
		{"SiO2=30 FeO=300", "1250", "sums to 330.0 wt%"},
		{"SiO2=35 FeO=40 Al2O3=25", "1250", "outside the calibrated range"},
		{"SiO2=32 FeO=68", "1195", "wt% of the slag is crystals"},
		{"SiO2=32 FeO=68", "900", "below its solidus, the slag is all crystals"},
	} {
		o := meltObject(t, c.composition, "--at", c.at)
		if !slices.ContainsFunc(o["warnings"].([]any), func(w any) bool { return strings.Contains(w.(string), c.want) }) {
			t.Errorf("%s: no warning with %q in %v", c.composition, c.want, o["warnings"])
		}
	}
}
