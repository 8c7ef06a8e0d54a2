package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/report/study"
)

// spreadSubject is what a spread can be of. Keys that end in @ wait for the
// temperature of the entry.
type spreadSubject struct {
	word    string
	title   string         // begins captions
	kinds   []string       // of sample that it is told of; nil for all
	rows    []spreadColumn // of the table of groups; the major parts and more when empty
	columns []spreadColumn // of matched rows, the leading one first; the largest parts when empty
	hot     bool           // holds at a temperature
	note    string
}

// spreadColumn is a column of matched rows: a variable, an interval between two
// of them, or words.
type spreadColumn struct {
	head      string // the variable's label where empty
	key, high string
}

// compositions is the subject of a spread that names none.
const compositions = "compositions"

// firstCrystalsKey marks the column of words among those of numbers.
const firstCrystalsKey = "first crystals"

func spreadSubjects() []spreadSubject {
	return []spreadSubject{
		{word: compositions, title: "Compositions"},
		{word: "melting", title: "Melting", kinds: []string{assay.Slag},
			rows: []spreadColumn{{key: study.Liquidus}, {key: "t_90_molten"}, {key: "t_half_molten"}, {key: "solidus"}},
			columns: []spreadColumn{{head: "liquidus", key: study.Liquidus}, {head: "90 % molten", key: "t_90_molten"},
				{head: "half molten", key: "t_half_molten"}, {head: "first crystals", key: firstCrystalsKey}},
			note: "A liquidus is not a furnace temperature."},
		{word: "flow", title: "How stiff the slag was", kinds: []string{assay.Slag}, hot: true,
			rows:    []spreadColumn{{head: "viscosity", key: "viscosity@"}, {head: "density of the liquid", key: "density@"}, {key: "nbo_t"}},
			columns: []spreadColumn{{head: "viscosity", key: "viscosity@"}, {head: "density", key: "density@"}, {key: "nbo_t"}},
			note:    "Viscosities differ by factors: means, scatters and differences are those of their logarithms."},
		{word: "copper", title: "Copper left in the slag", kinds: []string{assay.Slag}, hot: true,
			rows: []spreadColumn{{key: "Cu"}, {key: "S"}, {head: "dissolved, at least", key: "cu_as_oxide_low@"}, {head: "dissolved, at most", key: "cu_as_oxide_high@"},
				{head: "as metal, at least", key: "cu_as_metal_low@"}, {head: "as metal, at most", key: "cu_as_metal_high@"}},
			columns: []spreadColumn{{key: "Cu"}, {"dissolved", "cu_as_oxide_low@", "cu_as_oxide_high@"},
				{"as sulphide", "cu_as_sulphide_low@", "cu_as_sulphide_high@"}, {"as metal", "cu_as_metal_low@", "cu_as_metal_high@"}},
			note: "Forms of copper are intervals, from the least to the greatest that the analyses leave."},
		{word: "redox", title: "How reducing the furnace was", kinds: []string{assay.Slag}, hot: true,
			rows:    []spreadColumn{{head: "log fO₂, at least", key: "log_fo2_low@"}, {head: "log fO₂, at most", key: "log_fo2_high@"}, {key: "ferric_share"}},
			columns: []spreadColumn{{"log fO₂", "log_fo2_low@", "log_fo2_high@"}, {head: "ferric share", key: "ferric_share"}},
			note:    "A window reaches from the least to the greatest potential that what was seen and analysed allows, with copper metal present and iron metal absent; the truth may lie anywhere in it."},
		{word: "lining", title: "The furnace wall", kinds: []string{assay.Lining, assay.Clay},
			rows: []spreadColumn{{head: "fluxes", key: "flux_sum"}, {head: "alkalis", key: "alkali_sum"}, {key: "al2o3_flux"}, {head: "Schuen", key: "schuen_c"}, {head: "Bischof", key: "bischof_quotient"}},
			columns: []spreadColumn{{head: "fluxes", key: "flux_sum"}, {head: "alkalis", key: "alkali_sum"},
				{key: "al2o3_flux"}, {head: "Schuen", key: "schuen_c"}},
			note: "From the analyses as reported, all iron as FeO. " + liningKey},
	}
}

// subjectOf finds a subject by its word.
func subjectOf(word string) (spreadSubject, error) {
	var words []string
	for _, s := range spreadSubjects() {
		if s.word == word {
			return s, nil
		}
		words = append(words, s.word)
	}
	return spreadSubject{}, fmt.Errorf("there is no subject %q of a spread%s", word, source.DidYouMean(word, words))
}

// at puts a temperature into the keys that wait for one.
func (s spreadSubject) at(tc float64) spreadSubject {
	hot := func(key string) string {
		if strings.HasSuffix(key, "@") {
			return fmt.Sprintf("%s%g", key, tc)
		}
		return key
	}
	s.rows, s.columns = slices.Clone(s.rows), slices.Clone(s.columns)
	for i, r := range s.rows {
		s.rows[i].key = hot(r.key)
	}
	for i, c := range s.columns {
		s.columns[i].key, s.columns[i].high = hot(c.key), hot(c.high)
	}
	s.title += fmt.Sprintf(" at %g °C", tc)
	return s
}

// kindNotices tell where the two pages hold unlike kinds of material, and where
// the subject is not told of what they hold.
func kindNotices(groups pair, s spreadSubject) source.Notices {
	var out source.Notices
	kinds := [2][]string{}
	for i, g := range groups {
		var other []string
		for _, x := range g.Samples {
			k := x.Kind
			if k == "" {
				k = "material of no stated kind"
			}
			if !slices.Contains(kinds[i], k) {
				kinds[i] = append(kinds[i], k)
			}
			if s.kinds != nil && !slices.Contains(s.kinds, x.Kind) {
				other = append(other, x.ID)
			}
		}
		slices.Sort(kinds[i])
		if len(other) > 0 {
			out.Add(source.Warning, "UNLIKE_KIND", source.Cell{}, "a spread of %s is told of %s alone, and %s holds something else: %s",
				s.word, strings.Join(s.kinds, " and "), g.Name, fewOf(other))
		}
	}
	if a, b := list(kinds[0]), list(kinds[1]); a != b {
		out.Add(source.Warning, "UNLIKE_KINDS", source.Cell{}, "%s holds %s and %s holds %s: what differs between the pages is the kind of material before it is anything else",
			groups[0].Name, a, groups[1].Name, b)
	}
	return out
}

// fewOf lists names, the first six where they are many.
func fewOf(names []string) string {
	if len(names) > 8 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:6], ", "), len(names)-6)
	}
	return list(names)
}
