package notebook

import (
	"slices"

	"smeltbook/assay/source"
)

// Kinds returns the kinds of entry that can be drawn.
func Kinds() []string {
	return []string{"spread", "composition", "ternary", "indices", "melting", "flow", "redox", "copper", "lining", "dressing", "balance", "origins", "likeness", "effects", "quality", "cautions", "methods", "data"}
}

// Reserved returns the kinds of entry that have a name but are not drawn by
// this version; to ask for one is an error.
func Reserved() []string {
	return []string{"firing"}
}

// languages are info strings of ordinary code blocks that are no misspelt
// entries.
func languages() []string {
	return []string{"", "text", "txt", "csv", "tsv", "python", "py", "r", "json", "yaml", "yml", "toml", "go", "bash",
		"sh", "html", "xml", "css", "sql", "java", "dart", "diff", "latex", "tex", "matlab", "markdown", "md", "julia"}
}

// classify says what an info string's first word asks for: an entry kind, a
// reserved kind, or neither. near is the kind that the word was probably meant
// to be, empty where it is plain code.
func classify(word string) (kind string, reserved bool, near string) {
	if slices.Contains(Kinds(), word) {
		return word, false, ""
	}
	if slices.Contains(Reserved(), word) {
		return word, true, ""
	}
	if slices.Contains(languages(), word) {
		return "", false, ""
	}
	near = source.Nearest(word, append(Kinds(), Reserved()...))
	return "", false, near
}
