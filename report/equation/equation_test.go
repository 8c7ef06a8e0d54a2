package equation

import (
	"encoding/xml"
	"io"
	"strings"
	"testing"
)

func TestEquations(t *testing.T) {
	for _, x := range []struct {
		m            Math
		text, mathml string
	}{
		{Line("w = 2.5 · x_i^2"), "w = 2.5 · x_i^2", `<mrow><mi>w</mi><mo form="infix">=</mo><mn>2.5</mn><mo form="infix">·</mo><msubsup><mi>x</mi><mi>i</mi><mn>2</mn></msubsup></mrow>`},
		{Frac(Line("a + b"), Line("c")), "(a + b)/c", `<mfrac><mrow><mi>a</mi><mo form="infix">+</mo><mi>b</mi></mrow><mi>c</mi></mfrac>`},
		{Power(Paren(Frac(Line("p"), Line("p^*"))), Line("1/4")), "(p/(p^*))^(1/4)", `<msup><mrow><mo fence="true" form="prefix">(</mo><mfrac><mi>p</mi><msup><mi>p</mi><mo>*</mo></msup></mfrac><mo fence="true" form="postfix">)</mo></mrow><mi>1/4</mi></msup>`},
		{Row(Line("s ="), Sqrt(Line("x"))), "s = √x", `<mrow><mrow><mi>s</mi><mo form="infix">=</mo></mrow><msqrt><mi>x</mi></msqrt></mrow>`},
		{Row(Line("− ln"), Frac(Line("T"), Line("2"))), "− ln (T/2)", "<mrow><mrow><mo form=\"infix\">−</mo><mi>ln</mi><mo>\u2061</mo><mspace width=\".17em\"></mspace></mrow><mfrac><mi>T</mi><mn>2</mn></mfrac></mrow>"},
		{Sum(Line("i"), Line("x_i")), "∑_i x_i", `<mrow><munder><mo>∑</mo><mi>i</mi></munder><msub><mi>x</mi><mi>i</mi></msub></mrow>`},
		{Line("x̄_ij = z′ ; ȳ"), "x̄_ij = z′; ȳ", `<mrow><msub><mover><mi>x</mi><mo>¯</mo></mover><mrow><mi>i</mi><mi>j</mi></mrow></msub><mo form="infix">=</mo><msup><mi>z</mi><mo>′</mo></msup><mo separator="true">,</mo><mspace width="1.2em"></mspace><mover><mi>y</mi><mo>¯</mo></mover></mrow>`},
		{Line("'all_<oxides>' ln −3"), "all <oxides> ln −3", "<mrow><mi mathvariant=\"normal\">all\u00a0&lt;oxides&gt;</mi><mi>ln</mi><mo>\u2061</mo><mspace width=\".17em\"></mspace><mrow><mo>−</mo><mn>3</mn></mrow></mrow>"},
	} {
		if got := Text(x.m); got != x.text {
			t.Errorf("text %q, want %q", got, x.text)
		}
		var b strings.Builder
		x.m.mathml(&b)
		if b.String() != x.mathml {
			t.Errorf("%s\n got %s\nwant %s", x.text, b.String(), x.mathml)
		}
	}
}

func TestDisplayHasItsText(t *testing.T) {
	got := Display(Row(Line("a < b ; c ="), Frac(Line("d"), Line("e")), Line("; f")))
	want := []string{`<math display="block" alttext="a &lt; b">`, `<math display="block" alttext="c = d/e">`, `<math display="block" alttext="f">`}
	for _, w := range want {
		if !strings.Contains(got, w) {
			t.Errorf("no %s in %s", w, got)
		}
	}
	if n := strings.Count(got, "<math "); n != len(want) {
		t.Errorf("%d elements in %s", n, got)
	}
	wellFormed(t, got)
	if got := Inline(Line("x")); got != `<math alttext="x"><mi>x</mi></math>` {
		t.Error(got)
	}
}

func wellFormed(t *testing.T, markup string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(markup))
	for {
		if _, err := d.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatalf("%v in %s", err, markup)
		}
	}
}

// Whatever a line holds, its MathML is well formed and none of it is markup.
func FuzzLine(f *testing.F) {
	f.Add("x_i^2 = 'a_b' <b> & \"")
	f.Fuzz(func(t *testing.T, s string) {
		s = strings.Map(func(r rune) rune {
			if r < ' ' || r == 0xFFFD || r == 0xFFFE || r == 0xFFFF {
				return ' '
			}
			return r
		}, s)
		wellFormed(t, Display(Row(Line(s), Frac(Line(s), Power(Line(s), Line("2"))))))
	})
}
