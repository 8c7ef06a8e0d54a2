package assay

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Correction declares that the readings of a method are to be replaced by what
// the laboratory would have given, along the bridge.
type Correction struct {
	Method   string
	Analytes []string // no others are corrected
	Kinds    []string // kinds of sample; all where empty
	Line     int      // of the notebook, for messages
}

func (r Correction) meant(kind, analyte string) bool {
	return (len(r.Kinds) == 0 || slices.Contains(r.Kinds, kind)) &&
		slices.ContainsFunc(r.Analytes, func(a string) bool { return quality.Same(a, analyte) })
}

// correctReadings replaces the readings that the recipe declares, and nothing
// else, by what the trusted method would have given. Raw keeps what the sheet
// says.
func (c *Campaign) correctReadings() {
	for _, r := range c.Config.Recipe.Correct {
		x := correcting{c: c, Correction: r, told: map[string]bool{}}
		for _, s := range c.Samples {
			for _, a := range s.Assays {
				for k := range a.Values {
					if a.Method == r.Method && a.Values[k].Known() && r.meant(s.Kind, a.Values[k].Analyte) {
						x.value(s, &a.Values[k])
					}
				}
			}
		}
		x.tell()
	}
}

// correcting is one correction under way.
type correcting struct {
	c *Campaign
	Correction
	done   int
	beyond []string // samples left as they are
	at     source.Cell
	told   map[string]bool
}

func (x *correcting) value(s *Sample, v *sheet.Value) {
	b, ok := x.c.Bridge(x.Method, s.Kind, v.Analyte)
	why := b.Why
	if !ok {
		why = "no " + s.Kind + " was analysed by both methods"
	}
	if why != "" {
		if key := s.Kind + " " + v.Analyte; !x.told[key] {
			x.told[key] = true
			x.c.Notices.Add(source.Error, "NO_BRIDGE", source.Line(NotebookName, x.Line),
				"%s in %s by %s cannot be corrected: %s; take it out of `correct:` under `recipe:`, or send more samples to the laboratory", v.Analyte, s.Kind, x.Method, why)
		}
		return
	}
	lab, u, within := b.Line.Correct(v.Value, v.U)
	if !within {
		if x.beyond = append(x.beyond, s.ID); x.at.IsZero() && len(v.From) > 0 {
			x.at = v.From[0]
		}
		return
	}
	v.UNote = fmt.Sprintf("corrected from %.4g wt%% to %s by the line y = %.4g + %.4g x of %d samples; ± is that of the prediction", v.Value, list(b.To), b.Line.A, b.Line.B, b.Line.N)
	v.Value, v.U = lab, u
	v.Flags = append(slices.Clone(v.Flags), "corrected")
	x.done++
}

func (x *correcting) tell() {
	at := source.Line(NotebookName, x.Line)
	if x.done > 0 {
		x.c.Notices.Add(source.Note, "CORRECTED", at, "%d readings of %s by %s were corrected to the laboratory, as the recipe declares", x.done, strings.Join(x.Analytes, ", "), x.Method)
	}
	if len(x.beyond) > 0 {
		x.c.Notices.Add(source.Warning, "BEYOND_BRIDGE", x.at, "%s by %s in %s lies outside the samples that the correction rests on and was left as it is", strings.Join(x.Analytes, ", "), x.Method, list(x.beyond))
	}
	if x.done == 0 && len(x.beyond) == 0 && len(x.told) == 0 {
		x.c.Notices.Add(source.Error, "NOTHING_CORRECTED", at, "`correct:` names %s by %s, but no such reading is in the campaign", strings.Join(x.Analytes, ", "), x.Method)
	}
}
