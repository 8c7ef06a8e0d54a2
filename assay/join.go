package assay

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Names under which field sheets carry what is known of a sample.
var (
	idFields      = []string{"id", "sample", "sample id", "sample no", "sample no.", "sample number"}
	kindFields    = []string{"kind", "material"}
	originFields  = []string{"origin"}
	siteFields    = []string{"site"}
	contextFields = []string{"context", "find spot"}
	runFields     = []string{"run", "firing"}
	noteFields    = []string{"note", "notes", "remarks", "comment", "comments", "description"}
)

// readSampleSheets makes the samples of every field sheet that has an id and
// a kind.
func (c *Campaign) readSampleSheets() {
	for _, r := range c.Records {
		if !r.Has(idFields...) || !r.Has(kindFields...) {
			continue
		}
		for _, rec := range r.Rows {
			id, at := r.Text(rec, idFields...)
			if id == "" {
				c.Notices.Add(source.Error, "NO_ID", at, "this row of the field sheet has no sample id; give it one or delete the row")
				continue
			}
			if first, twice := c.Sample(id); twice {
				c.Notices.Add(source.Error, "DUPLICATE_ID", at, "sample %q is already listed at %s; give each sample its own id", id, first.At)
				continue
			}
			s := &Sample{ID: id, At: at}
			s.Kind, _ = r.Text(rec, kindFields...)
			s.Origin, _ = r.Text(rec, originFields...)
			s.Site, _ = r.Text(rec, siteFields...)
			s.Context, _ = r.Text(rec, contextFields...)
			s.Run, _ = r.Text(rec, runFields...)
			s.Note, _ = r.Text(rec, noteFields...)
			s.Kind, s.Origin = strings.ToLower(s.Kind), strings.ToLower(s.Origin)
			_, kindAt := r.Text(rec, kindFields...)
			c.checkWord("kind", s.Kind, knownKinds, kindAt, s.ID)
			_, originAt := r.Text(rec, originFields...)
			c.checkWord("origin", s.Origin, knownOrigins, originAt, s.ID)
			c.Samples = append(c.Samples, s)
		}
	}
}

// checkWord warns of a kind or origin that is not one of the usual words: it
// is kept, since groups may be made of it, but it may be a slip.
func (c *Campaign) checkWord(what, word string, known []string, at source.Cell, id string) {
	if word == "" || slices.Contains(known, word) {
		return
	}
	suggestion := source.DidYouMean(word, known)
	if usual := otherWords[word]; slices.Contains(known, usual) {
		suggestion = "; did you mean \"" + usual + "\"?"
	}
	c.Notices.Add(source.Warning, "UNKNOWN_WORD", at, "sample %s has the %s %q, which is not one of the usual words, so a group made with those leaves it out%s",
		id, what, word, suggestion)
}

// joinAssays hands every row of the laboratory tables to the sample it names.
// With a field sheet a name that joins nothing is an error, because a lost
// analysis is worse than a stopped one. Without one the tables themselves make
// the samples.
func (c *Campaign) joinAssays(fieldSheet bool) {
	for ti, t := range c.Tables {
		for row := range t.Rows() {
			if c.isControl(row, fieldSheet) {
				c.addControl(ti, t, row)
				continue
			}
			name := row.Name
			s, ok := c.Sample(name)
			if !ok && row.Replicate != "" {
				name = row.Replicate
				s, ok = c.Sample(name)
			}
			if !ok && row.Plain != "" {
				s, ok = c.joinUnmarked(row)
			}
			if !ok && fieldSheet && name == "" {
				c.Notices.Add(source.Error, "JOINS_NOTHING", row.NameCell, "there are results here but no sample name, so that they belong to nothing; write the name, or state where the names are")
				continue
			}
			if !ok && fieldSheet {
				c.Notices.Add(source.Error, "JOINS_NOTHING", row.NameCell,
					"sample %q is in no field sheet%s; correct the name, or list the sample with its kind and origin",
					row.Name, nearSample(row.Name, c.SampleIDs()))
				continue
			}
			if !ok {
				s = sampleFromRow(name, row)
				c.Samples = append(c.Samples, s)
			}
			s.Assays = append(s.Assays, c.assayOf(ti, t, row))
		}
	}
}

// joinUnmarked finds the sample whose name has a footnote's mark in the table,
// "LS-105*", and gives it the footnote as a note.
func (c *Campaign) joinUnmarked(row sheet.Row) (*Sample, bool) {
	s, ok := c.Sample(row.Plain)
	if !ok {
		return nil, false
	}
	c.Notices.Add(source.Note, "NAME_MARKED", row.NameCell, "%q was taken for sample %s: a footnote explains the mark, %q", row.Name, s.ID, row.Footnote)
	switch {
	case s.Note == "":
		s.Note = row.Footnote
	case !strings.Contains(s.Note, row.Footnote):
		s.Note += "; " + row.Footnote
	}
	return s, true
}

// tellNotAnalysed warns of samples that no laboratory table and no readings
// name.
func (c *Campaign) tellNotAnalysed() {
	for _, s := range c.Samples {
		if len(s.Assays) == 0 {
			c.Notices.Add(source.Warning, "NOT_ANALYSED", s.At, "sample %s has no analysis in any laboratory table or readings", s.ID)
		}
	}
}

