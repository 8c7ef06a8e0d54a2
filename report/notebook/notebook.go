// Package notebook reads notebook.md: YAML front matter that says which data
// to read, and a CommonMark body of prose with entries and computed values.
//
// A fenced block whose info string is an entry kind asks for a figure or
// table; its content is a YAML mapping of options. A value in the prose,
//
//	{{ median "fired" "liquidus" }}
//
// is kept as a Call and filled in when the prose is rendered. The package
// computes nothing itself.
//
// The keys of the front matter:
//
//	title, subtitle, date, site   text
//	authors                       a name or a list of names
//	data                          files or patterns (lab/*.xlsx), relative to the notebook
//	groups                        name: {origin, kind, site, run, samples, except}, each a word or a list; order kept
//	methods                       file, or file#sheet: analytical method
//	sheets                        file, or file#sheet: the fields of sheet.Reading, as header_row
//	limits                        of a file: file_bytes, unpacked_bytes, entries, rows, columns, cells, name_length
//	recipe                        how analyses become compositions, the fields of assay.Recipe:
//	                              basis: reported, loi_free or normalised
//	                              iron: {kind: FeO or Fe2O3}; copper: {kind: Cu, CuO or Cu2O}
//	                              sulphur: {kind: sulphide, pyrite, chalcocite, sulphate or as_reported}
//	                              prills: as_analysed, without or with
//	                              metal: {sample: {share, u, Cu, Fe, sieved}}
//	                              below_limit: zero, half or limit; loi: as_measured or volatiles
//	                              ferric: titrated or none; ignited: files; prefer: methods, best first; accept_totals: samples
//	                              unreadable: error or missing
//	uncertainty                   method: relative standard uncertainty, 0.05 or 5 %
//	likeness                      margin: in scatters of the site; parts; balances: name: "SiO2 | FeO CaO"; replacement
//	charge                        the charge to plan: ores, fluxes, target, batch, batches, volume, charcoal, ash, lining,
//	                              scale, slag_copper, aim, mineral; see Charge
//	furnace                       the furnace to plan with: diameter, depth, lining, pipe_height, heap, ground, lumps, …,
//	                              air: {by, number, stroke, …}, pipe: {bore, length, gap, …}; see Furnace
//	seed                          whole number from which random draws start
//	draws                         number of random draws, 50 to 1000000
//	bibliography                  file in CSL-JSON, for [@key] in the prose
//	notes                         sample: what is to be said wherever tables list it
//	licence                       of the data and the report, for a deposit: CC-BY-4.0
//	publisher, abstract           text, for a deposit
//	subjects                      a word or a list of words, for a deposit
//
// A key that is not in this list, or not in the entry's options, is an error
// with its line and, where one is near, the key that was probably meant.
package notebook

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/source"
)

// Notebook is a notebook as read: the campaign's data rules and the blocks of
// the report in order.
type Notebook struct {
	File     string // as given to Parse
	Title    string
	Subtitle string
	Authors  []string
	Date     string // as written
	Site     string
	Config   assay.Config
	Likeness Likeness
	Seed     uint64   // of the random draws; 0 unless the notebook says otherwise
	Draws    int      // number of random draws; 0 where the notebook leaves it open
	Charge   *Charge  // the charge that is planned; nil where there is none
	Furnace  *Furnace // the furnace that is planned with; nil where there is none
	Blocks   []Block

	Bibliography     string // file in CSL-JSON, relative to the notebook
	BibliographyLine int    // of the notebook, counted from 1
	Notes            []SampleNote

	Front string // the first lines as they are written

	// For a deposit.
	Licence   string
	Publisher string
	Abstract  string
	Subjects  []string
}

// SampleNote is what the notebook has to say of a sample wherever it is listed.
type SampleNote struct {
	Sample string // as the notebook writes it
	Text   string
	Line   int // of the notebook, counted from 1
}

// Block is a *Prose or an *Entry.
type Block interface{ block() }

// Entry asks for a figure or table of one kind.
type Entry struct {
	Kind    string     // one of Kinds
	Line    int        // of the notebook, counted from 1
	Title   string     // the option "title"; empty for the kind's own title
	ID      string     // the option "id", by which the prose refers to it
	Options *yaml.Node // a mapping without these two, lines counted in the notebook; nil where there are none

	file string
}

// Call is a value asked for in the prose: a word and its arguments.
type Call struct {
	Func string
	Args []string
	Line int // of the notebook, counted from 1
}

func (*Prose) block() {}
func (*Entry) block() {}

// Entries returns the entries of the notebook in order.
func (n *Notebook) Entries() []*Entry {
	var out []*Entry
	for _, b := range n.Blocks {
		if e, ok := b.(*Entry); ok {
			out = append(out, e)
		}
	}
	return out
}

// Calls returns the values asked for in the prose, in order.
func (n *Notebook) Calls() []Call {
	var out []Call
	for _, b := range n.Blocks {
		if p, ok := b.(*Prose); ok {
			out = append(out, p.calls()...)
		}
	}
	return out
}

