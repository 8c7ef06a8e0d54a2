package assay

import (
	"cmp"
	"slices"
	"strings"

	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
)

// NoTable stands in Assay.Table for an analysis that was worked out from
// readings and has no row in a laboratory table.
const NoTable = -1

// readDeterminations takes the sheets of readings out of the field sheets and
// works them out.
func (c *Campaign) readDeterminations() {
	var rest []sheet.Records
	for i := range c.Records {
		if !wetlab.Recognise(&c.Records[i]) {
			rest = append(rest, c.Records[i])
			continue
		}
		s := wetlab.Read(&c.Records[i])
		c.Notices = append(c.Notices, s.AllNotices()...)
		c.Readings = append(c.Readings, s)
	}
	c.Records = rest
}

// determined gathers what belongs to one value: all lines for one analyte of
// one sample by one method.
type determined struct {
	sample  *Sample
	results []wetlab.Result
	value   wetlab.Combined
}

// joinDeterminations hands the results of the readings to the samples they
// name, combined by sample, analyte and method, as analyses by wet chemistry,
// AAS or ICP. Then it looks what of each sample's other analyses disturbs
// them.
func (c *Campaign) joinDeterminations(fieldSheet bool) {
	var all []*determined
	for _, s := range c.Readings {
		for _, r := range s.Results {
			if !r.Value.Known() {
				continue
			}
			sample, ok := c.Sample(r.Sample)
			if certificate, known := quality.CertificateOf(r.Sample, c.Certificates); !ok && (r.Control || known && fieldSheet) {
				c.addDeterminedControl(r, certificate)
				continue
			}
			if !ok && fieldSheet {
				c.Notices.Add(source.Error, "JOINS_NOTHING", r.At, "sample %q is in no field sheet%s; correct the name, or list the sample with its kind and origin",
					r.Sample, nearSample(r.Sample, c.SampleIDs()))
				continue
			}
			if !ok {
				sample = &Sample{ID: r.Sample, At: r.At}
				c.Samples = append(c.Samples, sample)
			}
			i := slices.IndexFunc(all, func(d *determined) bool {
				return d.sample == sample && d.results[0].Method == r.Method && d.results[0].Analyte == r.Analyte
			})
			if i < 0 {
				all = append(all, &determined{sample: sample})
				i = len(all) - 1
			}
			all[i].results = append(all[i].results, r)
		}
	}
	for _, d := range all {
		d.value = wetlab.Combine(d.results)
		c.Notices = append(c.Notices, d.value.Notices...)
		c.tellStated(d)
		d.sample.Assays = append(d.sample.Assays, assayOf(d.results[0], d.value.Value))
	}
	c.tellInterferences(all)
	c.tellScopes(all)
	c.tellCautions()
}

// addDeterminedControl keeps the determination of a control beside those of the
// laboratory tables.
func (c *Campaign) addDeterminedControl(r wetlab.Result, certificate quality.Certificate) {
	x := Control{Assay: assayOf(r, r.Value), Base: cmp.Or(certificate.Material, r.Sample), Certificate: certificate,
		Blank: strings.Contains(strings.ToLower(r.Sample), "blank")}
	c.Controls = append(c.Controls, x)
}

// methodOf returns the method of analysis of package assay that a wet method
// counts as.
func methodOf(m *wetlab.Method) string {
	switch m.ID {
	case "AAS", "standard addition":
		return AAS
	case "ICP":
		return ICP
	}
	return WetChemistry
}

// assayOf returns what a determination, or several, came to as an analysis.
func assayOf(r wetlab.Result, q quantity.Quantity) Assay {
	v := sheet.Value{Analyte: r.Analyte, Quantity: q, Raw: r.Reading(), Unit: r.ReadingUnit(), Basis: r.Basis}
	if r.Digestion != "" {
		v.Flags = append(v.Flags, "digestion: "+r.Digestion)
	}
	return Assay{Method: methodOf(r.Method), Table: NoTable, Name: r.Sample, At: r.At, Values: []sheet.Value{v}, Determination: r.Method}
}
