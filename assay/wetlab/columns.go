package wetlab

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// What a column of texts holds.
const (
	roleSample      = "sample"
	roleMethod      = "method"
	roleAnalyte     = "analyte"
	roleReplicate   = "replicate"
	roleTitrant     = "titrant"
	roleCalibration = "calibration"
	roleSeparated   = "separated or masked"
	roleDigestion   = "digestion"
	roleBasis       = "basis"
	roleNote        = "note"
)

// textColumns are the headings of columns that hold texts.
var textColumns = []struct {
	role      string
	spellings []string
}{
	{roleSample, []string{"sample", "sample id", "id", "sample no", "sample number"}},
	{roleMethod, []string{"method", "determination", "procedure"}},
	{roleAnalyte, []string{"analyte", "determined", "element", "oxide"}},
	{roleReplicate, []string{"replicate", "rep", "run", "parallel"}},
	{roleTitrant, []string{"titrant", "titrant bottle"}},
	{roleCalibration, []string{"calibration", "calibration line", "line"}},
	{roleSeparated, []string{"separated or masked", "separated", "masked", "removed"}},
	{roleDigestion, []string{"digestion", "attack", "decomposition"}},
	{roleBasis, []string{"basis"}},
	{roleNote, []string{"note", "notes", "remarks", "comment", "comments", "date", "analyst", "operator", "place"}},
}

// Column tells how one column of a readings sheet was understood.
type Column struct {
	Header string
	Ref    string
	Role   string // one of the text roles; empty for readings
	Key    Key    // of a reading, or of the reading whose uncertainty it holds
	Unit   string // as printed
	OfU    bool   // holds standard uncertainties
	factor float64
	share  bool // the uncertainty is relative, in %
}

// Describe says what the column holds.
func (c Column) Describe() string {
	switch {
	case c.Role != "":
		return c.Role
	case c.Key == "":
		return "not used"
	case c.OfU:
		return "standard uncertainty of the " + string(c.Key)
	case c.Unit == "":
		return string(c.Key)
	}
	return string(c.Key) + " in " + c.Unit
}

// Recognise reports whether a plain table is a sheet of readings: it has
// columns for sample and method, and one for some reading.
func Recognise(r *sheet.Records) bool {
	roles, readings := map[string]bool{}, 0
	for _, f := range r.Fields {
		c, _ := understand(f)
		if c.Role != "" {
			roles[c.Role] = true
		} else if c.Key != "" {
			readings++
		}
	}
	return roles[roleSample] && roles[roleMethod] && readings > 0
}

// columns reads the headings.
func (s *Sheet) columns(r *sheet.Records) {
	var last Column // reading to the left
	for _, f := range r.Fields {
		c, err := understand(f)
		at := source.Cell{File: r.File, Sheet: r.Sheet, Ref: f.Ref}
		if c.OfU && c.Key == "" && err == nil { // a lone ± belongs to its neighbour
			c.Key = last.Key
			if c.Unit == "" {
				c.factor = last.factor
			}
		}
		twice := func(o Column) bool {
			return c.Key != "" && o.Key == c.Key && o.OfU == c.OfU || c.Role != "" && c.Role != roleNote && o.Role == c.Role
		}
		switch {
		case err != nil:
			s.Notices.Add(source.Error, "WRONG_UNIT", at, "%v", err)
		case slices.ContainsFunc(s.Columns, twice):
			s.Notices.Add(source.Error, "DUPLICATE_COLUMN", at, "the column %q holds the %s, as a column before it does; delete or rename one", clip(f.Name), c.Describe())
		case c.Role == "" && c.Key == "":
			s.Notices.Add(source.Warning, "UNKNOWN_COLUMN", at, "the heading %q names no reading, so the column was left out%s", clip(f.Name), didYouMeanReading(f.Name))
		}
		s.Columns = append(s.Columns, c)
		if !c.OfU {
			last = c
		}
	}
}

// understand reads one heading. The error is a sentence about its unit.
func understand(f sheet.Field) (Column, error) {
	c := Column{Header: f.Name, Ref: f.Ref, Unit: f.Unit, factor: 1}
	name := f.Name
	if base, unit, ok := strings.Cut(name, ","); ok && c.Unit == "" { // "Volume, mL"
		if _, _, known := parseUnit(unit); known {
			name, c.Unit = base, strings.TrimSpace(unit)
		}
	}
	name, c.OfU = cutUncertainty(name)
	key := fold(name)
	if !c.OfU {
		for _, t := range textColumns {
			if slices.ContainsFunc(t.spellings, func(s string) bool { return fold(s) == key }) {
				c.Role = t.role
				return c, nil
			}
		}
	}
	var found []readingKind
	for _, k := range readingKinds {
		if fold(string(k.key)) == key || slices.ContainsFunc(k.spellings, func(s string) bool { return fold(s) == key }) {
			found = append(found, k)
		}
	}
	if len(found) == 0 {
		return c, nil
	}
	dim, factor, known := parseUnit(c.Unit)
	for _, k := range found {
		switch {
		case c.OfU && dim == percent && k.dim != percent:
			c.Key, c.share, c.factor = k.key, true, 0.01
			return c, nil
		case known && dim == k.dim:
			c.Key, c.factor = k.key, factor
			return c, nil
		case known && k.dim == percent && dim == pureNumber: // purity as a fraction
			c.Key, c.factor = k.key, 100
			return c, nil
		case c.OfU && c.Unit == "" && len(found) == 1:
			return c, fmt.Errorf("the column %q has no unit; write it behind the heading, as in %q", clip(f.Name), heading(k.key))
		}
	}
	k := found[0]
	what := fmt.Sprintf("is in %q, which is not understood here", clip(c.Unit))
	if c.Unit == "" {
		what = "has no unit"
	}
	if key == fold("blank") {
		return c, fmt.Errorf("the column %q %s; a blank of a titration is in mL, of a weighing in g, of a solution in mg/L", clip(f.Name), what)
	}
	return c, fmt.Errorf("the column %q %s; give the %s in %s, as in %q", clip(f.Name), what, k.key, unitNames(k.dim), heading(k.key))
}

// cutUncertainty takes the sign of an uncertainty off a heading.
func cutUncertainty(name string) (string, bool) {
	s := strings.TrimSpace(strings.ReplaceAll(name, "+/-", "±"))
	if rest := strings.TrimSpace(strings.Replace(s, "±", "", 1)); rest != s {
		return rest, true
	}
	if rest, ok := strings.CutSuffix(s, " u"); ok {
		return rest, true
	}
	if rest, ok := strings.CutPrefix(s, "u("); ok {
		return strings.TrimSuffix(rest, ")"), true
	}
	return s, s == "u"
}

func didYouMeanReading(name string) string {
	var all []string
	for _, k := range readingKinds {
		all = append(append(all, string(k.key)), k.spellings...)
	}
	if n := source.Nearest(name, all); n != "" {
		return `; did you mean "` + n + `"?`
	}
	return "; head notes with \"Note\""
}
