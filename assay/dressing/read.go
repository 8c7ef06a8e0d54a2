package dressing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Headings of a dressing sheet.
var (
	circuitFields = []string{"circuit", "lot"}
	stageFields   = []string{"stage", "step", "operation"}
	streamFields  = []string{"stream"}
	productFields = []string{"product", "stock"}
	aboveFields   = []string{"size above", "above", "retained on"}
	belowFields   = []string{"size below", "below", "passing"}
	sampleFields  = []string{"sample mass", "split", "assayed split"}
	topFields     = []string{"top size", "top size d95"}
	noteFields    = []string{"note", "notes", "remarks"}
	massFields    = []string{"mass", "weight"}
)

// roleWords are the words a sheet may call a stream by.
var roleWords = map[string]Role{
	"feed": Feed, "heads": Feed, "head": Feed,
	"concentrate": Concentrate, "concentrates": Concentrate, "conc": Concentrate, "picked": Concentrate, "accept": Concentrate,
	"middlings": Middlings, "middling": Middlings,
	"tailings": Tailings, "tailing": Tailings, "tails": Tailings, "waste": Tailings, "reject": Tailings,
	"lost": Lost, "loss": Lost,
}

// Relative standard uncertainties taken where a sheet states none (common
// practice for a platform scale in the field and a split assayed once).
const (
	AssumedMass  = 0.01
	AssumedGrade = 0.03
)

// IsSheet reports whether a field sheet tells of dressing: it has columns for
// stage, stream and mass.
func IsSheet(r sheet.Records) bool {
	return r.Has(stageFields...) && r.Has(streamFields...) && r.Has(massFields...)
}

// Read takes the dressing out of the field sheets. What is wrong is told with
// the cell and what would mend it; an error among the notices means that a row
// could not be used.
func Read(sheets []sheet.Records) (Log, source.Notices) {
	r := reader{}
	for i := range sheets {
		if IsSheet(sheets[i]) {
			r.sheet(&sheets[i])
		}
	}
	r.assumptions()
	for i := range r.log.Circuits {
		r.notices = append(r.notices, checkCircuit(r.log.Circuits[i])...)
	}
	return r.log, r.notices
}

type reader struct {
	log     Log
	notices source.Notices
	// where a standard uncertainty was assumed, first cell and count
	noMassU, noGradeU assumed
}

type assumed struct {
	first source.Cell
	count int
}

func (a *assumed) add(at source.Cell) {
	if a.count == 0 {
		a.first = at
	}
	a.count++
}

func (r *reader) fail(code string, at source.Cell, format string, args ...any) {
	r.notices.Add(source.Error, code, at, format, args...)
}

// component is a column that holds the content of an oxide or element.
type component struct {
	id    string
	field int
}

func (r *reader) sheet(t *sheet.Records) {
	components := r.components(t)
	for _, rec := range t.Rows {
		stage, stageAt := t.Text(rec, stageFields...)
		word, at := t.Text(rec, streamFields...)
		if stage == "" && word == "" {
			continue
		}
		role, ok := roleWords[strings.ToLower(strings.TrimSpace(word))]
		if !ok {
			if word == "" {
				r.fail("DRESSING_STREAM", at, "this row of stage %q does not say which stream it is; write feed, concentrate, middlings, tailings or lost", stage)
			} else {
				r.fail("DRESSING_STREAM", at, "%q is no stream of a stage%s; write feed, concentrate, middlings, tailings or lost", word, didYouMean(word))
			}
			continue
		}
		if stage == "" {
			r.fail("DRESSING_STAGE", stageAt, "this %s belongs to no stage; name the stage", word)
			continue
		}
		s := Stream{Role: role, At: at}
		s.Product, _ = t.Text(rec, productFields...)
		s.Note, _ = t.Text(rec, noteFields...)
		before := len(r.notices.Of(source.Error))
		r.size(t, rec, &s)
		r.quantities(t, rec, &s, components)
		if len(r.notices.Of(source.Error)) > before {
			continue
		}
		circuit, _ := t.Text(rec, circuitFields...)
		r.place(circuit, stage, stageAt, s, components)
	}
}

