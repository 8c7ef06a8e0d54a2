package page

import "strings"

// codeOut takes a sentence apart at its backticks: every second piece is to be
// set as code. A sentence with an odd number of them is left whole.
func codeOut(sentence string) []string {
	if strings.Count(sentence, "`")%2 == 1 {
		return []string{sentence}
	}
	return strings.Split(sentence, "`")
}
