package report_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/report"
)

// The methods follow the settings of the first lines: what a setting leaves out is
// not told, and what it brings in is.
func TestMethodsFollowTheRecipe(t *testing.T) {
	const closed, ordered, wanted = "p_i = (100 x_i)/T", "as the notebook orders: XRF", "wanted by the notebook: Cu 3 %"
	for settings, want := range map[string]map[string]bool{
		"":                                  {closed: true, ordered: false, wanted: false, "(common practice)": true},
		"recipe: {basis: normalised}":       {closed: true},
		"recipe: {basis: reported}":         {closed: false, "as reported by the laboratory": true},
		"recipe: {basis: loi_free}":         {closed: false, "sums as found": true},
		"recipe: {prefer: [XRF]}":           {ordered: true},
		"quality: {target: {Cu: 3 %}}":      {wanted: true},
		"recipe: {ferric: none}":            {"all iron is ferrous in the melt": true},
		"seed: 77":                          {"200 draws of each composition, seed 77": true},
		"uncertainty: {XRF: 8 %}":           {"8 % relative": true},
		"recipe: {copper: {slag: Cu2O}}":    {closed: true},
		"likeness: {margin: 2}":             {"scatters": false},
		"charge: {ores: {A: }, batch: 0.5}": {"Charge and its products": false},
	} {
		dir := t.TempDir()
		front := "---\ntitle: T\ndata: [xrf.csv, samples.csv]\ngroups:\n  fired: {origin: experimental, kind: slag}\n"
		if settings != "" {
			front += settings + "\n"
		}
		front += "---\n"
		for name, text := range map[string]string{
			"notebook.md": front,
			"xrf.csv":     "XRF\nSample,SiO2,Al2O3,FeOT,CaO,MgO,Cu,Total\n,wt%,wt%,wt%,wt%,wt%,wt%,wt%\nA,32,5,52,6,1.5,2.5,100\nB,30,5,57,5,1,1.0,100\n",
			"samples.csv": "id,kind,origin\nA,slag,experimental\nB,slag,experimental\n",
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		s, _ := road(t, dir, report.Options{})
		e, _ := methodsOf(t, s, front+"```melting\ngroups: [fired, fired]\n```\n\n```methods\n```\n")
		all := words(e)
		for text, there := range want {
			if strings.Contains(all, text) != there {
				t.Errorf("%q: %q is told %t, want %t", settings, text, !there, there)
			}
		}
	}
}
