package report

import "strings"

// byline turns names that stand with the family's first, "Reeve, Ada", into the
// order in which they are read, so that a list of them can be told apart. Names
// with more than one comma stay as they are.
func byline(names []string) []string {
	out := make([]string, len(names))
	for i, name := range names {
		out[i] = name
		family, given, ok := strings.Cut(name, ",")
		if family, given = strings.TrimSpace(family), strings.TrimSpace(given); ok && family != "" && given != "" && !strings.Contains(given, ",") {
			out[i] = given + " " + family
		}
	}
	return out
}
