package notebook

import (
	"html/template"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"smeltbook/assay/source"
)

// Citation is one work cited in the prose.
type Citation struct {
	Before string // "see"
	Key    string
	After  string // "p. 12"
	Line   int    // of the notebook, counted from 1
}

// kindCite is the node kind of citations.
var kindCite = ast.NewNodeKind("Cite")

// citeNode is a citation in the prose, [see @key, p. 12; @other].
type citeNode struct {
	ast.BaseInline
	works []Citation
}

// Kind returns the node kind.
func (*citeNode) Kind() ast.NodeKind { return kindCite }

// Dump prints the node for debugging.
func (n *citeNode) Dump(src []byte, level int) { ast.DumpHelper(n, src, level, nil, nil) }

// citeParser finds citations. What looks like none is left to the links.
type citeParser struct{ body *body }

// Trigger returns the byte that may begin a citation.
func (*citeParser) Trigger() []byte { return []byte{'['} }

// citedWork is what may stand between semicolons: words, the key, words.
var citedWork = regexp.MustCompile(`^\s*((?:[^@\[\]]*\s)?)@([\pL\pN_](?:[\pL\pN_:.#$%&+?~/-]*[\pL\pN_])?)\s*(?:,\s*([^@\[\]]*?))?\s*$`)

// Parse reads a citation that begins at the reader's place, on one line or two.
func (p *citeParser) Parse(_ ast.Node, block text.Reader, _ parser.Context) ast.Node {
	line, at := block.PeekLine()
	savedLine, saved := block.Position()
	var b strings.Builder
	for n := 0; n < 2 && line != nil; n++ {
		before := b.Len()
		b.Write(line)
		if end := strings.IndexByte(b.String()[1:], ']'); end >= 0 {
			end++
			rest := b.String()[end+1:]
			works, ok := citations(b.String()[1:end], p.body.line(at.Start))
			if !ok || strings.HasPrefix(rest, "(") || strings.HasPrefix(rest, "[") || strings.HasPrefix(rest, ":") {
				break
			}
			block.Advance(end + 1 - before)
			return &citeNode{works: works}
		}
		block.AdvanceLine()
		line, _ = block.PeekLine()
	}
	block.SetPosition(savedLine, saved)
	return nil
}

func citations(inside string, line int) (works []Citation, ok bool) {
	for _, part := range strings.Split(oneLine(inside), ";") {
		m := citedWork.FindStringSubmatch(part)
		if m == nil {
			return nil, false
		}
		works = append(works, Citation{Before: strings.TrimSpace(m[1]), Key: m[2], After: m[3], Line: line})
	}
	return works, true
}

// Citations returns the works that the prose cites, in order.
func (n *Notebook) Citations() []Citation {
	var out []Citation
	for _, b := range n.Blocks {
		p, ok := b.(*Prose)
		if !ok {
			continue
		}
		for _, n := range p.nodes {
			_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
				if c, ok := n.(*citeNode); ok && entering {
					out = append(out, c.works...)
				}
				return ast.WalkContinue, nil
			})
		}
	}
	return out
}

// cite writes a citation: names and years in brackets, each a link into the
// list of references.
func (w *proseRenderer) cite(out util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	_, _ = out.WriteString(`<span class="cite">(`)
	for i, c := range node.(*citeNode).works {
		if i > 0 {
			_, _ = out.WriteString("; ")
		}
		before, after := around(c)
		short, href := w.work(c)
		name := template.HTMLEscapeString(short)
		if href != "" {
			name = `<a href="` + template.HTMLEscapeString(href) + `">` + name + `</a>`
		}
		_, _ = out.WriteString(template.HTMLEscapeString(before) + name + template.HTMLEscapeString(after))
	}
	_, _ = out.WriteString(`)</span>`)
	return ast.WalkSkipChildren, nil
}

// around returns what stands before and behind the name.
func around(c Citation) (before, after string) {
	if c.Before != "" {
		before = c.Before + " "
	}
	if c.After != "" {
		after = ", " + c.After
	}
	return before, after
}

// work returns the name of a cited work and the address of its reference; the
// key where it is not known.
func (w *proseRenderer) work(c Citation) (short, href string) {
	if w.sources.Cite != nil {
		var notices source.Notices
		if short, href, notices = w.sources.Cite(c); short != "" {
			return short, href
		}
		w.notices.AddNew(notices)
	}
	return "@" + c.Key, ""
}

// plainCite is a citation without its links.
func (w *proseRenderer) plainCite(n *citeNode) string {
	var parts []string
	for _, c := range n.works {
		before, after := around(c)
		short, _ := w.work(c)
		parts = append(parts, before+short+after)
	}
	return "(" + strings.Join(parts, "; ") + ")"
}
