package logratio_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/logratio"
)

// random makes compositions of n samples by the given parts.
func random(r *rand.Rand, n int, parts []string) logratio.Matrix {
	m := logratio.Matrix{Parts: parts}
	for range n {
		x := make([]float64, len(parts))
		for j := range x {
			x[j] = math.Exp(2 * r.NormFloat64())
		}
		m.X = append(m.X, x)
	}
	return m
}

// Every basis keeps distances, gives the composition back and does not heed the
// sum to which a sample is closed.
func TestBasesAreIsometric(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	all := strings.Fields("SiO2 TiO2 Al2O3 FeO MnO MgO CaO Na2O K2O P2O5 Cu S ZnO Unobtainium Phlogiston")
	for n := 2; n <= len(all); n++ {
		parts := make([]string, n)
		for k, j := range r.Perm(len(all))[:n] {
			parts[k] = all[j]
		}
		m := random(r, 3, parts)
		for _, b := range []logratio.Basis{logratio.Pivot(parts), logratio.Helmert(parts), logratio.DefaultPartition(parts)} {
			z, err := b.Coordinates(m)
			if err != nil {
				t.Fatal(err)
			}
			if len(z[0]) != n-1 {
				t.Fatalf("%s of %v has %d coordinates", b.Name, parts, len(z[0]))
			}
			if d := logratio.Euclid(z[0], z[1]); math.Abs(d-logratio.Distance(m.X[0], m.X[1])) > 1e-9 {
				t.Errorf("%s of %v: distance %g, want %g", b.Name, parts, d, logratio.Distance(m.X[0], m.X[1]))
			}
			back, closed := b.Inverse(z[2], 100), logratio.Close(m.X[2], 100)
			for j := range back {
				if math.Abs(back[j]-closed[j]) > 1e-9 {
					t.Errorf("%s of %v gives %g of %s back as %g", b.Name, parts, closed[j], parts[j], back[j])
				}
			}
			other, err := b.Coordinates(logratio.Matrix{Parts: parts, X: [][]float64{closed}})
			if err != nil || logratio.Euclid(other[0], z[2]) > 1e-9 {
				t.Errorf("%s heeds the sum: %v %v %v", b.Name, other, z[2], err)
			}
		}
	}
}

// The default partition sets against each other what the trade does.
func TestDefaultPartition(t *testing.T) {
	parts := strings.Fields("SiO2 TiO2 Al2O3 FeO CaO K2O Cu")
	b := logratio.DefaultPartition(parts)
	var got []string
	for _, x := range b.Balances {
		got = append(got, x.Name+": "+x.Formula(parts))
	}
	want := []string{
		"melt formers against tracers: (SiO2 CaO FeO) / (Al2O3 TiO2 K2O Cu)",
		"silica against bases: SiO2 / (CaO FeO)",
		"lime against iron: CaO / FeO",
		"wall against ore: (Al2O3 TiO2 K2O) / Cu",
		"alumina and titania against alkalis: (Al2O3 TiO2) / K2O",
		"Al2O3 against TiO2: Al2O3 / TiO2",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("balances\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A balance by hand: √(2/3)·ln(60/√(20·20)) of silica against two bases.
func TestBalanceByHand(t *testing.T) {
	parts := []string{"SiO2", "FeO", "CaO"}
	s1, err := logratio.ParseSplit("silica", "SiO2 | FeO, CaO")
	if err != nil {
		t.Fatal(err)
	}
	s2, err := logratio.ParseSplit("lime", "CaO | FeO")
	if err != nil {
		t.Fatal(err)
	}
	b, err := logratio.Partition("mine", parts, []logratio.Split{s1, s2})
	if err != nil {
		t.Fatal(err)
	}
	z, err := b.Coordinates(logratio.Matrix{Parts: parts, X: [][]float64{{60, 20, 20}}})
	if err != nil {
		t.Fatal(err)
	}
	if want := math.Sqrt(2.0/3) * math.Log(3); math.Abs(z[0][0]-want) > 1e-12 || math.Abs(z[0][1]) > 1e-12 {
		t.Errorf("coordinates %v, want %g and 0", z[0], want)
	}
	if r := b.Balances[0].Ratio(z[0][0]); math.Abs(math.Exp(r)-3) > 1e-12 {
		t.Errorf("ratio %g, want 3", math.Exp(r))
	}
}

func TestPartitionRefuses(t *testing.T) {
	parts := []string{"A", "B", "C", "D"}
	for _, c := range []struct {
		name   string
		splits []logratio.Split
		want   string
	}{
		{"too few", []logratio.Split{{Over: []string{"A"}, Under: []string{"B", "C", "D"}}}, "need 3 balances"},
		{"unknown", []logratio.Split{{Over: []string{"A"}, Under: []string{"B", "C", "X"}}, {}, {}}, "names X"},
		{"twice", []logratio.Split{{Over: []string{"A"}, Under: []string{"A", "C", "D"}}, {}, {}}, "names A twice"},
		{"empty", []logratio.Split{{Name: "e", Over: []string{"A"}}, {}, {}}, "nothing on one side"},
		{"crossing", []logratio.Split{
			{Name: "1", Over: []string{"A", "B"}, Under: []string{"C", "D"}},
			{Name: "2", Over: []string{"A"}, Under: []string{"C"}},
			{Name: "3", Over: []string{"B"}, Under: []string{"D"}}}, "cut across"},
	} {
		if _, err := logratio.Partition("x", parts, c.splits); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
}

func FuzzParseSplit(f *testing.F) {
	for _, s := range []string{"SiO2 | FeO CaO", "a|b", "|", "a | b | c", " , | ,"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, err := logratio.ParseSplit("x", text)
		if err != nil {
			return
		}
		again, err := logratio.ParseSplit("x", strings.Join(s.Over, " ")+"|"+strings.Join(s.Under, ","))
		if err != nil || strings.Join(again.Over, " ") != strings.Join(s.Over, " ") || strings.Join(again.Under, " ") != strings.Join(s.Under, " ") {
			t.Errorf("%q reads as %v, and that as %v (%v)", text, s, again, err)
		}
	})
}
