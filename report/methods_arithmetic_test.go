package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	eq "smeltbook/report/equation"
)

// equations are the equations of a formula by the sign on their left, as the text
// beside the MathML has them; a line that goes on belongs to the one before.
func equations(f formula) map[string]string {
	out := map[string]string{}
	last := ""
	for _, line := range f.lines {
		for _, part := range strings.Split(eq.Text(line), ";") {
			left, right, ok := strings.Cut(part, " = ")
			if left = strings.TrimSpace(left); !ok || strings.ContainsAny(left, "≤≥") {
				out[last] += " " + strings.TrimSpace(part)
				continue
			}
			last = left
			out[left] = strings.TrimSpace(right)
		}
	}
	return out
}

// linesOf are the lines of a formula as text.
func linesOf(f formula) (out []string) {
	for _, l := range f.lines {
		out = append(out, eq.Text(l))
	}
	return out
}

// of finds the formula among several that has an equation for a sign.
func of(t *testing.T, formulas []formula, left string) map[string]string {
	t.Helper()
	for _, f := range formulas {
		if e := equations(f); e[left] != "" {
			return e
		}
	}
	t.Fatalf("no equation for %q", left)
	return nil
}

// value computes an equation as it is printed, by the values of its signs.
func value(t *testing.T, text string, signs map[string]float64) float64 {
	t.Helper()
	r := &reckoner{rest: []rune(text), signs: signs}
	x := r.sum()
	if r.err == nil && len(r.rest) > 0 {
		r.err = fmt.Errorf("%q is left", string(r.rest))
	}
	if r.err != nil {
		t.Fatalf("%q: %v", text, r.err)
	}
	return x
}

// reckoner reads sums, products without a sign, fractions, powers and functions.
type reckoner struct {
	rest  []rune
	signs map[string]float64
	err   error
}

func (r *reckoner) next() rune {
	for len(r.rest) > 0 && r.rest[0] == ' ' {
		r.rest = r.rest[1:]
	}
	if len(r.rest) == 0 || r.err != nil {
		return 0
	}
	return r.rest[0]
}

func (r *reckoner) take() rune {
	c := r.next()
	if c != 0 {
		r.rest = r.rest[1:]
	}
	return c
}

func (r *reckoner) sum() float64 {
	x := r.product()
	for {
		switch r.next() {
		case '+':
			r.take()
			x += r.product()
		case '−':
			r.take()
			x -= r.product()
		default:
			return x
		}
	}
}

func (r *reckoner) product() float64 {
	x := r.factor()
	for {
		switch c := r.next(); {
		case c == '/':
			r.take()
			x /= r.factor()
		case c == '·':
			r.take()
			x *= r.factor()
		case c == '(' || c == '[' || c == '√' || unicode.IsLetter(c) || unicode.IsDigit(c):
			x *= r.factor()
		default:
			return x
		}
	}
}

func (r *reckoner) factor() float64 {
	switch c := r.next(); {
	case c == '−':
		r.take()
		return -r.product()
	case c == '+': // a line that goes on
		r.take()
		return r.factor()
	case c == '√':
		r.take()
		return math.Sqrt(r.factor())
	case c == '(' || c == '[':
		r.take()
		x := r.sum()
		if e := r.take(); e != ')' && e != ']' {
			r.err = fmt.Errorf("a bracket is open before %q", string(r.rest))
		}
		return r.raised(x)
	case unicode.IsDigit(c):
		x, err := strconv.ParseFloat(r.word("0123456789."), 64)
		if err != nil {
			r.err = err
		}
		return r.raised(x)
	case unicode.IsLetter(c):
		return r.named()
	}
	r.err = fmt.Errorf("nothing can be reckoned before %q", string(r.rest))
	return math.NaN()
}

func (r *reckoner) word(of string) string {
	n := 0
	for n < len(r.rest) && strings.ContainsRune(of, r.rest[n]) {
		n++
	}
	w := string(r.rest[:n])
	r.rest = r.rest[n:]
	return w
}

func (r *reckoner) named() float64 {
	n := 0
	for n < len(r.rest) && !strings.ContainsRune(" +−·/()[]^√", r.rest[n]) {
		n++
	}
	if n+1 < len(r.rest) && r.rest[n] == '^' && r.rest[n+1] == '*' {
		n += 2
	}
	name := string(r.rest[:n])
	r.rest = r.rest[n:]
	switch name {
	case "ln":
		return math.Log(r.factor())
	case "log":
		return math.Log10(r.factor())
	case "exp":
		return math.Exp(r.factor())
	case "erfc":
		return math.Erfc(r.factor())
	}
	x, ok := r.signs[name]
	if !ok {
		r.err = fmt.Errorf("nothing says what %q is", name)
	}
	return r.raised(x)
}

func (r *reckoner) raised(x float64) float64 {
	if len(r.rest) == 0 || r.rest[0] != '^' {
		return x
	}
	r.take()
	return math.Pow(x, r.factor())
}

func TestReckoner(t *testing.T) {
	for text, want := range map[string]float64{"2 x^2/(1 + y) − 3": 2*9/5.0 - 3, "−x (y − 1)": -9, "a exp (−x)": 2 * math.Exp(-3), "√(x + 1) ln 10": 2 * math.Log(10),
		"(x/p^*)^(1/2)": 1, "+ 0.5 (x + y)": 3.5} {
		if got := value(t, text, map[string]float64{"x": 3, "y": 4, "a": 2, "p^*": 3}); math.Abs(got-want) > 1e-12 {
			t.Errorf("%s is %g, want %g", text, got, want)
		}
	}
}
