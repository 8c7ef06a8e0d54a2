package sheet

import (
	"regexp"
	"strconv"
	"strings"
)

// setting is what a notebook writes for a sheet to overrule a guess: a field
// of Reading with its value, or one entry of it.
type setting struct{ field, entry, value string }

// mostSettings is how many entries of one kind a notice writes out.
const mostSettings = 8

// settingsText writes settings as YAML that can be pasted: fields in the order
// in which they come, entries of one field together.
func settingsText(list []setting) string {
	var order []string
	parts := map[string][]string{}
	mapped := map[string]bool{}
	for _, s := range list {
		if parts[s.field] == nil {
			order = append(order, s.field)
		}
		text := yamlText(s.value)
		if s.entry != "" {
			mapped[s.field] = true
			text = yamlText(s.entry) + ": " + text
		}
		parts[s.field] = append(parts[s.field], text)
	}
	for i, field := range order {
		p := parts[field]
		text := strings.Join(p[:min(len(p), mostSettings)], ", ")
		switch {
		case mapped[field]:
			text = "{" + text + "}"
		case listFields[field]:
			text = "[" + text + "]"
		}
		order[i] = field + ": " + text
	}
	return strings.Join(order, ", ")
}

var listFields = set("samples", "controls")

// plainYAML matches texts that need no quotes anywhere in YAML.
var plainYAML = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_./-]*[A-Za-z0-9%]$|^[A-Z]$|^[1-9][0-9]*$`)

func yamlText(s string) string {
	switch strings.ToLower(s) {
	case "yes", "no", "on", "off", "null", "nan", "inf", "y", "n":
		return strconv.Quote(s)
	}
	if plainYAML.MatchString(s) {
		return s
	}
	return strconv.Quote(s)
}

// overruledBy holds the settings that overrule guesses of a kind, whatever the
// sheet. Of two possible values it is the one that was not taken.
var overruledBy = map[string]setting{
	"HIDDEN_ROWS":           {"hidden", "", "true"},
	"HIDDEN_COLUMNS":        {"hidden", "", "true"},
	"HIDDEN_SHEET":          {"hidden", "", "true"},
	"TRANSPOSED":            {"orientation", "", "rows"},
	"DECIMAL_COMMA":         {"decimal", "", "."},
	"MIXED_DECIMAL_STYLE":   {"decimal", "", "."},
	"DECIMAL_UNDECIDED":     {"decimal", "", ","},
	"ND_MEANING":            {"nd", "", "not analysed"},
	"UNCERTAINTY_K_UNKNOWN": {"k", "", "2"},
	"NEGATIVE_VALUE":        {"negative_is_limit", "", "true"},
	"REPLICATE":             {"distinct_names", "", "true"},
	"BASIS":                 {"basis", "", "as received"},
	"NO_TABLE":              {"header_row", "", "1"},
}

// Meanings of a column beside the analytes, as Reading.Columns states them.
const (
	meansNothing     = ""
	meansIgnore      = "ignore"
	meansName        = "name"
	meansNote        = "note"
	meansUnit        = "unit"
	meansUncertainty = "uncertainty"
	meansLimit       = "limit"
)

func isMeaning(s string) bool {
	switch s {
	case meansNothing, meansIgnore, meansName, meansNote, meansUnit, meansUncertainty, meansLimit:
		return true
	}
	return false
}

// stated returns what the caller says of a column, by its heading or by the
// cell of its heading.
func (r Reading) stated(header, ref string) (meaning string, ok bool) {
	return lookupHeading(r.Columns, header, ref)
}

// statedUnit returns the unit that the caller states for a column.
func (r Reading) statedUnit(header, ref string) *unit {
	if s, ok := lookupHeading(r.Units, header, ref); ok {
		if u, ok := parseUnit(s); ok {
			return &u
		}
	}
	return nil
}

func lookupHeading(m map[string]string, header, ref string) (string, bool) {
	if len(m) == 0 {
		return "", false
	}
	if v, ok := m[ref]; ok {
		return v, true
	}
	w := word(header)
	for heading, v := range m {
		if w != "" && word(heading) == w {
			return v, true
		}
	}
	return "", false
}
