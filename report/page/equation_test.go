package page

import (
	"bytes"
	"strings"
	"testing"

	"smeltbook/report/equation"
)

func withEquation(e *Equation) Document {
	return Document{Title: "T", Blocks: []Block{&Entry{Number: 1, Kind: "methods", Parts: []Part{e}}}}
}

// An equation is set by the browser, is told to readers who cannot see it, and says
// what its signs mean.
func TestEquation(t *testing.T) {
	e := &Equation{Number: 2, Lines: []equation.Math{equation.Line("w = c <x>")}, Where: []Symbol{{equation.Line("w"), []Run{{Text: "is copper & more, wt%"}}}},
		Source: []Run{{Text: "after "}, {Text: "Marsh 2020", Link: "#ref-1"}}}
	var out bytes.Buffer
	if err := Render(&out, withEquation(e), Assets{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`id="equation-2"`, `<math display="block" alttext="w = c &lt;x&gt;">`, `<mi>&lt;x&gt;</mi>`, `<span class="no">(2)</span>`,
		`where <math alttext="w"><mi>w</mi></math> is copper &amp; more, wt%; after <a href="#ref-1">Marsh 2020</a>.`,
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %s in\n%s", want, out.String()[strings.Index(out.String(), "<main"):])
		}
	}
	if got := e.Plain(); got != "(2) w = c <x>, where w is copper & more, wt%; after Marsh 2020." {
		t.Errorf("plain: %s", got)
	}
	e.Source = []Run{{Cite: "marsh2020"}}
	if err := Render(&out, withEquation(e), Assets{}); err == nil || !strings.Contains(err.Error(), "marsh2020") {
		t.Errorf("a citation that nobody resolved: %v", err)
	}
	if err := Render(&out, withEquation(&Equation{Number: 1}), Assets{}); err == nil {
		t.Error("an empty equation")
	}
}
