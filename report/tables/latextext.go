package tables

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// latexText sets any text for LaTeX: no character of it can act as a command,
// and those that the usual typefaces lack are named by their number. Letters of
// other scripts than Latin stay; they need an engine for Unicode.
func latexText(s string) string {
	var b strings.Builder
	runes := []rune(strings.ToValidUTF8(s, "\ufffd"))
	for i := 0; i < len(runes); i++ {
		r := runes[i]
		if low, raised := scripts(r); low != 0 || raised != 0 {
			sign := "_"
			if low == 0 {
				sign = "^"
			}
			b.WriteString("$" + sign + "{")
			for ; i < len(runes); i++ {
				l, h := scripts(runes[i])
				if low != 0 && l == 0 || low == 0 && h == 0 {
					break
				}
				b.WriteRune(max(l, h))
			}
			i--
			b.WriteString("}$")
			continue
		}
		b.WriteString(latexRune(r))
		if i+1 < len(runes) && runes[i+1] == r && strings.ContainsRune("-,'", r) {
			b.WriteString("{}") // two of them would join to a dash or a quotation mark
		}
	}
	return b.String()
}

func latexRune(r rune) string {
	if set, ok := latexSigns[r]; ok {
		return set
	}
	switch {
	case r > ' ' && r < 0x7f:
		return string(r)
	case unicode.IsSpace(r) || unicode.IsControl(r):
		return " "
	case isLetter(r):
		return string(r)
	}
	return fmt.Sprintf("{[}U+%04X{]}", r)
}

// isLetter tells letters from those that are signs above or below others.
func isLetter(r rune) bool { return unicode.IsLetter(r) && !unicode.Is(unicode.Lm, r) }

// beyondLatin tells whether a text holds letters that LaTeX without Unicode does
// not know. Those to U+017F it makes of accents.
func beyondLatin(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return r > 0x17f && isLetter(r) && latexSigns[r] == "" })
}

// Lowered letters, and what they are letters of.
const (
	lowLetters     = "ₐₑₕᵢⱼₖₗₘₙₒₚᵣₛₜᵤᵥₓ"
	lowLetterNames = "aehijklmnoprstuvx"
)

// scripts returns the figure or letter that a lowered or raised one stands for.
func scripts(r rune) (low, raised rune) {
	if r >= '₀' && r <= '₉' {
		return '0' + r - '₀', 0
	}
	switch r {
	case '¹':
		return 0, '1'
	case '²', '³':
		return 0, '2' + r - '²'
	case '⁻':
		return 0, '-'
	case '⁺':
		return 0, '+'
	}
	if i := strings.IndexRune(lowLetters, r); i >= 0 {
		return []rune(lowLetterNames)[utf8.RuneCountInString(lowLetters[:i])], 0
	}
	if r == '⁰' || r >= '⁴' && r <= '⁹' {
		return 0, '0' + r - '⁰'
	}
	return 0, 0
}

// latexSigns are the characters with a meaning to LaTeX, those that would begin
// an argument or a star after the end of a row, and signs that its typefaces know
// by a name.
var latexSigns = map[rune]string{
	'\\': `\textbackslash{}`, '{': `\{`, '}': `\}`, '$': `\$`, '&': `\&`, '#': `\#`, '%': `\%`, '_': `\_`,
	'^': `\textasciicircum{}`, '~': `\textasciitilde{}`, '<': `\textless{}`, '>': `\textgreater{}`, '|': `\textbar{}`,
	'"': `\char34{}`, '`': `\textasciigrave{}`, '[': `{[}`, ']': `{]}`, '*': `{*}`,
	'\u00a0': `~`, '\u202f': `\,`, '\u2009': `\,`, '\u00ad': `\-`, '\u200b': ``, '\ufeff': ``,
	'–': `\textendash{}`, '—': `\textemdash{}`, '‘': `\textquoteleft{}`, '’': `\textquoteright{}`, '“': `\textquotedblleft{}`, '”': `\textquotedblright{}`,
	'…': `\dots{}`, '†': `\dag{}`, '‡': `\ddag{}`, '§': `\S{}`, '•': `\textbullet{}`, '·': `$\cdot$`,
	'−': `$-$`, '±': `$\pm$`, '×': `$\times$`, '÷': `$\div$`, '°': `$^{\circ}$`, '≤': `$\leq$`, '≥': `$\geq$`, '≈': `$\approx$`, '≠': `$\neq$`,
	'→': `$\to$`, '←': `$\leftarrow$`, '↑': `$\uparrow$`, '↓': `$\downarrow$`, '∞': `$\infty$`, '√': `$\surd$`, '∑': `$\sum$`, '∂': `$\partial$`,
	'′': `$'$`, '″': `$''$`, '½': `$\frac{1}{2}$`, '¼': `$\frac{1}{4}$`, '¾': `$\frac{3}{4}$`, '∆': `$\Delta$`, '▲': `$\triangle$`, '○': `$\circ$`, '£': `\pounds{}`, '©': `\copyright{}`,
	'α': `$\alpha$`, 'β': `$\beta$`, 'γ': `$\gamma$`, 'δ': `$\delta$`, 'ε': `$\varepsilon$`, 'ζ': `$\zeta$`, 'η': `$\eta$`, 'θ': `$\theta$`, 'κ': `$\kappa$`,
	'λ': `$\lambda$`, 'μ': `$\mu$`, 'µ': `$\mu$`, 'ν': `$\nu$`, 'ξ': `$\xi$`, 'π': `$\pi$`, 'ρ': `$\rho$`, 'σ': `$\sigma$`, 'τ': `$\tau$`, 'φ': `$\varphi$`,
	'χ': `$\chi$`, 'ψ': `$\psi$`, 'ω': `$\omega$`, 'Γ': `$\Gamma$`, 'Δ': `$\Delta$`, 'Θ': `$\Theta$`, 'Λ': `$\Lambda$`, 'Π': `$\Pi$`, 'Σ': `$\Sigma$`, 'Φ': `$\Phi$`, 'Ω': `$\Omega$`,
}
