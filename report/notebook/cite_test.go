package notebook

import (
	"fmt"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

// set renders the prose of a notebook with every source echoing what it is asked.
func set(t *testing.T, body string) (string, *Notebook) {
	t.Helper()
	n, notices := Parse("notebook.md", []byte("---\ntitle: T\ndata: [a.csv]\n---\n"+body))
	if notices.Failed() {
		t.Fatal(notices)
	}
	r, notices := n.Blocks[0].(*Prose).Render(Sources{
		Ref: func(c Call) (string, string, source.Notices) {
			return "Entry of " + strings.Join(c.Args, "/"), "#e", nil
		},
		Cite: func(c Citation) (string, string, source.Notices) {
			if c.Key == "unknown" {
				return "", "", nil
			}
			return "Name <" + c.Key + ">", "#ref-1", nil
		},
	})
	if len(notices) > 0 {
		t.Fatal(notices)
	}
	return string(r.HTML), n
}

func TestCitations(t *testing.T) {
	link := func(key string) string { return `<a href="#ref-1">Name &lt;` + key + `&gt;</a>` }
	for _, tt := range []struct{ body, want string }{
		{"As [@a] says", "As <span class=\"cite\">(" + link("a") + ")</span> says"},
		{"[see @a:b.c, p. 12; @d]", "(see " + link("a:b.c") + ", p. 12; " + link("d") + ")"},
		{"[see\n@a]", "(see " + link("a") + ")"},
		{"[@unknown]", `<span class="cite">(@unknown)</span>`},
		{"[@a](https://example.org)", `<a href="https://example.org">@a</a>`},
		{"[a@b.org]", "<p>[a@b.org]</p>"},
		{"`[@a]`", "<code>[@a]</code>"},
		{`\[@a]`, "<p>[@a]</p>"},
		{"[@]", "<p>[@]</p>"},
		{"[nothing] [@a", "<p>[nothing] [@a</p>"},
	} {
		if got, _ := set(t, tt.body+"\n"); !strings.Contains(got, tt.want) {
			t.Errorf("%q: %q, want %q", tt.body, got, tt.want)
		}
	}
	_, n := set(t, "One [@a].\n\nTwo [see @b, p. 3; @c].\n")
	if got, want := fmt.Sprint(n.Citations()), "[{ a  5} {see b p. 3 7} { c  7}]"; got != want {
		t.Errorf("citations %s, want %s", got, want)
	}
}

func TestReferencesToEntries(t *testing.T) {
	got, n := set(t, "In {{ ref \"ternary\" \"table\" }} we see.\n")
	if !strings.Contains(got, `<a class="ref" href="#e">Entry of ternary/table</a>`) {
		t.Errorf("%q", got)
	}
	if len(n.Calls()) != 0 {
		t.Errorf("a reference counts as a value: %v", n.Calls())
	}
}

func TestFormulasInProse(t *testing.T) {
	for _, tt := range []struct{ body, want string }{
		{"SiO2, Al2O3 and CaO/SiO2 (Fe2SiO4)", "SiO₂, Al₂O₃ and CaO/SiO₂ (Fe₂SiO₄)"},
		{"the CaO–FeO–SiO2 triangle, SiO2-rich", "CaO–FeO–SiO₂ triangle, SiO₂-rich"},
		{"malachite Cu2(OH)2CO3 gives CO2", "Cu₂(OH)₂CO₃ gives CO₂"},
		{"**Cu2S**\nand *P2O5*", "<strong>Cu₂S</strong>\nand <em>P₂O₅</em>"},
		{"`SiO2` and [SiO2](https://example.org)", `<code>SiO2</code> and <a href="https://example.org">SiO2</a>`},
		{"KR-S01, LS-S08, KR-SO2, KF3, BH2, TP3 and OV-ORE-HP-1", "KR-S01, LS-S08, KR-SO2, KF3, BH2, TP3 and OV-ORE-HP-1"},
		{"SO2_a, Fe2O3T and No2", "SO2_a, Fe2O3T and No2"},
		{"FeO &amp; TiO2 &lt; 3", "FeO &amp; TiO₂ &lt; 3"},
		{"# SiO2 in slag", `<h2 id="s-sio2-in-slag">SiO₂ in slag</h2>`},
		{"| a |\n|---|\n| K2O |", "<td>K₂O</td>"},
	} {
		if got, _ := set(t, tt.body+"\n"); !strings.Contains(got, tt.want) {
			t.Errorf("%q: %q, want %q", tt.body, got, tt.want)
		}
	}
}