// components finds the columns headed "Cu grade", "SiO2 grade": the word keeps
// the sheet from being read as a laboratory's table.
func (r *reader) components(t *sheet.Records) []component {
	var out []component
	for i, f := range t.Fields {
		name := strings.TrimSpace(f.Name)
		id, ok := cutSuffixFold(name, " grade")
		if !ok {
			continue
		}
		at := source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref}
		if _, known := chem.LookupAnalyte(id); !known {
			var ids []string
			for _, a := range chem.Analytes() {
				ids = append(ids, a.ID)
			}
			hint := ""
			if near := source.Nearest(id, ids); near != "" {
				hint = "; did you mean " + near + "?"
			}
			r.fail("DRESSING_COMPONENT", at, "%q is no oxide or element%s", id, hint)
			continue
		}
		switch strings.ToLower(f.Unit) {
		case "wt%", "%", "mass%", "wt.%":
		default:
			r.fail("DRESSING_UNIT", at, "the grade of %s is in %q; state it in wt%% and say so in the heading: %s grade (wt%%)", id, f.Unit, id)
			continue
		}
		out = append(out, component{id, i})
	}
	if len(out) == 0 {
		r.notices.Add(source.Warning, "DRESSING_NO_GRADES", source.Cell{File: t.File, Sheet: t.Sheet},
			"this dressing sheet has no grades, so only yields can be reckoned; add columns such as Cu grade (wt%%) and Cu grade ± (wt%%)")
	}
	return out
}

func cutSuffixFold(s, suffix string) (string, bool) {
	n := len(s) - len(suffix)
	if n > 0 && strings.EqualFold(s[n:], suffix) {
		return strings.TrimSpace(s[:n]), true
	}
	return s, false
}

func didYouMean(word string) string {
	var words []string
	for w := range roleWords {
		words = append(words, w)
	}
	slices.Sort(words)
	if near := source.Nearest(strings.ToLower(word), words); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}

// place puts a stream into its stage.
func (r *reader) place(circuit, stage string, at source.Cell, s Stream, components []component) {
	c := r.circuit(circuit)
	for _, x := range components {
		if !slices.Contains(c.Components, x.id) {
			c.Components = append(c.Components, x.id)
		}
	}
	st := stageOf(c, stage, at)
	if !s.Size.Whole() {
		for _, x := range st.Fractions {
			if x.Role == s.Role && x.Product == s.Product && x.Size == s.Size {
				r.fail("DRESSING_TWICE", s.At, "stage %q has this size of its %s already at %s; delete one of the rows", stage, s.Name(), x.At)
				return
			}
		}
		st.Fractions = append(st.Fractions, s)
		return
	}
	if s.Role == Feed {
		if !st.Feed.At.IsZero() {
			r.fail("DRESSING_TWICE", s.At, "stage %q has a feed already at %s; a stage has one feed, so give this one a stage of its own", stage, st.Feed.At)
			return
		}
		st.Feed = s
		return
	}
	for _, x := range st.Products {
		if x.Role == s.Role && x.Product == s.Product {
			r.fail("DRESSING_TWICE", s.At, "stage %q has its %s already at %s; give the products different names in the column Product", stage, s.Name(), x.At)
			return
		}
	}
	st.Products = append(st.Products, s)
}

func (r *reader) circuit(name string) *Circuit {
	for i := range r.log.Circuits {
		if r.log.Circuits[i].Name == name {
			return &r.log.Circuits[i]
		}
	}
	r.log.Circuits = append(r.log.Circuits, Circuit{Name: name})
	return &r.log.Circuits[len(r.log.Circuits)-1]
}

func stageOf(c *Circuit, name string, at source.Cell) *Stage {
	for i := range c.Stages {
		if c.Stages[i].Name == name {
			return &c.Stages[i]
		}
	}
	c.Stages = append(c.Stages, Stage{Name: name, At: at})
	return &c.Stages[len(c.Stages)-1]
}

// assumptions tells, once, where uncertainties had to be assumed.
func (r *reader) assumptions() {
	if a := r.noMassU; a.count > 0 {
		r.notices.Add(source.Note, "DRESSING_ASSUMED_U", a.first,
			"%s of the dressing no uncertainty; %g %% of each is assumed as its standard uncertainty; state it in a column Mass ± (kg)", states(a.count, "weight"), 100*AssumedMass)
	}
	if a := r.noGradeU; a.count > 0 {
		r.notices.Add(source.Note, "DRESSING_ASSUMED_U", a.first,
			"%s of the dressing no uncertainty; %g %% of each is assumed as its standard uncertainty; state it in columns such as Cu grade ± (wt%%)", states(a.count, "assay"), 100*AssumedGrade)
	}
}

func states(n int, what string) string {
	if n == 1 {
		return "1 " + what + " states"
	}
	return fmt.Sprintf("%d %ss state", n, what)
}

func firstWord(s string) string {
	word, _, _ := strings.Cut(strings.TrimSpace(s), " ")
	return word
}

func missing(unit string) quantity.Quantity {
	return quantity.None(quantity.Missing, math.NaN(), unit)
}
