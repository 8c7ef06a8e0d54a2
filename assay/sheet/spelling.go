package sheet

// Analyte returns the ID of the analyte that a text spells, as in a heading.
func Analyte(text string) (id string, ok bool) {
	h := parseHeading(text)
	return h.analyte, h.analyte != "" && h.ambiguous == ""
}

// ToWt returns the number by which an amount in the unit that a text spells is
// multiplied to give wt%; ok is false for no unit of mass fraction.
func ToWt(unit string) (factor float64, ok bool) {
	u, ok := parseUnit(unit)
	return u.factor, ok && u.refuse == ""
}
