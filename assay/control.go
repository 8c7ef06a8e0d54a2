package assay

import (
	"cmp"
	"slices"

	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Control is one row of a laboratory table that is no sample: a blank, or a
// control material.
type Control struct {
	Assay
	Blank bool
	Base  string // the name without what marks a repeat
	// Certificate is that of the material; Certificate.Material is empty where
	// none is known.
	Certificate quality.Certificate
	Date        string // as the sheet has it; empty where it has none
}

var dateFields = []string{"date", "date of analysis", "datum"}

// isControl reports rows of controls: those the sheet shows to be, those named
// after a certificate of the campaign, and, where a field sheet lists the
// samples, those in no field sheet whose name holds that of a reference
// material.
func (c *Campaign) isControl(row sheet.Row, fieldSheet bool) bool {
	if row.Role == sheet.RowControl {
		return !fieldSheet || !c.listedAsSample(row.Name)
	}
	if len(c.Certificates) == 0 && !fieldSheet {
		return false
	}
	for _, name := range []string{row.Name, row.Replicate} {
		if _, ok := c.Sample(name); ok {
			return false
		}
	}
	if fieldSheet {
		_, ok := quality.CertificateOf(row.Name, c.Certificates)
		return ok
	}
	return slices.ContainsFunc(c.Certificates, func(x quality.Certificate) bool {
		key := sampleKey(x.Material)
		return key == sampleKey(row.Name) || key == sampleKey(row.Replicate)
	})
}

// listedAsSample reports a name in a field sheet: whoever lists W-2 as a lining
// means the second wall, and not the reference material of that name. A sheet
// may list its controls too, by their kind or under controls: of the notebook.
func (c *Campaign) listedAsSample(name string) bool {
	s, ok := c.Sample(name)
	return ok && !sheet.IsControl(s.Kind) && !slices.Contains(controlKinds, s.Kind) &&
		!slices.ContainsFunc(c.Config.Sheets, func(r SheetRule) bool { return slices.Contains(r.Reading.Controls, name) })
}

var controlKinds = []string{"reference material", "certified reference material", "reference"}

// tellNamesOfControls warns of samples whose name is that of a control.
func (c *Campaign) tellNamesOfControls() {
	for _, s := range c.Samples {
		if sheet.IsControl(s.ID) && c.listedAsSample(s.ID) {
			c.Notices.Add(source.Warning, "NAMED_AS_CONTROL", s.At,
				"%s is the name of a reference material, a blank or another control, and a field sheet lists it as a sample: it was taken for the sample everywhere, and not kept apart as a note on its table may say; if it is the control, take it out of the field sheet", s.ID)
		}
	}
}

func (c *Campaign) addControl(index int, t sheet.Table, row sheet.Row) {
	x := Control{Assay: c.assayOf(index, t, row), Blank: row.Blank, Base: cmp.Or(row.Replicate, row.Name), Date: rowText(row, dateFields)}
	if !x.Blank {
		x.Certificate, _ = quality.CertificateOf(row.Name, c.Certificates)
	}
	if x.Certificate.Material != "" {
		x.Base = x.Certificate.Material
	}
	c.Controls = append(c.Controls, x)
}
