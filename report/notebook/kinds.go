package notebook

import (
	"slices"

	"smeltbook/assay/source"
)

// Kinds returns the kinds of entry that can be drawn.
func Kinds() []string {
	return []string{"spread", "composition", "ternary", "indices", "melting", "flow", "redox", "copper", "lining", "dressing", "balance", "origins", "likeness", "effects", "quality", "firing", "fragments", "cautions", "methods", "data"}
}

// languages are info strings of ordinary code blocks that are no misspelt
// entries.
func languages() []string {
	return []string{"", "text", "txt", "csv", "tsv", "python", "py", "r", "json", "yaml", "yml", "toml", "go", "bash",
		"sh", "html", "xml", "css", "sql", "java", "dart", "diff", "latex", "tex", "matlab", "markdown", "md", "julia"}
}

// classify says what an info string's first word asks for: an entry kind, or
// none. near is the kind that the word was probably meant to be, empty where it
// is plain code.
func classify(word string) (kind, near string) {
	if slices.Contains(Kinds(), word) {
		return word, ""
	}
	if slices.Contains(languages(), word) {
		return "", ""
	}
	return "", source.Nearest(word, Kinds())
}
