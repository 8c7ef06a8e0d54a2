package assay

import (
	"slices"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
)

// Kinds and origins of samples, as the field sheet calls them.
const (
	Slag   = "slag"
	Ore    = "ore"
	Lining = "lining"
	Flux   = "flux"
	Ash    = "ash"
	Clay   = "clay"
	Prill  = "prill"
	Metal  = "metal"
	Matte  = "matte"
	Dust   = "dust" // sweepings and fines: what is swept together after breaking the furnace

	Experimental = "experimental"
	Excavated    = "excavated"
	Natural      = "natural"
)

var (
	knownKinds   = []string{Slag, Ore, Lining, Flux, Ash, Clay, Prill, Metal, Matte, Dust}
	knownOrigins = []string{Experimental, Excavated, Natural}
)

// otherWords are words that some write for the usual ones.
var otherWords = map[string]string{
	"replica": Experimental, "replication": Experimental, "experiment": Experimental, "fired": Experimental,
	"archaeological": Excavated, "archeological": Excavated, "excavation": Excavated, "dug": Excavated, "find": Excavated,
	"geological": Natural, "mineral": Natural,
	"wall": Lining, "furnace wall": Lining, "furnace lining": Lining, "clay lining": Lining, "charcoal ash": Ash,
	"ingot": Metal, "copper": Metal, "copper metal": Metal, "prills": Prill,
}

// Kinds returns the usual kinds of sample.
func Kinds() []string { return slices.Clone(knownKinds) }

// Sample is one thing that was collected and sent to a laboratory.
type Sample struct {
	ID      string
	Kind    string // slag, ore, lining, …
	Origin  string // experimental, excavated, natural
	Site    string
	Context string
	Run     string
	Note    string
	At      source.Cell // where the field sheet, or the first analysis, names it
	Assays  []Assay

	// AsReported holds the best value of each analyte, as oxides, on the basis
	// of the laboratory; Composition is the same on the basis of the recipe.
	AsReported  chem.Composition
	Composition chem.Composition
	Total       chem.Sum // of AsReported
	Iron        chem.Iron
	// Ferrous is titrated FeO, or FeO stated beside Fe2O3; Ferric is Fe2O3
	// stated beside it. AsReported holds their total. They hold no number where
	// the laboratory told the two apart no further.
	Ferrous, Ferric quantity.Quantity
	// Merged holds the best value of each analyte in the form of the
	// laboratory, and Steps the sums on the way from it to Composition.
	Merged chem.Composition
	Steps  []Step
	// CopperWith and CopperWithout are wt% Cu of the sample with its metal and
	// of what lies around it; nil where the recipe knows of no metal in it.
	CopperWith, CopperWithout *quantity.Quantity
	// Incomplete says why the composition cannot stand for the whole sample;
	// empty when it can.
	Incomplete string
	// AsReportedBasis tells that the recipe states every sample as reported.
	AsReportedBasis bool
	// Chosen tells, by analyte of AsReported, which method the value is from.
	Chosen map[string]string
}

// Assay is one analysis of a sample: one row of one table, or what the readings
// of one determination come to.
type Assay struct {
	Method      string
	Table       int // index into Campaign.Tables; NoTable for a determination
	Name        string
	Values      []sheet.Value // with the uncertainty stated or assumed
	StatedTotal *sheet.Value
	Ignited     bool // measured on ignited powder
	At          source.Cell
	// Determination is the wet method behind readings; nil for a table.
	Determination *wetlab.Method
}

// PrintedTotal returns the sum that the laboratory printed beside the silica of
// the sample.
func (s *Sample) PrintedTotal() (quantity.Quantity, bool) {
	silica, _ := s.Merged.Get("SiO2")
	if !silica.Known() {
		silica, _ = s.AsReported.Get("SiO2") // stated as the element
	}
	for _, a := range s.Assays {
		if a.StatedTotal == nil || !a.StatedTotal.Known() {
			continue
		}
		for _, v := range a.Values {
			if len(v.From) > 0 && slices.Contains(silica.From, v.From[0]) {
				return a.StatedTotal.Quantity, true
			}
		}
	}
	return quantity.Quantity{}, false
}

// Metallic reports whether the sample holds elements, not oxides.
func (s *Sample) Metallic() bool { return metallic(s.Kind) }

// Value returns the assay's value of an analyte.
func (a Assay) Value(analyte string) (quantity.Quantity, bool) {
	for _, v := range a.Values {
		if v.Analyte == analyte {
			return v.Quantity, true
		}
	}
	return quantity.Quantity{}, false
}

// sampleKey folds what people vary when they write a sample's id: letter case,
// spaces and the kind of dash.
func sampleKey(id string) string {
	return strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\u00a0', '\u202f', '\t':
			return -1
		case '–', '—', '‐', '‑', '−':
			return '-'
		}
		return r
	}, strings.ToLower(id))
}

// Sample returns the sample with the given id, letter case and spaces aside.
func (c *Campaign) Sample(id string) (*Sample, bool) {
	i := slices.IndexFunc(c.Samples, func(s *Sample) bool { return s.ID == id })
	if i < 0 {
		key := sampleKey(id)
		i = slices.IndexFunc(c.Samples, func(s *Sample) bool { return sampleKey(s.ID) == key })
	}
	if i < 0 {
		return nil, false
	}
	return c.Samples[i], true
}

// SampleIDs returns the ids of all samples in order.
func (c *Campaign) SampleIDs() []string {
	ids := make([]string, len(c.Samples))
	for i, s := range c.Samples {
		ids[i] = s.ID
	}
	return ids
}
