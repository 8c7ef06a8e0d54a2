package assay

import (
	"slices"
	"strings"

	"smeltbook/assay/source"
)

// Group is a named set of samples, in the order of the field sheet.
type Group struct {
	Name    string
	Rule    GroupRule
	Samples []*Sample
}

// Label describes the group by its rule: "fired (experimental slag)".
func (g Group) Label() string {
	words := slices.Concat(g.Rule.Origins, g.Rule.Sites, g.Rule.Runs, g.Rule.Kinds)
	if len(words) == 0 {
		return g.Name
	}
	return g.Name + " (" + strings.Join(words, " ") + ")"
}

// Group returns a group by name; the error is a sentence that says which
// groups there are.
func (c *Campaign) Group(name string) (Group, error) {
	for _, g := range c.Groups {
		if g.Name == name {
			return g, nil
		}
	}
	var names []string
	for _, g := range c.Groups {
		names = append(names, g.Name)
	}
	if len(names) == 0 {
		return Group{}, source.Notice{Severity: source.Error, Code: "UNKNOWN_GROUP",
			Message: `there is no group "` + name + `"; the notebook's front matter makes none: add for example "groups: {fired: {origin: experimental, kind: slag}}"`}
	}
	return Group{}, source.Notice{Severity: source.Error, Code: "UNKNOWN_GROUP",
		Message: `there is no group "` + name + `"` + source.DidYouMean(name, names)}
}

// makeGroups applies the rules to the samples.
func (c *Campaign) makeGroups(notebook string) {
	for _, rule := range c.Config.Groups {
		g := Group{Name: rule.Name, Rule: rule}
		for _, id := range slices.Concat(rule.Samples, rule.Except) {
			if _, ok := c.Sample(id); !ok {
				c.Notices.Add(source.Error, "UNKNOWN_SAMPLE", source.Line(notebook, rule.Line),
					"group %q names sample %q, which is not in the campaign%s", rule.Name, id, source.DidYouMean(id, c.SampleIDs()))
			}
		}
		for _, s := range c.Samples {
			if rule.matches(s) {
				g.Samples = append(g.Samples, s)
			}
		}
		if len(g.Samples) == 0 && !c.Notices.Failed() { // lost data empty groups; that has been told
			c.Notices.Add(source.Error, "EMPTY_GROUP", source.Line(notebook, rule.Line),
				"group %q matches no sample%s", rule.Name, c.whyEmpty(rule))
		}
		c.Groups = append(c.Groups, g)
	}
}

func (r GroupRule) matches(s *Sample) bool {
	meets := func(allowed []string, value string) bool {
		return len(allowed) == 0 || slices.ContainsFunc(allowed, func(a string) bool { return strings.EqualFold(a, value) })
	}
	named := func(ids []string) bool {
		return slices.ContainsFunc(ids, func(id string) bool { return sampleKey(id) == sampleKey(s.ID) })
	}
	return meets(r.Kinds, s.Kind) && meets(r.Origins, s.Origin) && meets(r.Sites, s.Site) &&
		meets(r.Runs, s.Run) && (len(r.Samples) == 0 || named(r.Samples)) && !named(r.Except)
}

// whyEmpty names the first condition of an empty group's rule that no sample
// at all meets, with the values there are.
func (c *Campaign) whyEmpty(r GroupRule) string {
	for _, cond := range []struct {
		key     string
		allowed []string
		value   func(*Sample) string
	}{
		{"kind", r.Kinds, func(s *Sample) string { return s.Kind }},
		{"origin", r.Origins, func(s *Sample) string { return s.Origin }},
		{"site", r.Sites, func(s *Sample) string { return s.Site }},
		{"run", r.Runs, func(s *Sample) string { return s.Run }},
	} {
		var present []string
		for _, s := range c.Samples {
			if v := cond.value(s); v != "" && !slices.Contains(present, v) {
				present = append(present, v)
			}
		}
		for _, a := range cond.allowed {
			if !slices.ContainsFunc(present, func(p string) bool { return strings.EqualFold(p, a) }) {
				return ": no sample has " + cond.key + " \"" + a + "\"" + source.DidYouMean(a, present)
			}
		}
	}
	return ": its conditions are never met together"
}
