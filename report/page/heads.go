package page

import (
	"strings"
	"unicode/utf8"
)

// breaks cuts a long head where it may go on in the next line besides at
// spaces: behind the strokes of a formula, and behind a plus in what is still
// long.
func breaks(head string) []string {
	if utf8.RuneCountInString(head) <= longestHead {
		return []string{head}
	}
	var out []string
	for _, piece := range strings.SplitAfter(head, "/") {
		if utf8.RuneCountInString(piece) > 2*longestHead {
			out = append(out, strings.SplitAfter(piece, "+")...)
		} else {
			out = append(out, piece)
		}
	}
	return out
}

// longestHead is the most letters of a head that is never broken.
const longestHead = 8
