package source

import (
	"slices"
	"strings"
)

// Nearest returns the word of the list that word was most likely meant to be:
// the one with the fewest inserted, dropped, changed or swapped letters, case
// apart. It is empty where all are too far: more than two letters off, or more
// than one for words of up to four letters. Of equals the first is returned.
func Nearest(word string, among []string) string {
	nearest, best := "", 3
	for _, candidate := range among {
		allowed := 2
		if min(len(candidate), len(word)) <= 4 {
			allowed = 1
		}
		d := editDistance(strings.ToLower(word), strings.ToLower(candidate))
		if d <= allowed && d < best {
			nearest, best = candidate, d
		}
	}
	return nearest
}

// DidYouMean returns `; did you mean "x"?` for the nearest candidate, or, when
// none is near, the list of what there is.
func DidYouMean(word string, candidates []string) string {
	if n := Nearest(word, candidates); n != "" {
		return `; did you mean "` + n + `"?`
	}
	if len(candidates) == 0 {
		return ""
	}
	list := slices.Clone(candidates)
	if len(list) > 12 {
		list = append(list[:12], "…")
	}
	return "; there are: " + strings.Join(list, ", ")
}

// editDistance counts the insertions, deletions, substitutions and swaps of
// neighbours that turn a into b (optimal string alignment).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	if d := len(s) - len(t); max(d, -d) > 2 {
		return max(d, -d)
	}
	rows := make([][]int, len(s)+1)
	for i := range rows {
		rows[i] = make([]int, len(t)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(s); i++ {
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			rows[i][j] = min(rows[i-1][j]+1, rows[i][j-1]+1, rows[i-1][j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(s)][len(t)]
}
