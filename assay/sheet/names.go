package sheet

import (
	"regexp"
	"slices"
	"strings"

	"smeltbook/assay/source"
)

// head reads the name of a row, says what is peculiar about it, and finds out
// what the row stands for.
func (t *tableReader) head(row int) rowHead {
	h := rowHead{row: int32(row)}
	ref := t.nameCell(row).Ref
	if t.name < 0 {
		t.tally.habit(source.Warning, "NAME_MISSING", ref, "rows have results but no sample name (%s); add a column of names")
		t.rowRole(&h)
		return h
	}
	cell := t.v.shown(row, t.cols[t.name].index)
	h.name, _ = foldSpaces(cell.text)
	switch {
	case cell.empty() && t.carriesName(row):
		h.name = t.table.heads[len(t.table.heads)-1].name
		t.tally.habit(source.Warning, "NAME_CARRIED", ref, "rows without a name were taken for further results of the sample above them (%s); write the name in each row")
	case cell.empty():
		t.tally.habit(source.Warning, "NAME_MISSING", ref, "rows have results but no sample name (%s); write the name in each row")
	case cell.kind == kindNumber:
		h.name = storedText(h.name)
		t.tally.habit(source.Note, "NUMERIC_NAME", ref, "sample names are stored as numbers (%s); zeros before them may be lost")
	case cell.kind == kindDate, cell.kind == kindText && looksLikeDate(h.name):
		t.tally.each(source.Warning, "DATE_IN_NAME", ref, "the sample name is the date %s, probably made by the spreadsheet program from a name such as 3-14; type the name again, as text", clip(h.name))
	case allDigits(h.name):
		t.tally.habit(source.Note, "NUMERIC_NAME", ref, "sample names are plain numbers (%s); zeros before them may be lost")
	}
	if runes := []rune(h.name); len(h.name) > t.r.limits.NameLength && len(runes) > t.r.limits.NameLength {
		h.name = string(runes[:t.r.limits.NameLength])
		t.tally.each(source.Error, "NAME_TOO_LONG", ref, "the sample name has more than %d characters and was cut; shorten it", t.r.limits.NameLength)
	}
	if cell.kind == kindText {
		t.formulaText(h.name, ref)
	}
	t.rowRole(&h)
	return h
}

// unmarked takes a mark off the end of a name that a footnote explains, and
// returns what the footnote says; both are empty where there is none.
func (t *tableReader) unmarked(name string) (plain, footnote string) {
	plain = strings.TrimRight(name, footnoteMarks)
	footnote = t.notes[name[len(plain):]]
	mark := name[len(plain):]
	if plain = strings.TrimSpace(plain); plain == "" || footnote == "" || t.headingMark(mark) {
		return "", ""
	}
	return plain, footnote
}

// headingMark reports a mark that a heading bears: its footnote is about results.
func (t *tableReader) headingMark(mark string) bool {
	return slices.ContainsFunc(t.cols, func(c column) bool {
		return c.head.footnote == mark || strings.HasSuffix(c.head.text, mark)
	})
}

// carriesName reports a row without a name right below a named one, with a note
// of its own that tells the two apart ("core", "rim").
func (t *tableReader) carriesName(row int) bool {
	n := len(t.table.heads)
	if n == 0 || int(t.table.heads[n-1].row) != row-1 || t.table.heads[n-1].name == "" {
		return false
	}
	for i := range t.cols {
		if c := &t.cols[i]; c.Role == RoleText && c.Header != "" && !t.v.at(row, c.index).empty() {
			return true
		}
	}
	return false
}

// nameCell is where the name of a row stands.
func (t *tableReader) nameCell(row int) source.Cell {
	if t.name < 0 {
		return t.at(row, t.b.c0)
	}
	return t.at(row, t.cols[t.name].index)
}

// referenceMaterial matches names of reference materials as their producers
// write them.
var referenceMaterial = regexp.MustCompile(`(?i)^(BHVO-?[12]|BIR-1a?|BCR-?[12]|AGV-?[12]|W-?2a?|SL-1|CCU-1[a-g]|TPO-1|OREAS ?-?\d+[a-z]?|(NIST )?SRM ?-?\d+[a-z]?|BCS(-CRM)? ?-?\d+[a-z/]*\d?|ERM-?[A-Z]{2}\d+|GBW ?\d+)$`)

// controlWords mark blanks and controls when they stand as a word of a name.
var controlWords = set("blank", "blk", "qc", "std", "standard", "crm", "rm", "control", "drift", "srm", "monitor")

