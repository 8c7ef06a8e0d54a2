package sheet

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Spaces that look like a space but are none (U+00A0, U+2007, U+2009, U+200A,
// U+202F) and signs without width (U+FEFF, U+200B to U+200D, U+2060).
func oddSpace(r rune) bool {
	switch r {
	case 0x00A0, 0x2002, 0x2003, 0x2005, 0x2007, 0x2008, 0x2009, 0x200A, 0x202F, 0x3000:
		return true
	}
	return false
}

func noWidth(r rune) bool {
	return r == 0xFEFF || (r >= 0x200B && r <= 0x200D) || r == 0x2060 || r == 0x00AD
}

func blank(s string) bool {
	for _, r := range s {
		if r != ' ' && r != '\t' && r != '\n' && r != '\r' && !oddSpace(r) && !noWidth(r) {
			return false
		}
	}
	return true
}

// foldSpaces turns every kind of space and line break into a single plain
// space and trims the ends; odd reports whether a space of the odd kinds, or
// a sign without width, was met.
func foldSpaces(s string) (out string, odd bool) {
	plain := true
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] < 0x20 || (s[i] == ' ' && (i == 0 || i == len(s)-1 || s[i-1] == ' ')) {
			plain = false
			break
		}
	}
	if plain {
		return s, false
	}
	var b strings.Builder
	pending := false
	for _, r := range s {
		switch {
		case noWidth(r):
			odd = true
			continue
		case oddSpace(r):
			odd = true
			pending = true
			continue
		case r == ' ' || r == '\t' || r == '\n' || r == '\r' || r == '\v' || r == '\f':
			pending = true
			continue
		}
		if pending && b.Len() > 0 {
			b.WriteByte(' ')
		}
		pending = false
		b.WriteRune(r)
	}
	return b.String(), odd
}

// signs that NFKC would turn into something else than what a heading means.
var headingSigns = strings.NewReplacer(
	"⁻¹", "-1", "⁺", "+", "⁻", "-", "₊", "+", "₋", "-", "−", "-", "–", "-", "‐", "-", "‑", "-", "—", "-",
	"\u03BC", "\u00B5", // Greek mu to the micro sign
	"％", "%", "＜", "<",
)

// foldSigns brings sub- and superscripts, full-width letters and the several
// dashes of a heading to plain signs.
func foldSigns(s string) string {
	if isASCII(s) {
		return s
	}
	s = headingSigns.Replace(s)
	var b strings.Builder
	for _, r := range s {
		switch r {
		case 0x00B5, '°', '±', 'Σ', 'σ', '≡', '‰', '·', '†', '‡', '§', '¹':
			b.WriteRune(r)
		default:
			b.WriteString(norm.NFKC.String(string(r)))
		}
	}
	return norm.NFC.String(b.String())
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 {
			return false
		}
	}
	return true
}

// lookalikes are letters of other alphabets drawn like Latin ones.
var lookalikes = map[rune]rune{
	'А': 'A', 'В': 'B', 'С': 'C', 'Е': 'E', 'Н': 'H', 'К': 'K', 'М': 'M', 'О': 'O', 'Р': 'P', 'Т': 'T', 'Х': 'X', 'І': 'I', 'Ѕ': 'S', 'Ј': 'J', 'У': 'Y',
	'а': 'a', 'с': 'c', 'е': 'e', 'о': 'o', 'р': 'p', 'х': 'x', 'і': 'i', 'ѕ': 's', 'ј': 'j', 'у': 'y',
	'Α': 'A', 'Β': 'B', 'Ε': 'E', 'Η': 'H', 'Ι': 'I', 'Κ': 'K', 'Μ': 'M', 'Ν': 'N', 'Ο': 'O', 'Ρ': 'P', 'Τ': 'T', 'Χ': 'X', 'Ζ': 'Z', 'ο': 'o',
}

// foldLookalikes replaces letters of other alphabets that look Latin.
func foldLookalikes(s string) (out string, changed bool) {
	if isASCII(s) {
		return s, false
	}
	out = strings.Map(func(r rune) rune {
		if l, ok := lookalikes[r]; ok {
			changed = true
			return l
		}
		return r
	}, s)
	return out, changed
}

// word reduces a text to what matters when words are compared: lower case,
// single spaces, no full stops or colons.
func word(s string) string {
	s, _ = foldSpaces(s)
	s = strings.ToLower(foldSigns(s))
	s = wordSigns.Replace(s)
	return strings.Join(strings.Fields(s), " ")
}

// clip shortens a text for a message.
func clip(s string) string {
	const most = 40
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}

// wordSigns are signs that do not tell words apart.
var wordSigns = strings.NewReplacer(".", " ", ":", " ", "_", " ", "#", " ")
