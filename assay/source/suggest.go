package source

import (
	"slices"
	"strings"
)

// Nearest returns the word among the candidates that word was probably meant
// to be: the one with the least edit distance, if that is at most two and
// less than half the word. It returns "" when none is near. Letter case does
// not count; of equally near candidates the first wins.
func Nearest(word string, candidates []string) string {
	best, bestDistance := "", 3
	for _, c := range candidates {
		d := editDistance(strings.ToLower(word), strings.ToLower(c))
		if d < bestDistance && 2*d < max(len(word), len(c)) {
			best, bestDistance = c, d
		}
	}
	return best
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
	x, y := []rune(a), []rune(b)
	prev2, prev := []int(nil), make([]int, len(y)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row := make([]int, len(y)+1)
		row[0] = i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], prev2[j-2]+1)
			}
		}
		prev2, prev = prev, row
	}
	return prev[len(y)]
}
