package sheet

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// texts keeps the many short texts of a file in few pieces of memory.
type texts struct {
	piece strings.Builder
	size  int // bytes kept
}

const textPiece = 64 << 10

// keep returns b as a string.
func (t *texts) keep(b []byte) string {
	if len(b) == 0 {
		return ""
	}
	t.size += len(b)
	if len(b) > textPiece/4 {
		return string(b)
	}
	if t.piece.Cap()-t.piece.Len() < len(b) {
		t.piece = strings.Builder{}
		t.piece.Grow(textPiece)
	}
	from := t.piece.Len()
	t.piece.Write(b)
	return t.piece.String()[from:]
}

// unescape resolves _x000D_ and its kin, by which a workbook writes signs that
// XML does not allow (ECMA-376, part 1, 22.9.2.19); _x005F_ is an underscore.
func unescape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '_' && i+7 <= len(s) && s[i+1] == 'x' && s[i+6] == '_' {
			if n, err := strconv.ParseUint(s[i+2:i+6], 16, 16); err == nil && utf8.ValidRune(rune(n)) {
				b.WriteRune(rune(n))
				i += 6
				continue
			}
		}
		b.WriteByte(s[i])
	}
	return b.String()
}
