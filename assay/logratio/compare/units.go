package compare

import (
	"strconv"

	"smeltbook/assay/logratio"
)

// units deals samples out by what they are pieces of, in the order in which
// units first occur.
func (in Input) units(places []int) [][]int {
	var out [][]int
	at := map[string]int{}
	for _, i := range places {
		name := ""
		if in.Units != nil {
			name = in.Units[i]
		}
		if name == "" {
			name = "\x00" + strconv.Itoa(i) // itself
		}
		k, ok := at[name]
		if !ok {
			k = len(out)
			at[name] = k
			out = append(out, nil)
		}
		out[k] = append(out[k], i)
	}
	return out
}

// ofUnits is the same question with the compositional centre of each unit in
// place of its pieces: pieces of one firing are no independent witnesses. ok is
// false where every sample is a unit of its own.
func (in Input) ofUnits(r logratio.Replacement) (out Input, ok bool, err error) {
	m, err := in.Table.Complete(r)
	if err != nil {
		return Input{}, false, err
	}
	out.Names = in.Names
	var values [][]logratio.Value
	var names []string
	for g := range 2 {
		for _, unit := range in.units(in.members(g)) {
			sub := logratio.Matrix{Parts: m.Parts}
			for _, i := range unit {
				sub.X = append(sub.X, m.X[i])
			}
			row := make([]logratio.Value, len(m.Parts))
			for j, x := range sub.Centre(100) {
				row[j] = logratio.Measured(x, 0)
			}
			values, names, out.Group = append(values, row), append(names, in.Table.Samples[unit[0]]), append(out.Group, g)
		}
	}
	out.Table, err = logratio.NewTable(m.Parts, names, values)
	return out, len(values) < len(m.X), err
}
