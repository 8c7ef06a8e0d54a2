// Package equation builds equations of typed parts. The same parts give MathML,
// which browsers set by themselves, and a text in one line for readers who hear
// the page and for files without markup.
package equation

import (
	"html"
	"strings"
)

// Math is a piece of mathematics.
type Math interface {
	mathml(b *strings.Builder)
	text(b *strings.Builder)
}

// Text returns a piece in one line: "w = c·a_Cu·(p/p*)^(1/4)".
func Text(m Math) string {
	var b strings.Builder
	m.text(&b)
	return b.String()
}

// Inline returns a piece as MathML to stand in a line of text.
func Inline(m Math) string { return element(m, "") }

// Display returns a line of mathematics as MathML to stand by itself: an element
// for each of the equations that a semicolon parts, so that they may stand below
// each other where the line is narrow.
func Display(m Math) string {
	var b strings.Builder
	for _, part := range apart(m) {
		b.WriteString(element(part, ` display="block"`))
	}
	return b.String()
}

// apart cuts a line at its semicolons.
func apart(m Math) []Math {
	pieces := row{m}
	if r, ok := m.(row); ok {
		pieces = r
	}
	out := []row{nil}
	for _, piece := range pieces {
		l, ok := piece.(Line)
		if !ok {
			out[len(out)-1] = append(out[len(out)-1], piece)
			continue
		}
		for i, words := range strings.Split(" "+string(l)+" ", " ; ") {
			if i > 0 {
				out = append(out, nil)
			}
			if words = strings.TrimSpace(words); words != "" {
				out[len(out)-1] = append(out[len(out)-1], Line(words))
			}
		}
	}
	var all []Math
	for _, r := range out {
		switch len(r) {
		case 0:
		case 1:
			all = append(all, r[0])
		default:
			all = append(all, r)
		}
	}
	return all
}

func element(m Math, attributes string) string {
	var b strings.Builder
	b.WriteString("<math" + attributes + ` alttext="` + html.EscapeString(Text(m)) + `">`)
	m.mathml(&b)
	b.WriteString("</math>")
	return b.String()
}

// Row sets pieces one after another.
func Row(pieces ...Math) Math { return row(pieces) }

type row []Math

func (r row) mathml(b *strings.Builder) {
	b.WriteString("<mrow>")
	for _, m := range r {
		m.mathml(b)
	}
	b.WriteString("</mrow>")
}

func (r row) text(b *strings.Builder) {
	for i, m := range r {
		t := Text(m)
		if words := strings.Fields(b.String()); i > 0 && len(words) > 0 && functions[words[len(words)-1]] && strings.ContainsAny(t, " /^") && !strings.HasPrefix(t, "(") {
			t = "(" + t + ")" // or the function would be taken to be of its beginning alone
		}
		if i > 0 && !strings.HasSuffix(b.String(), "(") && !strings.HasPrefix(t, ";") && !strings.HasPrefix(t, ",") {
			b.WriteByte(' ')
		}
		b.WriteString(t)
	}
}

// Frac is a fraction.
func Frac(over, under Math) Math { return frac{over, under} }

type frac [2]Math

func (f frac) mathml(b *strings.Builder) { within(b, "mfrac", f[0], f[1]) }

func (f frac) text(b *strings.Builder) {
	grouped(b, f[0])
	b.WriteByte('/')
	grouped(b, f[1])
}

// Sqrt is a square root.
func Sqrt(m Math) Math { return root{m} }

type root struct{ of Math }

func (r root) mathml(b *strings.Builder) { within(b, "msqrt", r.of) }

func (r root) text(b *strings.Builder) {
	b.WriteString("√")
	grouped(b, r.of)
}

// Power raises a piece.
func Power(base, to Math) Math { return power{base, to} }

type power [2]Math

func (p power) mathml(b *strings.Builder) { within(b, "msup", p[0], p[1]) }

func (p power) text(b *strings.Builder) {
	grouped(b, p[0])
	b.WriteByte('^')
	grouped(b, p[1])
}

// Paren sets brackets, which grow with what they hold.
func Paren(m Math) Math { return fence{"(", ")", m} }

// Bracket sets square brackets.
func Bracket(m Math) Math { return fence{"[", "]", m} }

// Abs sets the strokes of an absolute value.
func Abs(m Math) Math { return fence{"|", "|", m} }

// Norm sets the double strokes of a distance.
func Norm(m Math) Math { return fence{"‖", "‖", m} }

type fence struct {
	open, shut string
	in         Math
}

func (f fence) mathml(b *strings.Builder) {
	b.WriteString(`<mrow><mo fence="true" form="prefix">` + f.open + "</mo>")
	f.in.mathml(b)
	b.WriteString(`<mo fence="true" form="postfix">` + f.shut + "</mo></mrow>")
}

func (f fence) text(b *strings.Builder) {
	b.WriteString(f.open)
	f.in.text(b)
	b.WriteString(f.shut)
}

// Sum is a sum over what stands below its sign.
func Sum(over, of Math) Math { return under{"∑", over, of} }

// Product is a product over what stands below its sign.
func Product(over, of Math) Math { return under{"∏", over, of} }

// under is an operator with a piece below its sign, and what it works on.
type under struct {
	sign     string
	over, of Math
}

func (s under) mathml(b *strings.Builder) {
	b.WriteString("<mrow><munder><mo>" + s.sign + "</mo>")
	s.over.mathml(b)
	b.WriteString("</munder>")
	s.of.mathml(b)
	b.WriteString("</mrow>")
}

func (s under) text(b *strings.Builder) {
	b.WriteString(s.sign + "_")
	grouped(b, s.over)
	b.WriteByte(' ')
	s.of.text(b)
}

// Least is the smallest value of a piece over what stands below.
func Least(over, of Math) Math { return under{"min", over, of} }

// Greatest is the largest value of a piece over what stands below.
func Greatest(over, of Math) Math { return under{"max", over, of} }

func within(b *strings.Builder, name string, pieces ...Math) {
	b.WriteString("<" + name + ">")
	for _, m := range pieces {
		m.mathml(b)
	}
	b.WriteString("</" + name + ">")
}

// grouped writes a piece in brackets where it would else be read apart.
func grouped(b *strings.Builder, m Math) {
	t := Text(m)
	_, fenced := m.(fence)
	if !fenced && strings.ContainsAny(t, " /^·+−") {
		t = "(" + t + ")"
	}
	b.WriteString(t)
}
