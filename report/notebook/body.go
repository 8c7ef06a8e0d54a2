package notebook

import (
	"bytes"
	"sort"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
	"go.yaml.in/yaml/v3"

	"smeltbook/assay/source"
)

// body is the Markdown of a notebook: its text and where its lines begin.
type body struct {
	file     string
	src      []byte
	first    int   // line of the notebook on which src begins
	newlines []int // offsets of the line ends
	headings map[string]bool
	notices  source.Notices
}

// parseBody parses the Markdown, which begins on line first, into blocks. It
// is parsed once, so that footnotes and link references reach across entries.
func parseBody(file string, src []byte, first int) ([]Block, source.Notices) {
	b := &body{file: file, src: src, first: first, headings: map[string]bool{}}
	for i, c := range src {
		if c == '\n' {
			b.newlines = append(b.newlines, i)
		}
	}
	doc := b.markdown().Parse(text.NewReader(src))
	b.nameHeadings(doc)
	b.checkLinks(doc)
	b.setFormulas(doc)
	var blocks []Block
	var prose *Prose
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		fence, ok := n.(*ast.FencedCodeBlock)
		if ok {
			if entry, taken := b.entry(fence); taken {
				if entry != nil {
					blocks = append(blocks, entry)
					prose = nil
				}
				continue
			}
		} else {
			b.refuseNested(n)
		}
		if n.Kind() == ast.KindLinkReferenceDefinition {
			continue
		}
		if prose == nil {
			prose = &Prose{body: b}
			blocks = append(blocks, prose)
		}
		prose.nodes = append(prose.nodes, n)
	}
	sort.SliceStable(b.notices, func(i, j int) bool { return b.notices[i].At.LineNumber() < b.notices[j].At.LineNumber() })
	return blocks, b.notices
}

// markdown returns the parser: CommonMark with tables and footnotes, without
// raw HTML, with values.
func (b *body) markdown() parser.Parser {
	var blocks, inlines []util.PrioritizedValue
	for _, p := range parser.DefaultBlockParsers() {
		if p.Value != parser.NewHTMLBlockParser() {
			blocks = append(blocks, p)
		}
	}
	for _, p := range parser.DefaultInlineParsers() {
		if p.Value != parser.NewRawHTMLParser() {
			inlines = append(inlines, p)
		}
	}
	return parser.NewParser(
		parser.WithBlockParsers(append(blocks, util.Prioritized(extension.NewFootnoteBlockParser(), 999))...),
		parser.WithInlineParsers(append(inlines,
			util.Prioritized(extension.NewFootnoteParser(), 101),
			util.Prioritized(&valueParser{body: b}, 50),
			util.Prioritized(&citeParser{body: b}, 60))...),
		parser.WithParagraphTransformers(append(parser.DefaultParagraphTransformers(),
			util.Prioritized(extension.NewTableParagraphTransformer(), 200))...),
		parser.WithASTTransformers(
			util.Prioritized(extension.NewTableASTTransformer(), 0),
			util.Prioritized(extension.NewFootnoteASTTransformer(), 999)),
	)
}

// line returns the notebook's line of an offset into the body.
func (b *body) line(offset int) int {
	return b.first + sort.SearchInts(b.newlines, max(offset, 0))
}

// lineAt returns the notebook's line of a node, or of the nearest node above
// that knows where it stands.
func (b *body) lineAt(n ast.Node) int {
	for ; n != nil; n = n.Parent() {
		if at := n.Pos(); at >= 0 && n.Kind() != ast.KindDocument {
			return b.line(at)
		}
	}
	return b.first
}

func (b *body) tell(line int, s source.Severity, code, format string, args ...any) {
	b.notices = append(b.notices, notice(b.file, line, s, code, format, args...))
}

// entry reads a fenced block. taken is false for a block of plain code; entry
// is nil where the block asks for something that cannot be given.
func (b *body) entry(fence *ast.FencedCodeBlock) (entry *Entry, taken bool) {
	line, info := b.fenceLine(fence), ""
	if fence.Info != nil {
		info = string(fence.Info.Value(b.src))
	}
	word, rest, _ := strings.Cut(strings.TrimSpace(info), " ")
	if bare := strings.Trim(word, "{}."); bare != word {
		if near := source.Nearest(bare, Kinds()); near != "" {
			b.tell(line, source.Error, "ENTRY_BRACES", "an entry is asked for without braces; write ```%s", near)
			return nil, true
		}
	}
	kind, near := classify(word)
	switch {
	case near != "":
		b.tell(line, source.Error, "UNKNOWN_ENTRY", "there is no entry `%s`; did you mean `%s`? (For plain code write ```text.)", word, near)
		return nil, true
	case kind == "":
		return nil, false
	}
	if strings.TrimSpace(rest) != "" {
		b.tell(line, source.Error, "ENTRY_INFO", "%q stands behind `%s`; write options on lines of their own below, as key: value", strings.TrimSpace(rest), kind)
	}
	entry = &Entry{Kind: kind, Line: line, file: b.file}
	d := decoder{file: b.file}
	if node := d.parseYAML(fence.Lines().Value(b.src), line+1, "the options of `"+kind+"`"); node != nil {
		entry.Options = d.options(node, kind, entry)
	}
	b.notices = append(b.notices, d.notices...)
	return entry, true
}

// options returns the mapping of an entry's options and takes title and id out of
// it. Keys given twice are told of here, once.
func (d *decoder) options(node *yaml.Node, kind string, entry *Entry) *yaml.Node {
	out := *node
	out.Content = nil
	for _, p := range d.pairs(node, "the options of `"+kind+"`") {
		switch p.key {
		case "title":
			entry.Title, _ = d.text(p.value, `"title"`)
		case "id":
			entry.ID, _ = d.text(p.value, `"id"`)
		default:
			out.Content = append(out.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: p.key, Line: p.line}, p.value)
		}
	}
	if len(out.Content) == 0 {
		return nil
	}
	return &out
}

// fenceLine returns the line of a block's opening fence.
func (b *body) fenceLine(fence *ast.FencedCodeBlock) int {
	switch {
	case fence.Info != nil:
		return b.line(fence.Info.Segment.Start)
	case fence.Lines().Len() > 0:
		return max(b.line(fence.Lines().At(0).Start)-1, b.first)
	}
	return b.lineAt(fence)
}

// refuseNested tells of entries inside lists, quotations and footnotes, where
// there is no room to draw them.
func (b *body) refuseNested(n ast.Node) {
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		fence, ok := n.(*ast.FencedCodeBlock)
		if !ok || !entering || fence.Info == nil {
			return ast.WalkContinue, nil
		}
		word, _, _ := bytes.Cut(fence.Info.Value(b.src), []byte(" "))
		if kind, _ := classify(string(word)); kind != "" {
			b.tell(b.fenceLine(fence), source.Error, "ENTRY_NESTED",
				"the entry `%s` stands inside a list, a quotation or a footnote; move it to the left margin", kind)
		}
		return ast.WalkContinue, nil
	})
}
