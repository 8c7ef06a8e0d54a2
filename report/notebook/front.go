package notebook

import (
	"path"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// front is the front matter as written. Mappings whose order counts, or whose
// keys are the user's, stay nodes.
type front struct {
	Title        string
	Subtitle     string
	Authors      []string
	Date         string
	Site         string
	Data         []yaml.Node
	Groups       yaml.Node
	Methods      yaml.Node
	Sheets       yaml.Node
	Limits       yaml.Node
	Recipe       recipe
	Uncertainty  yaml.Node
	Quality      demands
	Likeness     Likeness
	Charge       yaml.Node
	Furnace      yaml.Node
	Seed         uint64
	Draws        yaml.Node
	Bibliography yaml.Node
	Notes        yaml.Node
	Licence      string
	Publisher    string
	Abstract     string
	Subjects     []string
}

// group is one rule of the front matter's groups.
type group struct {
	Origin  []string
	Kind    []string
	Site    []string
	Run     []string
	Samples []string
	Except  []string
}

// Limits of the number of random draws: fewer say nothing about a spread, more
// take hours.
const (
	minDraws = 50
	maxDraws = 1_000_000
)

// readFront fills the notebook from its front matter, which starts on line 2.
func (n *Notebook) readFront(text []byte) source.Notices {
	d := &decoder{file: n.File}
	node := d.parseYAML(text, 2, "the front matter")
	f := front{}
	if node != nil {
		d.value(node, rv(&f), "the front matter")
	}
	n.Title, n.Subtitle, n.Authors, n.Date, n.Site, n.Likeness, n.Seed = f.Title, f.Subtitle, f.Authors, f.Date, f.Site, f.Likeness, f.Seed
	n.Licence, n.Publisher, n.Abstract, n.Subjects = f.Licence, f.Publisher, f.Abstract, f.Subjects
	for _, p := range d.optional(&f.Notes, "notes") {
		if text, ok := d.text(p.value, strconv.Quote(p.key)); ok {
			n.Notes = append(n.Notes, SampleNote{Sample: p.key, Text: text, Line: p.line})
		}
	}
	if !f.Bibliography.IsZero() {
		n.Bibliography, _ = d.glob(&f.Bibliography, "bibliography")
		n.BibliographyLine = f.Bibliography.Line
	}
	c := &n.Config
	for i := range f.Data {
		if glob, ok := d.glob(&f.Data[i], "data"); ok {
			c.Data, c.DataLines = append(c.Data, glob), append(c.DataLines, f.Data[i].Line)
		}
	}
	c.Groups = d.groups(&f.Groups)
	for _, p := range d.optional(&f.Methods, "methods") {
		file, sheet, _ := strings.Cut(p.key, "#")
		if method, ok := d.text(p.value, strconv.Quote(p.key)); ok {
			c.Methods = append(c.Methods, assay.MethodRule{File: file, Sheet: sheet, Method: method, Line: p.line})
		}
	}
	for _, p := range d.optional(&f.Sheets, "sheets") {
		file, name, _ := strings.Cut(p.key, "#")
		rule := assay.SheetRule{File: file, Sheet: name, Line: p.line}
		d.value(p.value, rv(&rule.Reading), strconv.Quote(p.key))
		if err := rule.Reading.Check(); err != nil {
			d.fail(p.line, "WRONG_VALUE", "%q: %v", p.key, err)
			continue
		}
		c.Sheets = append(c.Sheets, rule)
	}
	if !f.Limits.IsZero() {
		d.value(&f.Limits, rv(&c.Limits), `"limits"`)
		if err := c.Limits.Check(); err != nil {
			d.fail(f.Limits.Line, "WRONG_VALUE", "\"limits\": %v", err)
			c.Limits = sheet.Limits{}
		}
	}
	c.Recipe = d.recipe(f.Recipe)
	c.Quality = d.demands(f.Quality)
	n.Charge = d.charge(&f.Charge)
	n.Furnace = d.furnace(&f.Furnace)
	for _, p := range d.optional(&f.Uncertainty, "uncertainty") {
		if u, ok := d.relative(p); ok {
			c.Extra = append(c.Extra, assay.Uncertainty{Method: p.key, Relative: u})
		}
	}
	n.Draws = d.draws(&f.Draws)

	if !d.notices.Failed() {
		if n.Title == "" {
			d.notices = append(d.notices, notice(n.File, 1, source.Warning, "NO_TITLE", "the notebook has no title; add a line title: to the front matter"))
		}
		if len(c.Data) == 0 {
			d.fail(1, "NO_DATA", "the notebook does not say which files to read; add a line such as data: [lab/*.xlsx] to the front matter")
		}
	}
	return d.notices
}

// optional returns the pairs of a mapping that may be left out.
func (d *decoder) optional(n *yaml.Node, name string) []pair {
	if n.IsZero() {
		return nil
	}
	return d.pairs(n, strconv.Quote(name))
}

// glob reads a file name or pattern, relative to the campaign's folder.
func (d *decoder) glob(n *yaml.Node, key string) (string, bool) {
	g, ok := d.text(n, strconv.Quote(key))
	if !ok {
		return "", false
	}
	clean := path.Clean(g)
	switch {
	case strings.Contains(g, `\`):
		d.fail(n.Line, "BAD_PATH", "%q in %q has a backslash; write folders with /, as in lab/xrf.xlsx", g, key)
	case path.IsAbs(g) || len(g) > 1 && g[1] == ':' || clean == ".." || strings.HasPrefix(clean, "../"):
		d.fail(n.Line, "BAD_PATH", "%q in %q leads out of the notebook's folder; put the file beside the notebook and name it from there", g, key)
	default:
		if _, err := path.Match(g, "x"); err != nil || g == "" {
			d.fail(n.Line, "BAD_PATH", "%q in %q is not a file name or a pattern such as lab/*.xlsx", g, key)
			return "", false
		}
		return clean, true
	}
	return "", false
}

func (d *decoder) groups(n *yaml.Node) []assay.GroupRule {
	var out []assay.GroupRule
	for _, p := range d.optional(n, "groups") {
		var g group
		d.value(p.value, rv(&g), "the group "+strconv.Quote(p.key))
		out = append(out, assay.GroupRule{
			Name: p.key, Kinds: g.Kind, Origins: g.Origin, Sites: g.Site, Runs: g.Run,
			Samples: g.Samples, Except: g.Except, Line: p.line,
		})
	}
	return out
}

// oneOf reads a word that has to be in the list.
func (d *decoder) oneOf(n *yaml.Node, name string, words []string) (string, bool) {
	text, ok := d.text(n, name)
	if !ok {
		return "", false
	}
	for _, w := range words {
		if text == w {
			return w, true
		}
	}
	hint := "use " + strings.Join(words[:len(words)-1], ", ") + " or " + words[len(words)-1]
	if near := source.Nearest(text, words); near != "" {
		hint = "did you mean " + near + "?"
	}
	d.fail(n.Line, "UNKNOWN_WORD", "%s is %q, which is not known; %s", name, text, hint)
	return "", false
}

// relative reads a relative standard uncertainty, 0.05 or 5 %.
func (d *decoder) relative(p pair) (float64, bool) {
	text, ok := d.text(p.value, strconv.Quote(p.key))
	if !ok {
		return 0, false
	}
	number, percent := strings.CutSuffix(strings.TrimSpace(text), "%")
	u, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if percent {
		u /= 100
	}
	if err != nil || !(u > 0 && u < 1) {
		d.fail(p.value.Line, "WRONG_VALUE", "the uncertainty of %q should be relative, 0.05 or 5 %% for one part in twenty, but %q stands there", p.key, text)
		return 0, false
	}
	return u, true
}

func (d *decoder) draws(n *yaml.Node) int {
	if n.IsZero() {
		return 0
	}
	var draws int
	before := len(d.notices)
	d.scalar(n, rv(&draws), `"draws"`)
	if len(d.notices) == before && (draws < minDraws || draws > maxDraws) {
		d.fail(n.Line, "WRONG_VALUE", "\"draws\" is %d; use a number from %d to %d", draws, minDraws, maxDraws)
		return 0
	}
	return draws
}
