package quality

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
)

func TestEdits(t *testing.T) {
	for written, want := range map[string][]string{
		"45.83": {"54.83", "48.53", "45.38", "458.3", "4.583", "4583", "0.4583"},
		"0.5":   {"5.0", "5", "0.05", "50", "0.005"},
		"7":     {"70", "0.7", "700", "0.07"},
		"-2.53": {"-5.23", "-2.35", "-25.3", "-0.253", "-253", "-0.0253"},
		"4,1":   {"1,4", "41", "0,41", "410", "0,041"},
		"<0.05": nil, "n.d.": nil, "": nil, "0": nil, "1.2.3": nil, "1e5": nil,
	} {
		var got []string
		for _, e := range Edits(written) {
			got = append(got, e.To)
		}
		for i := range got {
			if !slices.Contains(want, got[i]) {
				t.Errorf("%q might have been %q", written, got[i])
			}
		}
		for _, w := range want {
			if !slices.Contains(got, w) && !slices.Contains(got, strings.TrimSuffix(w, ".0")) {
				t.Errorf("%q: %q is not thought of, only %q", written, w, got)
			}
		}
	}
}

func FuzzEdits(f *testing.F) {
	for _, s := range []string{"45.83", "-0.01", "1,5", "1000000", ".", "-", "00.00", "9"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, written string) {
		plain := strings.Replace(strings.TrimSpace(written), ",", ".", 1)
		for _, e := range Edits(written) {
			was, err := strconv.ParseFloat(plain, 64)
			now, err2 := strconv.ParseFloat(strings.Replace(e.To, ",", ".", 1), 64)
			if err != nil || err2 != nil {
				t.Fatalf("%q to %q: %v, %v", written, e.To, err, err2)
			}
			if math.Abs(now/was-e.Factor) > 1e-9*math.Abs(e.Factor) {
				t.Fatalf("%q to %q is not times %g", written, e.To, e.Factor)
			}
		}
	})
}

// A published row (USGS Professional Paper 3, 1902, p. 66; seen) adds up as
// printed; each slip put into it is found.
func TestSlipsInAPublishedRow(t *testing.T) {
	printed := []string{"59.39", "18.45", "1.79", "3.9", "3.13", "6.29", "4.29", "1.29", "0.1", "0.42", "0.41", "0.22", "0.05", "0.04"}
	row := func(at int, slip string) []Entry {
		var out []Entry
		for i, s := range printed {
			if i == at {
				s = slip
			}
			out = append(out, Entry{checkdata.Number(t, s), s})
		}
		return out
	}
	total := Entry{99.77, "99.77"}
	if found := RepairSum(row(-1, ""), Entry{99.77, "99.77"}, 0.005); len(found) > 0 {
		// Nothing to repair: an edit that keeps the sum is no slip.
		t.Errorf("the printed row is to be repaired: %+v", found)
	}
	for at, slip := range map[int]string{0: "95.39", 1: "14.85", 2: "17.9", 3: "0.39", 5: "2.69", 9: "4.2", 11: "2.2"} {
		found := RepairSum(row(at, slip), total, 0.011)
		if !slices.ContainsFunc(found, func(r Repair) bool {
			return r.Index == at && checkdata.Number(t, r.To) == checkdata.Number(t, printed[at])
		}) {
			t.Errorf("%s in place of %s is not found: %+v", slip, printed[at], found)
		}
	}
	found := RepairSum(row(-1, ""), Entry{97.97, "97.97"}, 0.011)
	// Exchanged digits change a number by nine times a power of ten, so that two
	// parts would mend this total too: a suspicion is no proof.
	if len(found) != 3 || found[2].Index != -1 || found[2].To != "99.77" {
		t.Errorf("a slip in the total: %+v", found)
	}
}

func TestStrangeAmongItsGroup(t *testing.T) {
	h, ok := HabitOf([]float64{4.9, 5.2, 5.6, 5.9, 6.2, 6.4, 5.3, 5.7})
	if !ok {
		t.Fatal("no habit")
	}
	if x, ok := h.RepairHabit(Entry{0.56, "0.56"}); !ok || x.To != "5.6" {
		t.Errorf("0.56 among fives: %+v %v", x, ok)
	}
	for _, e := range []Entry{{5.5, "5.5"}, {7.5, "7.5"}, {300, "300"}, {0, "0"}} {
		if x, ok := h.RepairHabit(e); ok && e.Value < 100 {
			t.Errorf("%g is repaired to %s", e.Value, x.To)
		}
	}
	if _, ok := HabitOf([]float64{1, 2, 3, 4, 5, 0, -1}); ok {
		t.Error("five positive values make a habit")
	}
}

func TestTotals(t *testing.T) {
	l := FullAnalysis()
	for sum, want := range map[float64]TotalVerdict{100: TotalGood, 99: TotalGood, 98.7: TotalAccepted, 101.4: TotalAccepted, 97: TotalLook, 103.19: TotalLook, 94.9: TotalRefused, 120: TotalRefused} {
		if got := l.Judge(sum, sum); got != want {
			t.Errorf("%g: %s, want %s", sum, got, want)
		}
	}
	if got := l.Judge(98.2, 98.6); got != TotalAccepted {
		t.Errorf("98.2 to 98.6 with limits: %s", got)
	}
	if got := (TotalLimits{}).Judge(60, 60); got != TotalUntested {
		t.Errorf("without limits: %s", got)
	}
	if err := l.Check(); err != nil {
		t.Error(err)
	}
	l.Accept[0] = 99.5
	if l.Check() == nil {
		t.Error("crossed limits pass")
	}
	checkdata.Near(t, "rounding of 12 parts to 0.01", RoundingSD(slices.Repeat([]float64{0.01}, 12)), 0.01, 1e-12)
	exact := []Sum{{100, 0.01}, {100.01, 0.01}, {99.98, 0.01}}
	if !Normalised(exact) {
		t.Error("three sums of 100.00 are not seen as normalised")
	}
	if Normalised(exact[:2]) || Normalised([]Sum{{100, 0.01}, {100.01, 0.01}, {99.9, 0.01}}) {
		t.Error("chance is called normalised")
	}
}

func TestCharts(t *testing.T) {
	c := ChartAbout([]float64{10, 10.1, 9.9, 10.25, 10.22, 9.6}, 10, 0.1)
	var at []int
	for _, s := range c.Signals {
		at = append(at, s.Index)
	}
	if !slices.Equal(at, []int{3, 4, 5}) || c.Signals[0].Act || !c.Signals[1].Act || !c.Signals[2].Act || c.Trust() != "" {
		t.Errorf("signals %+v", c.Signals)
	}
	// Six readings cannot judge themselves, however wild the last.
	if c := ChartOf([]float64{10, 10.1, 9.9, 10, 10, 20}); len(c.Signals) > 0 || !strings.Contains(c.Trust(), "6 readings") {
		t.Errorf("%+v %q", c.Signals, c.Trust())
	}
	if c := ChartAbout([]float64{1, 1, 1, 1, 1, 1, 1, 1, 1}, 0.95, 0.1); len(c.Signals) != 1 || c.Signals[0].Index != 7 {
		t.Errorf("eight on one side: %+v", c.Signals)
	}
	if c := ChartOf([]float64{1, 1.1, 1.2, 1.31, 1.4, 1.5}); !c.Drifts {
		t.Errorf("a steady rise is no drift: %+v", c)
	}
	// Moving range: mean of 2, 1, 3 over 1.128.
	checkdata.Near(t, "sd by moving range", ChartOf([]float64{1, 3, 2, 5}).SD, 2/1.128, 1e-12)
}
