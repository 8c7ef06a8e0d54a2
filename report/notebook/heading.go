package notebook

import (
	"strconv"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"
)

// headingPrefix begins the id of every heading, so that no heading can take
// the id of an entry or a figure.
const headingPrefix = "s-"

// nameHeadings gives every heading an id made of its words and a level such
// that the page's title is alone on the first and no level is skipped. Values
// in a heading do not count for its id, which so stays when they change.
func (b *body) nameHeadings(doc ast.Node) {
	top := 6
	var all []*ast.Heading
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if h, ok := n.(*ast.Heading); ok && entering {
			all = append(all, h)
			top = min(top, h.Level)
		}
		return ast.WalkContinue, nil
	})
	above := 1
	next := map[string]int{} // number of the next heading with the same words
	for _, h := range all {
		h.Level = min(h.Level-top+2, above+1, 6)
		above = h.Level
		base := slug(literalText(h, b.src))
		id := base
		for b.headings[id] {
			next[base] = max(next[base], 1) + 1
			id = base + "-" + strconv.Itoa(next[base])
		}
		b.headings[id] = true
		h.SetAttributeString("id", headingPrefix+id)
	}
}

// slug makes an id: letters and digits in lower case, hyphens between words.
func slug(s string) string {
	words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	if len(words) == 0 {
		return "section"
	}
	return strings.Join(words, "-")
}

// literalText returns the words below a node as they are typed, without
// values.
func literalText(n ast.Node, src []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			b.Write(n.Value(src))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(n.Value)
		case *ast.AutoLink:
			b.Write(n.Label(src))
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}
