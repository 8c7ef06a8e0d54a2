package sheet

import (
	"regexp"
	"strings"

	"smeltbook/assay/source"
)

// readName reads the name of a row and says what is peculiar about it.
func (t *tableReader) readName(row int, out *Row) {
	if t.name < 0 {
		out.NameCell = t.at(row, t.b.c0)
		t.tally.habit(source.Warning, "NAME_MISSING", out.NameCell.Ref, "rows have results but no sample name (%s); add a column of names")
		return
	}
	col := t.cols[t.name].index
	cell := t.v.shown(row, col)
	out.NameCell = t.at(row, col)
	ref := out.NameCell.Ref
	out.Name, _ = foldSpaces(cell.text)
	switch {
	case cell.empty():
		t.tally.habit(source.Warning, "NAME_MISSING", ref, "rows have results but no sample name (%s); write the name in each row")
	case cell.kind == kindNumber:
		out.Name = storedText(out.Name)
		t.tally.habit(source.Note, "NUMERIC_NAME", ref, "sample names are stored as numbers (%s); zeros before them may be lost")
	case cell.kind == kindDate, cell.kind == kindText && looksLikeDate(out.Name):
		t.tally.each(source.Warning, "DATE_IN_NAME", ref, "the sample name is the date %s, probably made by the spreadsheet program from a name such as 3-14; type the name again, as text", clip(out.Name))
	case allDigits(out.Name):
		t.tally.habit(source.Note, "NUMERIC_NAME", ref, "sample names are plain numbers (%s); zeros before them may be lost")
	}
	if runes := []rune(out.Name); len(runes) > t.r.limits.NameLength {
		out.Name = string(runes[:t.r.limits.NameLength])
		t.tally.each(source.Error, "NAME_TOO_LONG", ref, "the sample name has more than %d characters and was cut; shorten it", t.r.limits.NameLength)
	}
	if cell.kind == kindText {
		t.formulaText(out.Name, ref)
	}
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
func (t *tableReader) rowRole(out *Row) {
	is, isBlank := control(out.Name)
	for heading, text := range out.Text {
		if kindWords[word(heading)] && !is {
			w := word(text)
			if controlWords[w] || w == "reference material" || w == "certified reference material" || w == "check standard" {
				is, isBlank = true, w == "blank" || w == "blk"
			}
		}
	}
	if is {
		out.Role, out.Blank = RowControl, isBlank
		t.tally.habit(source.Note, "QC_ROW", out.NameCell.Ref, "blanks and controls were kept apart from the samples (%s)")
	}
}

// replicateSuffix matches what is added to a name for a second measurement.
var replicateSuffix = regexp.MustCompile(`(?i)^(.*?)(?:[ _\-./]*(?:dup(?:licate)?\.?|rep(?:licate|eat)?\.?|bis|check|rerun)[ _\-]?\d*|[ _]*\(\d\)|[\-/_ ][2-9]|[ _\-]?[DR]|[ _\-]?[a-c])$`)

// replicates links rows that repeat a sample: the same name again, or a name
// with a suffix whose base occurs alone. Nothing is averaged or overwritten.
func (t *tableReader) replicates() {
	first := map[string]int{}
	for i := range t.table.Rows {
		if name := t.table.Rows[i].Name; name != "" {
			if _, seen := first[name]; !seen {
				first[name] = i
			}
		}
	}
	for i := range t.table.Rows {
		row := &t.table.Rows[i]
		if row.Name == "" {
			continue
		}
		if f := first[row.Name]; f != i {
			row.Replicate = row.Name
			if t.table.Rows[f].NameCell == row.NameCell || t.carried(row) || t.hasRun(row) {
				t.tally.habit(source.Note, "REPLICATE", row.NameCell.Ref, "rows that repeat a sample were linked to it, not averaged (%s)")
			} else {
				t.tally.habit(source.Warning, "DUPLICATE_NAME", row.NameCell.Ref, "sample names occur more than once (%s); the later rows were linked as replicates, so rename them if they are other samples")
			}
			continue
		}
		m := replicateSuffix.FindStringSubmatch(row.Name)
		if m == nil || m[1] == "" {
			continue
		}
		base := m[1]
		for base != "" {
			if j, ok := first[base]; ok && j != i {
				row.Replicate = base
				break
			}
			deeper := replicateSuffix.FindStringSubmatch(base)
			if deeper == nil || len(deeper[1]) >= len(base) {
				break
			}
			base = deeper[1]
		}
		if row.Replicate == "" {
			continue
		}
		row.Role, row.Blank = t.table.Rows[first[row.Replicate]].Role, t.table.Rows[first[row.Replicate]].Blank
		t.tally.habit(source.Note, "REPLICATE", row.NameCell.Ref, "rows that repeat a sample were linked to it, not averaged (%s)")
	}
}

// carried reports a name that a merged cell carries to the row.
func (t *tableReader) carried(row *Row) bool {
	r, c, ok := parseRef(row.NameCell.Ref)
	return ok && t.v.g.at(r, c).empty()
}

func (t *tableReader) hasRun(row *Row) bool {
	for heading := range row.Text {
		if runWords[word(heading)] {
			return true
		}
	}
	return false
}
