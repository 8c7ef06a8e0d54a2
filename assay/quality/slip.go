package quality

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Edit is one slip of the pen put right: a number as it might have been.
type Edit struct {
	To     string  // as it would be written
	Factor float64 // new value over the old one
	What   string  // what would have happened
}

const twoDigits = "two digits exchanged"

// Edits lists the numbers that one slip could have turned into the number as
// written: two neighbouring digits exchanged, or the decimal point one or two
// places off. It lists none for what is no plain number.
func Edits(written string) []Edit {
	s := strings.TrimSpace(written)
	sign := ""
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		sign, s = "-", rest
	}
	mark := "."
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		mark = ","
	}
	whole, fraction, _ := strings.Cut(s, mark)
	digits := whole + fraction
	was, err := strconv.ParseFloat(whole+"."+fraction, 64)
	if err != nil || was == 0 || digits == "" || strings.Trim(digits, "0123456789") != "" {
		return nil
	}
	var out []Edit
	add := func(digits string, point int, what string) {
		to := placed(digits, point)
		now, err := strconv.ParseFloat(to, 64)
		if err == nil && now != 0 && now != was {
			out = append(out, Edit{To: sign + strings.Replace(to, ".", mark, 1), Factor: now / was, What: what})
		}
	}
	for i := 1; i < len(digits); i++ {
		if digits[i] != digits[i-1] {
			b := []byte(digits)
			b[i], b[i-1] = b[i-1], b[i]
			add(string(b), len(whole), twoDigits)
		}
	}
	for _, places := range []int{1, -1, 2, -2} {
		add(digits, len(whole)+places, "the decimal point "+[]string{"one place", "two places"}[(max(places, -places))-1]+" off")
	}
	return out
}

// placed writes digits with the decimal point behind the given number of them.
func placed(digits string, point int) string {
	for point < 1 {
		digits, point = "0"+digits, point+1
	}
	for len(digits) < point {
		digits += "0"
	}
	for point > 1 && digits[0] == '0' {
		digits, point = digits[1:], point-1
	}
	if point == len(digits) {
		return digits
	}
	return digits[:point] + "." + digits[point:]
}

// Step is the distance between neighbouring numbers with as many decimals as
// the one written: 0.01 for 45.83.
func Step(written string) float64 {
	s := strings.Replace(strings.TrimSpace(written), ",", ".", 1)
	_, fraction, _ := strings.Cut(s, ".")
	return math.Pow(10, -float64(len(fraction)))
}

// Entry is one number of a row: what it counts in the sum, and how it is
// written.
type Entry struct {
	Value   float64
	Written string
}

// Repair is a single edit that would make a row add up.
type Repair struct {
	Index int // of the entry; -1 for the printed total itself
	Edit
}

// RepairSum lists the single edits, of one entry or of the printed total, that
// would bring the sum to the total to within the tolerance. Chance finds some,
// so they are suspicions, and many of them say nothing.
func RepairSum(entries []Entry, total Entry, tolerance float64) []Repair {
	var sum float64
	for _, e := range entries {
		sum += e.Value
	}
	var out []Repair
	for i, e := range entries {
		for _, x := range Edits(e.Written) {
			if math.Abs(sum+e.Value*(x.Factor-1)-total.Value) <= tolerance {
				out = append(out, Repair{i, x})
			}
		}
	}
	for _, x := range Edits(total.Written) {
		if math.Abs(sum-total.Value*x.Factor) <= tolerance {
			out = append(out, Repair{-1, x})
		}
	}
	return out
}

// Habit is what the values of an analyte in a group look like, by logarithms.
type Habit struct {
	N      int
	Middle float64 // median of ln x
	Spread float64 // 1.4826 times the median distance from it, no less than 3 %
}

// LeastHabit is the number of values that make a habit.
const LeastHabit = 6

const leastSpread = 0.03

// HabitOf describes positive values; ok is false where there are too few.
func HabitOf(values []float64) (h Habit, ok bool) {
	var logs []float64
	for _, v := range values {
		if v > 0 {
			logs = append(logs, math.Log(v))
		}
	}
	if len(logs) < LeastHabit {
		return Habit{}, false
	}
	h = Habit{N: len(logs), Middle: medianOf(logs)}
	var away []float64
	for _, l := range logs {
		away = append(away, math.Abs(l-h.Middle))
	}
	h.Spread = math.Max(1.4826*medianOf(away), leastSpread)
	return h, true
}

// Z is how many spreads a value lies from the middle.
func (h Habit) Z(v float64) float64 {
	if !(v > 0) {
		return math.NaN()
	}
	return (math.Log(v) - h.Middle) / h.Spread
}

// Distances in spreads that call a number strange, and at home.
const (
	strange = 5
	atHome  = 2
)

// Strange reports a value so far out that it is looked at by itself.
func (h Habit) Strange(v float64) bool { return math.Abs(h.Z(v)) > strange }

// AtHome reports a value well inside the group.
func (h Habit) AtHome(v float64) bool { return math.Abs(h.Z(v)) <= atHome }

// RepairHabit returns the shift of the decimal point that would bring a strange
// number home among its group; ok is false where there is none. Exchanged digits
// are not thought of: they change a number by too little to be told from a
// sample that differs.
func (h Habit) RepairHabit(e Entry) (x Edit, ok bool) {
	if !h.Strange(e.Value) {
		return Edit{}, false
	}
	edits := slices.DeleteFunc(Edits(e.Written), func(x Edit) bool { return x.What == twoDigits || !h.AtHome(e.Value*x.Factor) })
	if len(edits) == 0 {
		return Edit{}, false
	}
	return slices.MinFunc(edits, func(a, b Edit) int {
		if d := math.Abs(h.Z(e.Value*a.Factor)) - math.Abs(h.Z(e.Value*b.Factor)); d < 0 {
			return -1
		}
		return 1
	}), true
}
