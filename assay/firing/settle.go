package firing

import (
	"slices"

	"smeltbook/assay/source"
)

// A contact that opens for a moment shows the cold of the terminals between
// readings of the fire.
const (
	dropCold   = 60.  // °C at most while open
	dropHot    = 300. // °C at least before and after
	dropLength = 3    // readings at most
)

// settle takes dropouts out of a channel and averages readings of one time.
func (r *reader) settle(ch *Channel) {
	cold := func(x Reading) bool { return x.C <= dropCold }
	var kept []Reading
	for i := 0; i < len(ch.Readings); {
		n := i
		for n < len(ch.Readings) && cold(ch.Readings[n]) {
			n++
		}
		if n > i && n-i <= dropLength && len(kept) > 0 && kept[len(kept)-1].C >= dropHot && n < len(ch.Readings) && ch.Readings[n].C >= dropHot {
			for _, x := range ch.Readings[i:n] {
				ch.Faults = append(ch.Faults, Fault{Min: x.Min, Text: fmtC(x.C), Why: "contact lost for a moment", At: x.At})
			}
			i = n
			continue
		}
		kept = append(kept, ch.Readings[i:max(n, i+1)]...)
		i = max(n, i+1)
	}
	var out []Reading
	repeats := 0
	var first source.Cell
	for i := 0; i < len(kept); {
		n := i + 1
		sum := kept[i].C
		for n < len(kept) && kept[n].Min == kept[i].Min {
			sum += kept[n].C
			n++
		}
		if n-i > 1 {
			if repeats == 0 {
				first = kept[i].At
			}
			repeats += n - i - 1
		}
		x := kept[i]
		x.C = sum / float64(n-i)
		out = append(out, x)
		i = n
	}
	if repeats > 0 {
		r.notices.Add(source.Note, "LOG_REPEATED", first, "of %q %s the time of another; readings of one time are averaged: log with seconds to keep them apart", ch.Name, counted(repeats, "reading has", "readings have"))
	}
	ch.Readings = out
	slices.SortStableFunc(ch.Faults, func(a, b Fault) int {
		switch {
		case a.Min < b.Min:
			return -1
		case a.Min > b.Min:
			return 1
		}
		return 0
	})
	if n := len(ch.Faults); n > 0 {
		r.notices.Add(source.Note, "LOG_FAULTS", ch.Faults[0].At, "of %q %s no temperature (%q first: %s) and %s left out", ch.Name, counted(n, "entry is", "entries are"), ch.Faults[0].Text, ch.Faults[0].Why, wereOrWas(n))
	}
}

func wereOrWas(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}
