package sheet

import (
	"strings"
	"testing"

	"smeltbook/assay/chem"
)

func TestParseHeading(t *testing.T) {
	for text, want := range map[string]string{ // analyte, unit, method, basis, marker
		"SiO2":                     "SiO2",
		"SiO2 (wt%)":               "SiO2 wt%",
		"SiO₂ wt.%":                "SiO2 wt%",
		"SiO2\u00a0":               "SiO2",
		"Cu_ppm":                   "Cu ppm",
		"Cu\n(mg kg⁻¹)":            "Cu ppm",
		"ppm Cu":                   "Cu ppm",
		"Cu, μg/g":                 "Cu ppm",
		"Cu [g/t]":                 "Cu ppm",
		"Al2O3%":                   "Al2O3 wt%",
		"FeO tot. (%)":             "FeOT wt%",
		"Fe2O3 ges. (%)":           "Fe2O3T wt%",
		"Total Fe2O3":              "Fe2O3T",
		"Fe (as Fe2O3) %":          "Fe2O3T wt%",
		"Total iron as FeO":        "FeOT",
		"ΣFeO":                     "FeOT",
		"Loss on ignition (%)":     "LOI wt%",
		"LOI 950 °C":               "LOI",
		"GV (%)":                   "LOI wt%",
		"XRF-SiO2":                 "SiO2 m:XRF",
		"ME-XRF26 SiO2 %":          "SiO2 wt% m:ME-XRF26",
		"Cu AAS":                   "Cu m:AAS",
		"SiO2 (dry)":               "SiO2 b:dry",
		"SiO2 LOI-free":            "SiO2 b:loi-free",
		"Cu Error":                 "Cu u?",
		"Cu ±":                     "Cu u?",
		"± Cu":                     "Cu u?",
		"Cu 1σ":                    "Cu u1",
		"Cu 2SD (ppm)":             "Cu ppm u2",
		"u(SiO2)":                  "SiO2 u1",
		"U(SiO2)":                  "SiO2 u2",
		"Cu RSD%":                  "Cu u1 rel",
		"Cu LOD":                   "Cu LOD",
		"H2O−":                     "H2O-",
		"Bal":                      "LE",
		"Total %":                  "Total wt%",
		"Si02":                     "SiO2 repaired",
		"AI2O3":                    "Al2O3 repaired",
		"СаО":                      "CaO lookalike",
		"Cu / ppm":                 "Cu ppm",
		"SiO2/%":                   "SiO2 wt%",
		"w(SiO2) / %":              "SiO2 wt%",
		"Cu Concentration":         "Cu",
		"Cu Error1s":               "Cu u1",
		"Cu +/-":                   "Cu u?",
		"Fe2O3 (t)":                "Fe2O3T",
		"Cu ppm ±":                 "Cu ppm u?",
		"Cu/Fe":                    "",
		"Cu (old calibration)":     "",
		"Sample":                   "",
		"No.":                      "",
		"as":                       "",
		"s":                        "u1",
		"Basicity":                 "",
		"Total charge":             "",
		"Copper ore":               "",
		"lead time":                "",
		"Notes on S":               "",
		"FeO/SiO2":                 "",
		"SiO2+Al2O3":               "",
		"C1":                       "",
		"error in weighing of ore": "",
	} {
		h := parseHeading(text)
		var got []string
		if h.analyte != "" {
			got = append(got, h.analyte)
		}
		if h.unit != nil && h.analyte != "" {
			got = append(got, h.unit.name)
		}
		if h.method != "" && h.analyte != "" {
			got = append(got, "m:"+h.method)
		}
		if h.basis != "" && h.analyte != "" {
			got = append(got, "b:"+h.basis)
		}
		if m := h.marker; m != nil {
			switch {
			case m.limit != "":
				got = append(got, m.limit)
			case m.k == 1:
				got = append(got, "u1")
			case m.k == 2:
				got = append(got, "u2")
			default:
				got = append(got, "u?")
			}
			if m.relative {
				got = append(got, "rel")
			}
		}
		if h.repaired {
			got = append(got, "repaired")
		}
		if h.lookalike {
			got = append(got, "lookalike")
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("parseHeading(%q) = %q, want %q", text, s, want)
		}
	}
}

// TestEveryAlias reads every spelling that is known for an analyte, alone and
// with a unit, as that analyte or as ambiguous.
func TestEveryAlias(t *testing.T) {
	for _, a := range chem.Analytes() {
		for _, alias := range append([]string{a.ID}, a.Aliases...) {
			if alias == "" || hasUnit(alias) || strings.HasSuffix(alias, "%") {
				continue
			}
			for _, text := range []string{alias, alias + " (ppm)", alias + " [wt%]"} {
				h := parseHeading(text)
				if h.analyte != a.ID && h.ambiguous == "" {
					t.Errorf("%q = %q, want %q", text, h.analyte, a.ID)
				}
			}
		}
	}
}

func FuzzHeading(f *testing.F) {
	for _, a := range chem.Analytes() {
		f.Add(a.ID + " (wt%)")
	}
	for _, s := range []string{"ME-XRF26 SiO2 %", "u(SiO2)", "Cu\n(ppm)", "Fe (as Fe2O3) %", "± Cu", "((", "))", "%", "Cu, µg/g", "SiO2 (XRF, wt%)", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		h := parseHeading(s)
		if h.analyte != "" && !isAnalyte(h.analyte) {
			t.Fatalf("%q gave %q, which is no analyte", s, h.analyte)
		}
		// A letter more makes it another word: no analyte is found in part of one.
		if h.analyte != "" && h.marker == nil && len(s) < 40 {
			if again := parseHeading("QQ" + h.analyte); again.analyte != "" {
				t.Fatalf("a part of %q was read as %q", "QQ"+h.analyte, again.analyte)
			}
		}
		parseUnit(s)
		statedUnits(s, true)
	})
}

func TestCoverage(t *testing.T) {
	for text, want := range map[string]float64{
		"± is 1s of three beads": 1, "errors are 2σ": 2, "± = two standard deviations": 2, "uncertainty, k = 2": 2, "error (1 sd)": 1, "± 1 sigma": 1,
		"error of 12 s counting": 0, "± of two samples": 0, "uncertainties as stated": 0, "errors 0.2 sd": 0,
	} {
		if got := coverage(text); got != want {
			t.Errorf("%q: %g standard deviations, want %g", text, got, want)
		}
	}
}
