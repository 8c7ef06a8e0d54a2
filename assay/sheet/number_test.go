package sheet

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// TestParseNumber walks through the rules for decimal and grouping marks.
func TestParseNumber(t *testing.T) {
	const bad = math.MaxFloat64
	for _, c := range []struct {
		token string
		mark  byte // decimal mark of the table, 0 undecided
		want  float64
	}{
		{"31.42", 0, 31.42}, {"31,42", 0, 31.42}, {"45,32", '.', 45.32}, {"-1.85", 0, -1.85}, {"−1.85", 0, -1.85}, {"+5", 0, 5}, {" 30.15 ", 0, 30.15},
		{"1.210,5", 0, 1210.5}, {"1,210.5", 0, 1210.5}, {"1.234.567", 0, 1234567}, {"1,234,567.25", 0, 1234567.25},
		{"12.350", ',', 12350}, {"12.350", '.', 12.35}, {"12,350", ',', 12.35}, {"12,350", '.', 12350},
		{"0,250", 0, 0.25}, {"0.250", ',', 0.25}, {"1234.567", 0, 1234.567}, {"12345,678", 0, 12345.678},
		{"10\u00a0250", 0, 10250}, {"8\u202f930", 0, 8930}, {"12'350", 0, 12350}, {"12’350,5", 0, 12350.5}, {"1 234 567", 0, 1234567},
		{".5", 0, 0.5}, {",05", 0, 0.05}, {"007", 0, 7}, {"0", 0, 0},
		{"12.350", 0, bad}, {"1,234", 0, bad}, // undecided
		{"", 0, bad}, {"-", 0, bad}, {".", 0, bad}, {"5.", 0, bad}, {"--5", 0, bad}, {"1 23", 0, bad}, {"1234 567", 0, bad}, {"12 34 567", 0, bad},
		{"1.2.3", 0, bad}, {"1.23,4,5", 0, bad}, {"1,23.456,7", 0, bad}, {"0,123,456", 0, bad}, {"1'234 567", 0, bad},
		{"Inf", 0, bad}, {"nan", 0, bad}, {"1_000", 0, bad}, {"1e5", 0, bad}, {"0x1F", 0, bad}, {"1.5E-3", 0, bad}, {"5.O3", 0, bad}, {"31,4O", 0, bad}, {"٣", 0, bad}, {"1/2", 0, bad}, {"5%", 0, bad},
		{strings.Repeat("9", 400), 0, bad},
	} {
		x, tr, ok := parseNumber(c.token, marks{c.mark})
		if ok != (c.want != bad) || (ok && x != c.want) {
			t.Errorf("parseNumber(%q, %q) = %v, %v (%+v), want %v", c.token, c.mark, x, ok, tr, c.want)
		}
	}
}

func TestParseStored(t *testing.T) {
	for s, want := range map[string]float64{"1.5": 1.5, "-1E-3": -0.001, "2.1e+02": 210, "0": 0, "7": 7} {
		if x, ok := parseStored(s); !ok || x != want {
			t.Errorf("parseStored(%q) = %v, %v", s, x, ok)
		}
	}
	for _, s := range []string{"", "Inf", "NaN", "1_0", "0x1p-2", "1e", "1.", "e5", "1 ", "1e999", "1,5"} {
		if x, ok := parseStored(s); ok {
			t.Errorf("parseStored(%q) = %v, want refusal", s, x)
		}
	}
}

// printStyled writes a number as people of one habit do.
func printStyled(x float64, places int, decimal, group string) string {
	s := strconv.FormatFloat(math.Abs(x), 'f', places, 64)
	whole, fraction, _ := strings.Cut(s, ".")
	if group != "" {
		for i := len(whole) - 3; i > 0; i -= 3 {
			whole = whole[:i] + group + whole[i:]
		}
	}
	if places > 0 {
		whole += decimal + fraction
	}
	if x < 0 {
		whole = "-" + whole
	}
	return whole
}

// TestNumberRoundTrip prints numbers in both decimal styles, with every kind
// of grouping, and reads them back.
func TestNumberRoundTrip(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	styles := []struct{ decimal, group string }{
		{".", ""}, {",", ""}, {".", ","}, {",", "."}, {".", " "}, {",", " "}, {",", "\u00a0"}, {".", "\u202f"}, {".", "'"}, {",", "’"},
	}
	for range 4000 {
		places := rng.IntN(6)
		x := math.Round(rng.Float64()*math.Pow(10, float64(rng.IntN(8)))*math.Pow(10, float64(places))) / math.Pow(10, float64(places))
		if rng.IntN(3) == 0 {
			x = -x
		}
		for _, s := range styles {
			text := printStyled(x, places, s.decimal, s.group)
			want, err := strconv.ParseFloat(printStyled(x, places, ".", ""), 64)
			if err != nil {
				t.Fatal(err)
			}
			got, tr, ok := parseNumber(text, marks{s.decimal[0]})
			if !ok || got != want {
				t.Fatalf("%q in style %+v = %v, %v (%+v), want %v", text, s, got, ok, tr, want)
			}
		}
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"31.42", "45,32", "12.350", "1.210,5", "10\u00a0250", "−1.85", "5.O3", "1_000", "1e5", "Inf", "1'234'567,8", "..", "0,250"} {
		for _, m := range []byte{0, '.', ','} {
			f.Add(s, m)
		}
	}
	f.Fuzz(func(t *testing.T, s string, m byte) {
		if m != 0 && m != '.' && m != ',' {
			return
		}
		x, tr, ok := parseNumber(s, marks{m})
		if !ok {
			return
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%q gave %v", s, x)
		}
		if strings.ContainsAny(s, "eExX_") {
			t.Fatalf("%q was read as %v", s, x)
		}
		// Printed plainly it reads the same.
		back, _, ok := parseNumber(strconv.FormatFloat(x, 'f', -1, 64), marks{'.'})
		if plain := strconv.FormatFloat(x, 'f', -1, 64); len(plain) <= 40 && (!ok || back != x) {
			t.Fatalf("%q = %v (%+v) reads back as %v, %v", s, x, tr, back, ok)
		}
	})
}

func FuzzToken(f *testing.F) {
	for _, s := range []string{"<0.01", "< 0,05", "≤0.01", "<LOD", "n.d.", "b.d.l. (0.02)", "tr.", ">10", "~0.5", "(0.05)", "0.05*", "0.32±0.02", "0.32(2)", "31.4 %", "250 mg kg-1", "#DIV/0!", "-", "ca. 5", "0.5?", "<<", "((1))", "±"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		tok := parseToken(s, marks{'.'})
		if math.IsInf(tok.value, 0) || math.IsInf(tok.limit, 0) || tok.limit < 0 {
			t.Fatalf("%q: value %v, limit %v", s, tok.value, tok.limit)
		}
		if (tok.class == "") == math.IsNaN(tok.value) {
			t.Fatalf("%q: class %q with value %v", s, tok.class, tok.value)
		}
		if tok.class == "error" && tok.why == "" {
			t.Fatalf("%q: no reason", s)
		}
	})
}