// askForKinds warns, once, of samples whose kind nobody stated: the melt models
// are for slag, and smeltbook does not guess what is slag.
func (c *Campaign) askForKinds() {
	var ids []string
	var first source.Cell
	for _, s := range c.Samples {
		if s.Kind == "" {
			if len(ids) == 0 {
				first = s.At
			}
			ids = append(ids, s.ID)
		}
	}
	if len(ids) == 0 {
		return
	}
	c.Notices.Add(source.Warning, "NO_KIND", first,
		"nothing says what kind of sample %s is, so no melt is computed: list the samples in a field sheet with the columns id, kind, origin and site, or add a column \"kind\" (slag, ore, lining, …)",
		sampleList(ids))
}

// tellMethods notes how the method of each table was found, and how many values
// got an assumed uncertainty, so that both can be overruled.
func (c *Campaign) tellMethods() {
	for i, t := range c.Tables {
		at := source.Cell{File: t.File, Sheet: t.Sheet}
		if c.Config.methodFor(t) != "" {
			continue
		}
		var found []string
		for _, s := range c.Samples {
			for _, a := range s.Assays {
				if a.Table == i && !slices.Contains(found, a.Method) {
					found = append(found, a.Method)
				}
			}
		}
		if len(found) > 0 {
			key := t.File
			if t.Sheet != "" {
				key = fmt.Sprintf("%q", t.File+"#"+t.Sheet)
			}
			told := "the method was taken to be " + strings.Join(found, ", ") + " from the words of the sheet; if that is wrong,"
			if len(found) == 1 && found[0] == Unstated {
				told = "no word of the sheet tells the method of analysis;"
			}
			c.Notices.Add(source.Note, "METHOD_GUESSED", at, "%s write `%s: …` under `methods:` in the notebook", told, key)
		}
	}
	counts := c.Assumptions()
	for _, note := range slices.Sorted(maps.Keys(counts)) {
		c.Notices.Add(source.Note, "UNCERTAINTY_ASSUMED", source.Cell{}, "%d values without a stated uncertainty: %s; state your own under `uncertainty:` in the notebook", counts[note], note)
	}
}

// nearSample suggests a sample, but never lists all of them.
func nearSample(name string, ids []string) string {
	if n := source.Nearest(name, ids); n != "" {
		return "; did you mean \"" + n + "\"?"
	}
	return ""
}

// sampleFromRow makes a sample from a laboratory row and the notes beside it.
func sampleFromRow(name string, row sheet.Row) *Sample {
	text := func(names []string) string { return rowText(row, names) }
	return &Sample{
		ID: name, At: row.NameCell,
		Kind: strings.ToLower(text(kindFields)), Origin: strings.ToLower(text(originFields)),
		Site: text(siteFields), Context: text(contextFields), Run: text(runFields), Note: text(noteFields),
	}
}

// rowText returns the note beside a row under the first of the names that is
// not empty, letter case aside.
func rowText(row sheet.Row, names []string) string {
	for _, n := range names {
		for _, heading := range slices.Sorted(maps.Keys(row.Text)) {
			if v := row.Text[heading]; v != "" && strings.EqualFold(strings.TrimSpace(heading), n) {
				return v
			}
		}
	}
	return ""
}

// assayOf takes a row as an analysis: its method, and for every value a
// standard uncertainty, the laboratory's or an assumed one.
func (c *Campaign) assayOf(index int, t sheet.Table, row sheet.Row) Assay {
	a := Assay{Table: index, Name: row.Name, At: row.NameCell, StatedTotal: row.ReportedTotal}
	a.Method = c.Config.methodFor(t)
	if a.Method == "" {
		a.Method = recogniseMethod(rowText(row, []string{"method", "technique"}), t.Sheet, strings.Join(t.Title, " "), t.File,
			strings.Join(t.Footnotes, " "))
	}
	a.Ignited = slices.ContainsFunc(c.Config.Recipe.Ignited, func(name string) bool {
		return name == t.File || t.Sheet != "" && name == t.File+"#"+t.Sheet
	})
	for _, v := range row.Values {
		method := a.Method
		if v.Method != "" {
			method = recogniseMethod(v.Method, a.Method)
		}
		if v.Known() && !v.HasU() {
			r := c.Config.AssumedRelative(method)
			v.U = r * max(v.Value, -v.Value)
			v.UNote = assumedNote(r, method)
			if v.Value == 0 {
				v.UNote = "assumed exact: a plain zero; the sheet states neither an uncertainty nor a limit"
			}
		}
		a.Values = append(a.Values, v)
	}
	return a
}

func assumedNote(r float64, method string) string {
	return "assumed " + strconv.FormatFloat(100*r, 'g', 3, 64) + " % relative for " + method + "; the sheet states none"
}

// Analysed returns the number of samples with at least one analysis.
func (c *Campaign) Analysed() int {
	n := 0
	for _, s := range c.Samples {
		if len(s.Assays) > 0 {
			n++
		}
	}
	return n
}

// Assumptions counts, by its wording, every uncertainty that was assumed.
func (c *Campaign) Assumptions() map[string]int {
	counts := map[string]int{}
	for _, s := range c.Samples {
		for _, p := range s.AsReported.Parts {
			if at := strings.Index(p.UNote, "assumed "); p.Class == quantity.Measured && at >= 0 {
				counts[p.UNote[at:]]++
			}
		}
	}
	return counts
}
