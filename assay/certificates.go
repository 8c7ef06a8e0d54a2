package assay

import (
	"math"
	"strconv"

	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Names under which a sheet of certificates carries its columns.
var (
	materialFields  = []string{"material", "reference material", "control material"}
	analyteFields   = []string{"analyte"}
	valueFields     = []string{"value", "certified value", "assigned value"}
	unitFields      = []string{"unit", "units"}
	plusMinusFields = []string{"±", "+/-", "plus minus", "uncertainty"}
	plusKindFields  = []string{"kind of ±", "kind of +/-", "kind of uncertainty", "kind"}
	labsFields      = []string{"laboratories", "labs", "number of laboratories"}
	basisFields     = []string{"basis"}
	citationFields  = []string{"source", "citation", "certificate"}
)

// readCertificates takes the user's own values of control materials from every
// field sheet with the columns material, analyte and value.
func (c *Campaign) readCertificates() {
	for i := range c.Records {
		r := &c.Records[i]
		if !r.Has(materialFields...) || !r.Has(analyteFields...) || !r.Has(valueFields...) {
			continue
		}
		for _, rec := range r.Rows {
			material, at := r.Text(rec, materialFields...)
			if material == "" {
				continue
			}
			v, bad := certifiedOf(r, rec)
			if bad != nil {
				bad.Severity, bad.Code = source.Error, "CERTIFICATE"
				c.Notices = append(c.Notices, *bad)
				continue
			}
			if v.Kind == quality.NoKind {
				c.Notices.Add(source.Warning, "CERTIFICATE", at, "the value of %s in %s has no ±, so readings of it can be compared but not scored; add the columns ± and kind of ±", v.Analyte, material)
			}
			c.addCertified(material, v)
		}
	}
}

func (c *Campaign) addCertified(material string, v quality.Certified) {
	for i := range c.Certificates {
		if sampleKey(c.Certificates[i].Material) == sampleKey(material) {
			c.Certificates[i].Values = append(c.Certificates[i].Values, v)
			return
		}
	}
	c.Certificates = append(c.Certificates, quality.Certificate{Material: material, Own: true, Values: []quality.Certified{v}})
}

// certifiedOf reads one row of a sheet of certificates; bad says what is wrong
// with it.
func certifiedOf(r *sheet.Records, rec sheet.Record) (v quality.Certified, bad *source.Notice) {
	wrong := func(at source.Cell, message string) (quality.Certified, *source.Notice) {
		return quality.Certified{}, &source.Notice{At: at, Message: message}
	}
	name, at := r.Text(rec, analyteFields...)
	id, ok := sheet.Analyte(name)
	if !ok {
		return wrong(at, "\""+name+"\" is no analyte known here; write it as in the laboratory's headings, SiO2 or Cu")
	}
	unit, at := r.Text(rec, unitFields...)
	factor, ok := sheet.ToWt(unit)
	if !ok {
		return wrong(at, "the unit of "+id+" is \""+unit+"\"; write wt% or ppm")
	}
	value := r.Number(rec, valueFields...)
	if !value.Known() || value.Value <= 0 {
		c, _ := r.Cell(rec, valueFields...)
		return wrong(c.At, "the value of "+id+" is \""+c.Text+"\"; write a number above zero")
	}
	v = quality.Certified{Analyte: id, Value: value.Value * factor, PlusMinus: math.NaN(), Status: "stated by the campaign", At: value.From[0]}
	v.Basis, _ = r.Text(rec, basisFields...)
	v.Citation, _ = r.Text(rec, citationFields...)
	if labs, at := r.Text(rec, labsFields...); labs != "" {
		n, err := strconv.Atoi(labs)
		if err != nil || n < 1 {
			return wrong(at, "the number of laboratories is \""+labs+"\"; write a whole number or leave it empty")
		}
		v.Laboratories = n
	}
	pm := r.Number(rec, plusMinusFields...)
	if pm.Class == quantity.Missing {
		return v, nil
	}
	c, _ := r.Cell(rec, plusMinusFields...)
	if !pm.Known() || pm.Value <= 0 {
		return wrong(c.At, "the ± of "+id+" is \""+c.Text+"\"; write a number above zero or leave it empty")
	}
	word, at := r.Text(rec, plusKindFields...)
	kind, err := quality.ParseKind(word)
	if err != nil {
		if at.IsZero() {
			at = c.At
		}
		return wrong(at, "what the ± of "+id+" is must be said, for it changes every score: "+err.Error())
	}
	v.PlusMinus, v.Kind = pm.Value*factor, kind
	return v, nil
}
