package equation

import (
	"html"
	"strings"
)

// Line is mathematics without levels: words with spaces between, each a sign, a
// number or a variable. A variable may have an index behind _ and an exponent
// behind ^: "u^2 = x_i · 3.5". A word in quotation marks is text, and an
// underscore in it a space: "'all_oxides'". A semicolon parts two equations.
type Line string

// signs are the words that are operators, relations or separators.
var signs = map[string]bool{"=": true, "+": true, "−": true, "·": true, "/": true, "±": true, "≥": true, "≤": true, "<": true, ">": true, "≈": true,
	"∝": true, ",": true, ";": true, "∂": true, "→": true, "(": true, ")": true, "×": true, "≠": true, "∈": true, "∼": true}

// functions are set upright, with room before what they are of.
var functions = map[string]bool{"ln": true, "log": true, "exp": true, "erfc": true, "max": true, "min": true}

func (l Line) mathml(b *strings.Builder) {
	words := strings.Fields(string(l))
	if len(words) != 1 {
		b.WriteString("<mrow>")
	}
	for i, w := range words {
		if i > 0 && quoted(w) && words[i-1] != "(" {
			w = "'_" + w[1:]
		}
		word(b, w)
	}
	if len(words) != 1 {
		b.WriteString("</mrow>")
	}
}

func word(b *strings.Builder, w string) {
	if quoted(w) {
		quotation(b, w)
		return
	}
	base, exponent, raised := strings.Cut(w, "^")
	base, low, lowered := strings.Cut(base, "_")
	switch {
	case raised && lowered && base != "":
		b.WriteString("<msubsup>")
		token(b, base)
		index(b, low)
		token(b, exponent)
		b.WriteString("</msubsup>")
	case raised && base != "":
		b.WriteString("<msup>")
		token(b, base)
		token(b, exponent)
		b.WriteString("</msup>")
	case lowered && base != "":
		b.WriteString("<msub>")
		token(b, base)
		index(b, low)
		b.WriteString("</msub>")
	default:
		token(b, w)
	}
}

// quotation sets words as one upright identifier: a text would count as a space,
// and a sign beside it lose its own.
func quotation(b *strings.Builder, w string) {
	b.WriteString(`<mi mathvariant="normal">` + html.EscapeString(strings.ReplaceAll(strings.Trim(w, "'"), "_", "\u00a0")) + "</mi>")
}

// index sets an index: two small letters count two things, more are a word.
func index(b *strings.Builder, t string) {
	if len(t) == 2 && strings.Trim(t, "abcdefghijklmnopqrstuvwxyz") == "" {
		b.WriteString("<mrow><mi>" + t[:1] + "</mi><mi>" + t[1:] + "</mi></mrow>")
		return
	}
	token(b, t)
}

// token is a number, a sign, the name of a function or a variable; a variable of
// several letters is set upright, as browsers do.
func token(b *strings.Builder, t string) {
	esc := html.EscapeString(t)
	switch {
	case t == ";":
		b.WriteString(`<mo separator="true">,</mo><mspace width="1.2em"></mspace>`)
	case strings.Contains("(),*", t):
		b.WriteString("<mo>" + esc + "</mo>")
	case signs[t]: // at the end of a row it would be taken for one behind its term
		b.WriteString(`<mo form="infix">` + esc + "</mo>")
	case functions[t]:
		b.WriteString(`<mi>` + esc + "</mi><mo>\u2061</mo>" + `<mspace width=".17em"></mspace>`)
	case quoted(t):
		quotation(b, t)
	case strings.HasSuffix(t, "′"):
		b.WriteString("<msup>")
		token(b, strings.TrimSuffix(t, "′"))
		b.WriteString("<mo>′</mo></msup>")
	case strings.HasSuffix(t, "\u0304") || strings.HasSuffix(t, "ȳ") && len(t) == len("ȳ"):
		b.WriteString(`<mover><mi>` + html.EscapeString(strings.NewReplacer("\u0304", "", "ȳ", "y").Replace(t)) + "</mi><mo>¯</mo></mover>")
	case strings.Trim(t, "0123456789.") == "":
		b.WriteString("<mn>" + esc + "</mn>")
	case strings.HasPrefix(t, "−"):
		b.WriteString("<mrow><mo>−</mo>")
		token(b, strings.TrimPrefix(t, "−"))
		b.WriteString("</mrow>")
	default:
		b.WriteString("<mi>" + esc + "</mi>")
	}
}

func quoted(w string) bool { return len(w) > 2 && w[0] == '\'' && w[len(w)-1] == '\'' }

func (l Line) text(b *strings.Builder) {
	for i, w := range strings.Fields(string(l)) {
		if quoted(w) {
			w = strings.ReplaceAll(w, "_", " ")
		}
		w = strings.ReplaceAll(w, "'", "")
		if i > 0 && w != "," && w != ";" && !strings.HasPrefix(w, ")") && !strings.HasSuffix(b.String(), "(") {
			b.WriteByte(' ')
		}
		b.WriteString(w)
	}
}
