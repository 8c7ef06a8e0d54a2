package sheet

import (
	"sort"
	"strconv"
	"strings"
)

// refOf writes a zero-based position in spreadsheet notation.
func refOf(row, col int) string {
	var buf [24]byte
	return string(strconv.AppendInt(appendColumn(buf[:0], col), int64(row)+1, 10))
}

// appendColumn writes a zero-based column as letters: A, Z, AA, XFD.
func appendColumn(b []byte, col int) []byte {
	if col >= 26 {
		b = appendColumn(b, col/26-1)
	}
	return append(b, byte('A'+col%26))
}

// parseRef reads a reference such as "AB12" into a zero-based position. Dollar
// signs, lower case and anything else are refused.
func parseRef[text string | []byte](s text) (row, col int, ok bool) {
	i := 0
	for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' {
		col = col*26 + int(s[i]-'A') + 1
		if i++; i > 3 {
			return 0, 0, false
		}
	}
	if i == 0 || i == len(s) || s[i] == '0' || len(s)-i > 7 {
		return 0, 0, false
	}
	for ; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return 0, 0, false
		}
		row = row*10 + int(s[i]-'0')
	}
	if row > maxSheetRows || col > maxSheetColumns {
		return 0, 0, false
	}
	return row - 1, col - 1, true
}

// parseSpan reads "A1:C3", or a single reference.
func parseSpan(s string) (span, bool) {
	a, b, two := strings.Cut(s, ":")
	if !two {
		b = a
	}
	r0, c0, ok0 := parseRef(a)
	r1, c1, ok1 := parseRef(b)
	if !ok0 || !ok1 || r1 < r0 || c1 < c0 {
		return span{}, false
	}
	return span{r0, c0, r1, c1}, true
}

// namedCells is how many references a message names.
const namedCells = 3

// refList writes some references and how many more there are.
func refList(refs []string) string {
	return refsOf(refs[:min(len(refs), namedCells)], len(refs))
}

// refsOf writes the first of count references.
func refsOf(first []string, count int) string {
	s := strings.Join(first, ", ")
	if more := count - len(first); more > 0 {
		s += " and " + strconv.Itoa(more) + " more"
	}
	return s
}

func sortedKeys(m map[int]bool) []int {
	out := make([]int, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Ints(out)
	return out
}
