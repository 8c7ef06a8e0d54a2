package tables

import (
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"smeltbook/report/page"
)

// command matches what may follow a backslash in the text of a cell.
var command = regexp.MustCompile(`^\\(?:[{}$&#%_,-]|(?:textbackslash|textasciicircum|textasciitilde|textasciigrave|textless|textgreater|textbar|textbullet|textendash|textemdash|textquoteleft|textquoteright|textquotedblleft|textquotedblright|dots|dag|ddag|S|pounds|copyright|char34)\{\})`)

// formula matches what may stand between dollars: one sign, or figures lowered or
// raised.
var formula = regexp.MustCompile(`^\$(?:\\[A-Za-z]+|-|'{1,2}|\^\{\\circ\}|\\frac\{1\}\{[24]\}|\\frac\{3\}\{4\}|[_^]\{[0-9a-z+-]+\})\$`)

// inert reads a text of LaTeX as TeX would and says what in it could act.
func inert(s string) string {
	depth := 0
	for i := 0; i < len(s); {
		switch c := s[i]; {
		case c == '\\':
			m := command.FindString(s[i:])
			if m == "" {
				return "the command " + s[i:min(i+12, len(s))]
			}
			i += len(m)
			continue
		case c == '$':
			m := formula.FindString(s[i:])
			if m == "" {
				return "the formula " + s[i:min(i+12, len(s))]
			}
			i += len(m)
			continue
		case c == '{':
			depth++
		case c == '}':
			depth--
		case strings.IndexByte("&#%_^<>|\"`", c) >= 0:
			return "a raw " + string(c)
		case strings.IndexByte("[]*", c) >= 0 && depth == 0:
			return "a bare " + string(c)
		case c < ' ':
			return "a control character"
		}
		if depth < 0 {
			return "a closing brace"
		}
		i++
	}
	if depth != 0 {
		return "an open brace"
	}
	if !utf8.ValidString(s) {
		return "invalid UTF-8"
	}
	return ""
}

func TestLaTeXText(t *testing.T) {
	for text, want := range map[string]string{
		`50 % of Cu & Fe_2O_3`: `50 \% of Cu \& Fe\_2O\_3`,
		`Fe₂SiO₄ 10⁻³ cm²`:     `Fe$_{2}$SiO$_{4}$ 10$^{-3}$ cm$^{2}$`,
		`\input{/etc/passwd}`:  `\textbackslash{}input\{/etc/passwd\}`,
		`[5pt]*`:               `{[}5pt{]}{*}`,
		`a--b ,, ''`:           `a-{}-b ,{}, '{}'`,
		"kₙ −5 ± 2 °C":         `k$_{n}$ $-$5 $\pm$ 2 $^{\circ}$C`,
		"Hüttenstück Łódź":     "Hüttenstück Łódź",
		"шлак":                 "шлак",
		"\U0001f525\x00":       "{[}U+1F525{]} ",
	} {
		if got := latexText(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
	if !beyondLatin("шлак") || beyondLatin("Łódź, SiO₂, χ²") {
		t.Error("letters beyond Latin ones")
	}
}

// Every single character is inert, and so is every pair of those that mean
// something to TeX.
func TestLaTeXTextIsInert(t *testing.T) {
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if bad := inert(latexText(string(r))); bad != "" {
			t.Errorf("%q: %s", r, bad)
		}
	}
	const signs = "\\{}$&#%_^~<>|\"`'-[]*?!, a1\n₂²−"
	for _, a := range signs {
		for _, b := range signs {
			if bad := inert(latexText(string(a) + string(b))); bad != "" {
				t.Errorf("%q: %s", string(a)+string(b), bad)
			}
		}
	}
}

// FuzzLaTeX puts a text everywhere that a sheet can put one: none of it acts, and
// the table keeps its shape.
func FuzzLaTeX(f *testing.F) {
	f.Add("50 % & more \\\\ [x] * {y} $z$ #1 ~ ^ _")
	f.Add("SiO₂ ± 0.1\r\n=1+1")
	f.Fuzz(func(t *testing.T, s string) {
		if bad := inert(latexText(s)); bad != "" {
			t.Fatalf("%q: %s", s, bad)
		}
		x := plain(&page.Table{Number: 1, Caption: s, Notes: []string{s}, Columns: []page.Column{{Head: s, Unit: s}, {Head: "x", Sub: s}},
			Rows: []page.Row{{Sample: s, Side: page.Dug, Cells: []page.Cell{{Text: s, Sub: s, Note: s}, {Text: "1.0", Sub: "± " + s}}}}})
		form := x.form()
		for _, block := range []string{x.latexHead(form.letter), x.latexBody(form.columns)} {
			for _, line := range strings.SplitAfter(strings.TrimSuffix(block, "\n"), " \\\\\n") {
				if n := len(regexp.MustCompile(`[^\\]&`).FindAllString(line, -1)); n != 1 {
					t.Errorf("a row has %d ends of cells: %q", n, line)
				}
			}
		}
		var out strings.Builder
		if err := x.WriteLaTeX(&out); err != nil || strings.Count(out.String(), "\\begin{") != strings.Count(out.String(), "\\end{") {
			t.Errorf("%v\n%s", err, out.String())
		}
	})
}
