package sheet

// listed reports a sheet that lists values one below the other, each with its
// material and analyte, as certificates do, or determinations, each with its
// sample, method and analyte. Its analytes stand in a column, but it is no table
// on its side.
func listed(v view) bool {
	const deep = 20 // rows in which headings are looked for
	for r := range min(len(v.rows), deep) {
		found := map[string]bool{}
		for _, c := range v.filled(r) {
			found[word(v.at(r, c).text)] = true
		}
		sample := found["sample"] || found["sample id"] || found["id"]
		if found["analyte"] && (found["material"] && found["value"] || sample && found["method"]) {
			return true
		}
	}
	return false
}
