package report

import (
	"regexp"
	"strings"

	"smeltbook/report/cite"
	"smeltbook/report/equation"
	"smeltbook/report/page"
)

// method is one topic of the methods: sentences in paragraphs parted by line ends,
// then the equations that were computed. Works are cited by their keys, "after @welch1947"; see cite.Methods.
type method struct {
	head     string
	text     string
	formulas []formula
}

// formula is an equation with the meaning, unit and value of its signs, and where
// it is from.
type formula struct {
	lines []equation.Math
	where []sign
	from  string
}

// sign is one sign of an equation.
type sign struct {
	of    equation.Line
	means string
}

// lines are the lines of an equation.
func lines(m ...equation.Math) []equation.Math { return m }

// methodParts sets a topic for the page and numbers its equations.
func (b *builder) methodParts(m method) []page.Part {
	text := &page.Text{}
	for i, paragraph := range strings.Split(m.text, "\n") {
		runs := b.citedRuns(paragraph)
		if i == 0 {
			runs = append([]page.Run{{Text: m.head + ". ", Style: page.Strong}}, runs...)
		}
		text.Paragraphs = append(text.Paragraphs, runs)
	}
	parts := []page.Part{text}
	for _, f := range m.formulas {
		b.equations++
		e := &page.Equation{Number: b.equations, Lines: f.lines}
		for _, s := range f.where {
			e.Where = append(e.Where, page.Symbol{Sign: s.of, Means: b.citedRuns(s.means)})
		}
		if f.from != "" {
			e.Source = b.citedRuns(f.from)
		}
		parts = append(parts, e)
	}
	return parts
}

// workKey matches the citation of a work of the methods.
var workKey = regexp.MustCompile(`@([a-z]+[0-9]+)`)

// citedRuns cuts a text at its citations.
func (b *builder) citedRuns(text string) []page.Run {
	known := b.methodWorks()
	var out []page.Run
	last := 0
	for _, at := range workKey.FindAllStringSubmatchIndex(text, -1) {
		key := text[at[2]:at[3]]
		if _, ok := known.Work(key); !ok {
			continue
		}
		if at[0] > last {
			out = append(out, page.Run{Text: text[last:at[0]]})
		}
		out = append(out, page.Run{Cite: key})
		last = at[1]
	}
	if last < len(text) {
		out = append(out, page.Run{Text: text[last:]})
	}
	return out
}

// methodWorks are the works that the methods may cite.
func (b *builder) methodWorks() cite.Library {
	if b.works == nil {
		l, _ := cite.Methods() // a test reads them
		b.works = &l
	}
	return *b.works
}

// citedBy lists the keys of works that an entry cites.
func citedBy(e *page.Entry) (keys []string) {
	eachRuns(e.Parts, func(runs []page.Run) []page.Run {
		for _, r := range runs {
			if r.Cite != "" {
				keys = append(keys, r.Cite)
			}
		}
		return runs
	})
	return keys
}

// withCitations returns an entry whose citations stand by author and year, linked
// to the list of references.
func withCitations(e *page.Entry, refs cite.References, as map[string]string) *page.Entry {
	if len(citedBy(e)) == 0 {
		return e
	}
	out := *e
	out.Parts = eachRuns(e.Parts, func(runs []page.Run) []page.Run {
		set := make([]page.Run, len(runs))
		for i, r := range runs {
			if r.Cite != "" {
				short, id, _ := refs.Short(as[r.Cite])
				r = page.Run{Text: short, Link: "#" + id}
			}
			set[i] = r
		}
		return set
	})
	return &out
}

// eachRuns returns the parts with what change makes of every run of text in them.
func eachRuns(parts []page.Part, change func([]page.Run) []page.Run) []page.Part {
	out := make([]page.Part, len(parts))
	for i, p := range parts {
		switch p := p.(type) {
		case *page.Text:
			t := &page.Text{}
			for _, runs := range p.Paragraphs {
				t.Paragraphs = append(t.Paragraphs, change(runs))
			}
			out[i] = t
		case *page.Equation:
			e := *p
			e.Where = nil
			for _, s := range p.Where {
				e.Where = append(e.Where, page.Symbol{Sign: s.Sign, Means: change(s.Means)})
			}
			e.Source = change(p.Source)
			out[i] = &e
		default:
			out[i] = p
		}
	}
	return out
}

// sentences joins texts, without those that are empty.
func sentences(texts ...string) string { return strings.Join(nonEmpty(texts...), " ") }
