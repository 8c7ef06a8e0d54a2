package assay

import (
	"fmt"
	"slices"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Step is one step from the laboratory's numbers to the composition, with the
// sum of the analysis after it.
type Step struct {
	What  string // "iron as FeO"
	Total chem.Sum
}

// reduce turns the assays of a sample into its composition by the recipe:
// choose, combine replicates, state as oxides, take prills, sulphur and
// ignition as the recipe says, judge the total, bring to the basis. What cannot
// be done is said in the sample's Incomplete or as a notice; numbers are never
// invented.
func (s *Sample) reduce(cfg Config, notices *source.Notices) {
	r := cfg.Recipe
	parts, chosen := choose(s.onDrySample(r), r)
	s.Iron = r.ironFor(s.Kind, parts)
	merged, err := chem.NewComposition(parts...)
	if err != nil {
		notices.Add(source.Error, "COMPOSITION", s.At, "sample %s: %v; correct the sheet", s.ID, err)
		s.Incomplete = err.Error()
		return
	}
	s.Ferrous, _ = merged.Get("FeO")
	s.Ferric, _ = merged.Get("Fe2O3")
	s.AsReportedBasis = r.Basis == chem.Reported
	if !s.state(merged, r, notices) {
		return
	}
	s.Chosen = map[string]string{}
	for _, p := range s.AsReported.Parts {
		s.Chosen[p.ID] = chosen[groupOf(p.ID)]
	}
	s.Total = s.closing().Total()
	if s.Incomplete = s.whyIncomplete(); s.Incomplete != "" {
		s.Composition = s.AsReported
		if len(s.Assays) > 0 && !metallic(s.Kind) {
			notices.Add(source.Warning, "INCOMPLETE", s.At, "sample %s is left out of compositions and estimates: %s", s.ID, s.Incomplete)
		}
		return
	}
	s.judgeTotal(r, notices)
	c, err := s.AsReported.OnCounting(r.basis(), r.Share())
	if err != nil {
		notices.Add(source.Error, "BASIS", s.At, "sample %s: %v", s.ID, err)
		s.Incomplete = err.Error()
		return
	}
	s.Composition = c
	s.step("on the basis "+string(r.basis()), c)
}

// state fills AsReported from the merged analyses, step by step. It returns
// false where the recipe cannot be followed, which has been told.
func (s *Sample) state(merged chem.Composition, r Recipe, notices *source.Notices) bool {
	s.Merged = merged
	s.step("as the laboratory gave it", merged)
	c := merged
	if !metallic(s.Kind) {
		s.judgeIron(merged, notices)
		c = c.AsOxides(s.Iron)
		s.step("major elements as oxides, iron as "+string(s.Iron), c)
	}
	form := r.copperFor(s.Kind)
	c = c.CopperAs(form)
	s.step("copper as "+form, c)
	c, ok := s.withPrills(c, r, notices)
	if !ok {
		return false
	}
	if !metallic(s.Kind) {
		sulphur := r.sulphurFor(s.Kind)
		c = c.WithSulphur(sulphur)
		s.step("sulphur "+spaced(string(sulphur))+", less oxygen", c)
		if r.LOI == LOIVolatiles {
			c = s.withVolatiles(merged, c, sulphur)
		}
	}
	s.AsReported = c
	return true
}

// step notes the sum after a step, unless the step changed nothing.
func (s *Sample) step(what string, c chem.Composition) {
	at := *s
	at.AsReported = c
	total := at.closing().Total()
	if n := len(s.Steps); n > 0 {
		if last := s.Steps[n-1].Total; last.Measured == total.Measured && last.WithLimits == total.WithLimits {
			return
		}
	}
	s.Steps = append(s.Steps, Step{what, total})
}

func spaced(word string) string {
	if word == string(chem.SulphurReported) {
		return "as reported"
	}
	return "as " + word
}

// withPrills brings the metal in the sample to what the recipe says.
func (s *Sample) withPrills(c chem.Composition, r Recipe, notices *source.Notices) (chem.Composition, bool) {
	m, known := r.metalIn(s.ID)
	if !known {
		return c, true
	}
	with, without := c, c
	var err error
	if m.Sieved {
		with, err = c.WithPrills(m.Prills)
	} else {
		without, err = c.WithoutPrills(m.Prills)
	}
	if err != nil {
		notices.Add(source.Error, "PRILLS", source.Line(NotebookName, m.Line), "metal in sample %s: %v", s.ID, err)
		s.Incomplete = err.Error()
		return c, false
	}
	s.CopperWith, s.CopperWithout = copperOf(with), copperOf(without)
	switch {
	case r.Prills == PrillsWith && m.Sieved:
		s.step("with the metal that was sieved out", with)
		return with, true
	case r.Prills == PrillsWithout && !m.Sieved:
		s.step("without the metal", without)
		return without, true
	}
	return c, true
}

func copperOf(c chem.Composition) *quantity.Quantity {
	q, _ := c.CopperAs("Cu").Get("Cu")
	return &q
}

// withVolatiles adds the gain on ignition back to the loss observed. Where
// ferrous iron was not determined all iron of a sample stated as FeO counts as
// ferrous; a sample stated as Fe2O3 gains nothing.
func (s *Sample) withVolatiles(merged, c chem.Composition, sulphur chem.SulphurForm) chem.Composition {
	ferrous, _ := merged.Get("FeO")
	if !ferrous.Known() && s.Iron == chem.AsFeO {
		ferrous, _ = c.Get("FeO")
	}
	out, ok := c.WithVolatiles(c.GainOnIgnition(ferrous, sulphur == chem.Sulphide))
	if ok {
		s.step("ignition loss with the gain from oxidation added back", out)
	}
	return out
}

// closing returns the parts whose sum should be 100. The gain on ignition of a
// slag stated as FeO comes from that iron and is not a part of it.
func (s *Sample) closing() chem.Composition {
	if loi, ok := s.AsReported.Get("LOI"); ok && s.Iron == chem.AsFeO && loi.Known() && loi.Value < 0 {
		return s.AsReported.Without("LOI")
	}
	return s.AsReported
}

// whyIncomplete says why the analysis cannot stand for the whole sample.
func (s *Sample) whyIncomplete() string {
	if metallic(s.Kind) {
		return "a " + s.Kind + " is not made of oxides"
	}
	if len(s.Assays) == 0 {
		return "no analysis"
	}
	silica, ok := s.AsReported.Get("SiO2")
	switch {
	case !ok:
		return "silica was not determined"
	case !silica.Known() && s.Total.Measured == 0:
		return "no part was found above its limit of detection"
	}
	if s.Chosen["SiO2"] == HandheldXRF {
		return "major elements only by handheld XRF, which does not see all of them"
	}
	return ""
}

// onDrySample returns the assays with what was measured on ignited powder
// brought to the dry sample. Without a loss on ignition they stay as they are,
// which judgeIgnited tells.
func (s *Sample) onDrySample(r Recipe) []Assay {
	if len(r.Ignited) == 0 || !slices.ContainsFunc(s.Assays, func(a Assay) bool { return a.Ignited }) {
		return s.Assays
	}
	parts, _ := choose(s.Assays, r)
	i := slices.IndexFunc(parts, func(p chem.Part) bool { return p.ID == "LOI" && p.Known() })
	if i < 0 {
		return s.Assays
	}
	out := slices.Clone(s.Assays)
	for k, a := range out {
		if !a.Ignited {
			continue
		}
		out[k].Values = slices.Clone(a.Values)
		for j, v := range out[k].Values {
			if analyte, ok := chem.LookupAnalyte(v.Analyte); ok && analyte.Kind != chem.Ignition && analyte.Kind != chem.Volatile {
				out[k].Values[j].Quantity = chem.FromIgnited(v.Quantity, parts[i].Quantity)
			}
		}
	}
	return out
}

// sampleList names samples in a sentence, the first five and how many more.
func sampleList(ids []string) string {
	more := ""
	if len(ids) > 5 {
		more = fmt.Sprintf(" and %d more", len(ids)-5)
		ids = ids[:5]
	}
	text := ""
	for i, id := range ids {
		if i > 0 {
			text += ", "
		}
		text += id
	}
	return text + more
}
