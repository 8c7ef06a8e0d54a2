package figure

import (
	"math"
	"strings"
	"testing"
)

func TestTicks(t *testing.T) {
	tests := []struct {
		axis Axis
		want int
		text string
	}{
		{Axis{Min: 1050, Max: 1400}, 4, "1100 1200 1300 1400"},
		{Axis{Min: 0, Max: 1}, 5, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{Axis{Min: -2, Max: 2}, 4, "−2 −1 0 1 2"},
		{Axis{Min: 0, Max: 0.03}, 3, "0.00 0.01 0.02 0.03"},
		{Axis{Min: 0.01, Max: 100, Log: true}, 5, "0.01 0.1 1 10 100"},
		{Axis{Min: 1e-6, Max: 1e3, Log: true}, 4, "0.000001 0.001 1 1000"},
		{Axis{Min: 0.5, Max: 20, Log: true}, 5, "0.5 1 2 5 10 20"},
		{Axis{Min: 20, Max: 60, Log: true}, 4, "20 30 40 50 60"},
	}
	for _, tt := range tests {
		var got []string
		last := math.Inf(-1)
		for _, tick := range tt.axis.Ticks(tt.want) {
			if tick.Value < tt.axis.Min || tick.Value > tt.axis.Max || tick.Value <= last {
				t.Errorf("%+v: tick %v out of place", tt.axis, tick)
			}
			last = tick.Value
			if tick.Label != "" {
				got = append(got, tick.Label)
			}
		}
		if s := strings.Join(got, " "); s != tt.text {
			t.Errorf("%+v.Ticks(%d) = %s, want %s", tt.axis, tt.want, s, tt.text)
		}
	}
}

func TestFraction(t *testing.T) {
	log := Axis{Min: 0.01, Max: 100, Log: true}
	even := Axis{Min: 900, Max: 1400}
	tests := []struct {
		axis    Axis
		v, want float64
	}{
		{even, 900, 0}, {even, 1150, 0.5}, {even, 1400, 1},
		{log, 0.01, 0}, {log, 1, 0.5}, {log, 10, 0.75}, {log, 100, 1},
	}
	for _, tt := range tests {
		if got := tt.axis.Fraction(tt.v); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%+v.Fraction(%v) = %v, want %v", tt.axis, tt.v, got, tt.want)
		}
	}
}

func TestAxisFor(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	tests := []struct {
		log      bool
		values   []float64
		min, max float64
	}{
		{false, []float64{1120, 1287, nan}, 1100, 1300},
		{false, []float64{0.2, 3.4}, 0, 4},
		{false, []float64{5, inf}, 4.4, 5.6},
		{true, []float64{0.05, 47, -1, 0}, 0.02, 100},
	}
	for _, tt := range tests {
		axis, err := AxisFor("a", "", tt.log, tt.values...)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(axis.Min-tt.min) > 1e-9 || math.Abs(axis.Max-tt.max) > 1e-9 {
			t.Errorf("AxisFor(%v, %v) runs from %v to %v, want %v to %v", tt.log, tt.values, axis.Min, axis.Max, tt.min, tt.max)
		}
		for _, v := range tt.values {
			if finite(v) && (!tt.log || v > 0) && axis.holds(v) != nil {
				t.Errorf("%+v does not hold %v", axis, v)
			}
		}
	}
	if _, err := AxisFor("content", "wt%", true, 0, nan); err == nil {
		t.Error("an axis without values gave no error")
	}
}

func TestFormula(t *testing.T) {
	tests := []struct{ in, want string }{
		{"SiO2", "SiO₂"},
		{"Fe2O3", "Fe₂O₃"},
		{"FeO + Al2O3 (wt%)", "FeO + Al₂O₃ (wt%)"},
		{"Ca(OH)2", "Ca(OH)₂"},
		{"CaO/SiO2", "CaO/SiO₂"},
		{"FeO–SiO2", "FeO–SiO₂"},
		{"KR-07", "KR-07"},
		{"firing 3", "firing 3"},
		{"Fe2O3T", "Fe₂O₃T"},
		{"(SiO2 CaO FeO) / (Al2O3 K2O)", "(SiO₂ CaO FeO) / (Al₂O₃ K₂O)"},
		{"O2", "O₂"},
		{"list it with run F1", "list it with run F1"},
		{"TF1: KR-S01 and LS-S8 hold Cu2S", "TF1: KR-S01 and LS-S8 hold Cu₂S"},
		{"", ""},
	}
	for _, tt := range tests {
		if got := Formula(tt.in); got != tt.want {
			t.Errorf("Formula(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestRowsKeepMarksInTheirRow(t *testing.T) {
	rows := Rows{&Profile{}}
	for i := range 200 {
		if d := rows.Down(4, i); d < 4.2 || d > 4.8 {
			t.Errorf("mark %d of row 4 stands at %v", i, d)
		}
	}
	if rows.Down(1, 0) == rows.Down(1, 1) {
		t.Error("two marks of a row stand at one height")
	}
}
