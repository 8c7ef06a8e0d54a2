package notebook

import (
	"bytes"
	"html/template"
	"io/fs"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"smeltbook/assay/source"
)

// Prose is the text between two entries.
type Prose struct {
	body  *body
	nodes []ast.Node
}

// Value is what stands in the prose in the place of a call, as plain text.
type Value struct {
	Text string // empty where there is none
	Note string // of what it is and where its ± comes from, shown on pointing
}

// Values computes a value of the prose. Notices tell why there is none; they
// should carry the call's line.
type Values func(Call) (Value, source.Notices)

// Sources are where the prose takes what does not stand in it. Any of them may be
// nil.
type Sources struct {
	Values Values
	// Ref gives the text of a reference to another entry, {{ ref "ternary" }}, and
	// the address on the page.
	Ref func(Call) (text, href string, notices source.Notices)
	// Cite gives the name of a cited work and the address of its reference.
	Cite  func(Citation) (text, href string, notices source.Notices)
	Files fs.FS // the folder of the notebook, for pictures
}

// RefFunc is the word that begins a reference to another entry.
const RefFunc = "ref"

// Rendered is prose as HTML. All text in it is escaped; it holds no scripts,
// no styles but the alignment of table cells, and no address outside the
// report except in links.
type Rendered struct {
	HTML     template.HTML
	Headings []Heading
}

// Heading is a heading of the prose, for a table of contents.
type Heading struct {
	Level int // 2 to 6
	ID    string
	Text  string // values filled in
}

// Render returns the prose with its values, references and citations filled in.
// Images are put into the page.
func (p *Prose) Render(sources Sources) (Rendered, source.Notices) {
	w := &proseRenderer{body: p.body, sources: sources, texts: map[*valueNode]string{}, notes: map[*valueNode]string{}, hrefs: map[*valueNode]string{}}
	r := renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(w, 100),
		util.Prioritized(extension.NewFootnoteHTMLRenderer(
			extension.WithFootnoteBacklinkTitle("back to the text"),
		), 500),
		util.Prioritized(extension.NewTableHTMLRenderer(), 500),
		util.Prioritized(html.NewRenderer(), 1000),
	))
	var out Rendered
	var b bytes.Buffer
	for _, n := range p.nodes {
		if err := r.Render(&b, p.body.src, n); err != nil {
			w.notices = append(w.notices, notice(p.body.file, p.body.lineAt(n), source.Error, "PROSE", "this passage could not be set: %v", err))
		}
		_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if h, ok := n.(*ast.Heading); ok && entering {
				id, _ := h.AttributeString("id")
				name, _ := id.(string)
				out.Headings = append(out.Headings, Heading{Level: h.Level, ID: name, Text: w.plain(h)})
			}
			return ast.WalkContinue, nil
		})
	}
	out.HTML = template.HTML(b.String())
	return out, w.notices
}

// calls returns the values asked for, in order; references are none.
func (p *Prose) calls() []Call {
	var out []Call
	for _, n := range p.nodes {
		_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
			if v, ok := n.(*valueNode); ok && entering && v.call != nil && v.call.Func != RefFunc {
				out = append(out, *v.call)
			}
			return ast.WalkContinue, nil
		})
	}
	return out
}

// proseRenderer renders what the page wants different from plain Markdown:
// values, links, images and tables.
type proseRenderer struct {
	body    *body
	sources Sources
	texts   map[*valueNode]string // values are asked for once
	notes   map[*valueNode]string // of values, shown on pointing
	hrefs   map[*valueNode]string // of references
	notices source.Notices
}

// RegisterFuncs takes over the node kinds that are rendered here.
func (w *proseRenderer) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(kindValue, w.value)
	reg.Register(kindCite, w.cite)
	reg.Register(ast.KindLink, w.link)
	reg.Register(ast.KindImage, w.image)
	w.registerTable(reg)
}

func (w *proseRenderer) value(out util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	n := node.(*valueNode)
	class := "value"
	if n.call == nil || w.text(n) == "" {
		class = "value unread"
	}
	if href := w.hrefs[n]; href != "" {
		_, _ = out.WriteString(`<a class="ref" href="` + template.HTMLEscapeString(href) + `">` + template.HTMLEscapeString(w.shown(n)) + `</a>`)
		return ast.WalkContinue, nil
	}
	title := ""
	if note := w.notes[n]; note != "" {
		title = ` title="` + template.HTMLEscapeString(note) + `"`
	}
	_, _ = out.WriteString(`<span class="` + class + `"` + title + `>` + template.HTMLEscapeString(w.shown(n)) + `</span>`)
	return ast.WalkContinue, nil
}

// text returns the text of a value, empty where there is none.
func (w *proseRenderer) text(n *valueNode) string {
	isRef := n.call != nil && n.call.Func == RefFunc
	if n.call == nil || isRef && w.sources.Ref == nil || !isRef && w.sources.Values == nil {
		return ""
	}
	text, asked := w.texts[n]
	if !asked {
		var notices source.Notices
		if isRef {
			text, w.hrefs[n], notices = w.sources.Ref(*n.call)
		} else {
			var v Value
			v, notices = w.sources.Values(*n.call)
			text, w.notes[n] = v.Text, v.Note
		}
		w.notices = append(w.notices, notices...)
		w.texts[n] = text
	}
	return text
}

// shown returns what the page prints for a value: its text, or what stands in
// the notebook where there is none.
func (w *proseRenderer) shown(n *valueNode) string {
	if text := w.text(n); text != "" {
		return text
	}
	return oneLine(n.literal)
}

func (w *proseRenderer) link(out util.BufWriter, _ []byte, node ast.Node, entering bool) (ast.WalkStatus, error) {
	n := node.(*ast.Link)
	if !entering {
		_, _ = out.WriteString("</a>")
		return ast.WalkContinue, nil
	}
	dest, _ := address(n.Destination)
	_, _ = out.WriteString(`<a href="` + template.HTMLEscapeString(dest) + `">`)
	return ast.WalkContinue, nil
}

// plain returns the text below a node as a reader sees it.
func (w *proseRenderer) plain(n ast.Node) string {
	var b strings.Builder
	for c := n.FirstChild(); c != nil; c = c.NextSibling() {
		switch c := c.(type) {
		case *valueNode:
			b.WriteString(w.shown(c))
		case *citeNode:
			b.WriteString(w.plainCite(c))
		case *ast.Text:
			text := c.Value(w.body.src)
			if !c.IsRaw() {
				text = util.UnescapePunctuations(util.ResolveEntityNames(util.ResolveNumericReferences(text)))
			}
			b.Write(text)
			if c.SoftLineBreak() || c.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(c.Value)
		case *ast.AutoLink:
			b.Write(c.Label(w.body.src))
		default:
			b.WriteString(w.plain(c))
		}
	}
	return strings.TrimSpace(b.String())
}