// control reports names and kinds of rows that are no samples.
func control(name string) (is, isBlank bool) {
	if referenceMaterial.MatchString(name) {
		return true, false
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r > 0x7f) }) {
		if controlWords[w] {
			is = true
			isBlank = isBlank || w == "blank" || w == "blk"
		}
	}
	return is, isBlank
}

// rowRole finds out whether a row is a control, by its name or by a column that
// says what kind of thing it is.
func (t *tableReader) rowRole(h *rowHead) {
	is, isBlank := control(h.name)
	if slices.Contains(t.reading.Samples, h.name) {
		return
	}
	is = is || t.control || slices.Contains(t.reading.Controls, h.name)
	for i := 0; i < len(t.cols) && !is; i++ {
		if c := &t.cols[i]; c.Role == RoleText && kindWords[word(c.Header)] {
			w := word(t.v.shown(int(h.row), c.index).text)
			if controlWords[w] || w == "reference material" || w == "certified reference material" || w == "check standard" {
				is, isBlank = true, w == "blank" || w == "blk"
			}
		}
	}
	if is {
		h.control, h.blank = true, isBlank
		t.tally.or(setting{"samples", "", h.name}).habit(source.Note, "QC_ROW", t.nameCell(int(h.row)).Ref, "blanks and controls were kept apart from the samples (%s)")
	}
}

// replicateSuffix matches what is added to a name for a second measurement.
var replicateSuffix = regexp.MustCompile(`(?i)^(.*?)(?:[ _\-./]*(?:dup(?:licate)?\.?|rep(?:licate|eat)?\.?|bis|check|rerun)[ _\-]?\d*|[ _]*\(\d\)|[\-/_ ][2-9]|[ _\-]?[DR]|[ _\-]?[a-c])$`)

// replicates links rows that repeat a sample: the same name again, or a name
// with a suffix whose base occurs alone. Nothing is averaged or overwritten.
func (t *tableReader) replicates() {
	heads := t.table.heads
	first := make(map[string]int, len(heads))
	for i := range heads {
		if name := heads[i].name; name != "" {
			if _, seen := first[name]; !seen {
				first[name] = i
			}
		}
	}
	const repeats = "rows that repeat a sample were linked to it, not averaged (%s)"
	for i := range heads {
		h := &heads[i]
		if h.name == "" {
			continue
		}
		if first[h.name] != i {
			h.replicate = h.name
			if ref := t.nameCell(int(h.row)).Ref; h.control || t.carried(h) || t.hasRun(h) {
				t.tally.habit(source.Note, "REPLICATE", ref, repeats)
			} else {
				t.tally.habit(source.Warning, "DUPLICATE_NAME", ref, "sample names occur more than once (%s); the later rows were linked as replicates, so rename them if they are other samples")
			}
			continue
		}
		for base := withoutSuffix(h.name); base != "" && !t.reading.DistinctNames; base = withoutSuffix(base) {
			if j, ok := first[base]; ok && j != i {
				h.replicate = base
				h.control, h.blank = heads[j].control, heads[j].blank
				t.tally.habit(source.Note, "REPLICATE", t.nameCell(int(h.row)).Ref, repeats)
				break
			}
		}
	}
}

// withoutSuffix takes what marks a second measurement off a name; it returns
// an empty text where there is nothing to take off.
func withoutSuffix(name string) string {
	if !mayHaveSuffix(name) {
		return ""
	}
	m := replicateSuffix.FindStringSubmatch(name)
	if m == nil || len(m[1]) >= len(name) {
		return ""
	}
	return m[1]
}

// mayHaveSuffix sorts out most of the names that end in a plain number, on
// which the expression would take its time.
func mayHaveSuffix(name string) bool {
	base := strings.TrimRight(name, "0123456789")
	if base == name || len(name)-len(base) == 1 && strings.IndexByte("-/_ ", name[max(len(base)-1, 0)]) >= 0 {
		return true
	}
	base = strings.ToLower(strings.TrimRight(base, " _-."))
	for _, w := range []string{"dup", "duplicate", "rep", "replicate", "repeat", "bis", "check", "rerun"} {
		if strings.HasSuffix(base, w) {
			return true
		}
	}
	return false
}

// carried reports a name that a merged cell carries to the row.
func (t *tableReader) carried(h *rowHead) bool {
	return t.name >= 0 && t.v.at(int(h.row), t.cols[t.name].index).empty()
}

func (t *tableReader) hasRun(h *rowHead) bool {
	for i := range t.cols {
		if c := &t.cols[i]; c.Role == RoleText && runWords[word(c.Header)] && !t.v.shown(int(h.row), c.index).empty() {
			return true
		}
	}
	return false
}

// IsControl reports whether a name is that of a blank, a reference material or
// another control and not of a sample.
func IsControl(name string) bool {
	is, _ := control(name)
	return is
}