// Variables returns the variables that values in the prose are computed from, each
// once, sorted.
func (n *Notebook) Variables() []string {
	var out []string
	for _, c := range n.Calls() {
		switch c.Func {
		case "mean", "median", "min", "max", "difference", "value":
			if len(c.Args) > 1 {
				out = append(out, c.Args[len(c.Args)-1])
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// Frame returns a text that stays the same as long as nothing but prose changes:
// the first lines, the entries with their options, and which variables are asked
// for.
func (n *Notebook) Frame() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%q\n", n.Front, n.Variables())
	for _, e := range n.Entries() {
		options := ""
		if e.Options != nil {
			if text, err := yaml.Marshal(e.Options); err == nil {
				options = string(text)
			} else {
				options = fmt.Sprint("on line ", e.Line)
			}
		}
		fmt.Fprintf(&b, "%q %q %q %q\n", e.Kind, e.Title, e.ID, options)
	}
	return b.String()
}

// Decode reads the entry's options into the struct that v points to. Keys are
// the fields' yaml tags, or their names in lower_snake_case. Unknown keys and
// wrong types come back as errors with the notebook's line; the fields they
// concern keep their values.
func (e *Entry) Decode(v any) source.Notices {
	d := decoder{file: e.file}
	if e.Options != nil {
		d.into(e.Options, v)
	}
	return d.notices
}

// Parse reads a notebook. It always returns a notebook, with everything that
// could be understood; what could not is told in the notices, each with the
// line it is about.
func Parse(file string, src []byte) (*Notebook, source.Notices) {
	n := &Notebook{File: file}
	var notices source.Notices
	text, bad := plainText(src)
	if bad > 0 {
		notices = append(notices, notice(file, bad, source.Error, "NOT_UTF8",
			"the notebook is not UTF-8 text; save it again with the encoding UTF-8"))
	}
	front, body, first := split(text)
	switch {
	case front == nil && bytes.HasPrefix(text, []byte("---")):
		notices = append(notices, notice(file, 1, source.Error, "FRONT_MATTER_OPEN",
			"the front matter that begins here has no end; close it with a line ---"))
	case front == nil:
		notices = append(notices, notice(file, 1, source.Error, "NO_FRONT_MATTER",
			"the notebook does not begin with front matter; start it with a line ---, then title: and data:, then another line ---"))
	default:
		n.Front = string(front)
		notices = append(notices, n.readFront(front)...)
	}
	blocks, more := parseBody(file, body, first)
	n.Blocks = blocks
	return n, append(append(notices, more...), n.sameIDs()...)
}

// sameIDs tells of entries that bear the id of an earlier one.
func (n *Notebook) sameIDs() source.Notices {
	var out source.Notices
	first := map[string]*Entry{}
	for _, e := range n.Entries() {
		if e.ID == "" {
			continue
		}
		if other := first[e.ID]; other != nil {
			out.Add(source.Error, "ID_TWICE", source.Line(n.File, e.Line), "the entry has the id %q, which that of line %d has already; give each its own", e.ID, other.Line)
			continue
		}
		first[e.ID] = e
	}
	return out
}

// plainText returns src with LF line ends and valid UTF-8, without a byte
// order mark, and the line of the first byte that was not UTF-8 (0 for none).
func plainText(src []byte) (text []byte, badLine int) {
	text = bytes.TrimPrefix(src, []byte("\ufeff"))
	text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
	text = bytes.ReplaceAll(text, []byte("\r"), []byte("\n"))
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		if r == utf8.RuneError && size == 1 || r == 0 {
			text = bytes.ReplaceAll(bytes.ToValidUTF8(text, []byte("\ufffd")), []byte{0}, []byte("\ufffd"))
			return text, 1 + bytes.Count(text[:i], []byte("\n"))
		}
		i += size
	}
	return text, 0
}

// split parts the front matter from the body. front is nil where there is
// none; its first line is line 2 of the notebook. first is the line number of
// the body's first line.
func split(text []byte) (front, body []byte, first int) {
	line := func(rest []byte) (l, after []byte) {
		if i := bytes.IndexByte(rest, '\n'); i >= 0 {
			return rest[:i], rest[i+1:]
		}
		return rest, nil
	}
	l, rest := line(text)
	if string(bytes.TrimRight(l, " \t")) != "---" {
		return nil, text, 1
	}
	start := rest
	for n := 2; rest != nil; n++ {
		at := len(start) - len(rest)
		l, rest = line(rest)
		switch string(bytes.TrimRight(l, " \t")) {
		case "---", "...":
			return append([]byte{}, start[:at]...), rest, n + 1
		}
	}
	return nil, text, 1
}

// notice makes a notice about a line of the notebook.
func notice(file string, line int, s source.Severity, code, format string, args ...any) source.Notice {
	return source.Notice{Severity: s, Code: code, At: source.Line(file, max(line, 1)), Message: fmt.Sprintf(format, args...)}
}
