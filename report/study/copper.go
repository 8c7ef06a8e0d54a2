package study

import (
	"fmt"

	"smeltbook/assay"
	"smeltbook/phase/copper"
)

// CopperForms splits the copper of a sample into its forms, under copper metal
// at the conditions, with the prills seen in it if any were.
func CopperForms(s *assay.Sample, at copper.Conditions, prills *copper.Prills) (copper.Forms, error) {
	total, ok := copper.TotalCopper(s.AsReported)
	if !ok {
		return copper.Forms{}, fmt.Errorf("copper was not determined")
	}
	finds := copper.Finds{Total: total, Conditions: &at, Prills: prills}
	finds.Sulphur, _ = s.AsReported.Get("S")
	finds.AcidSoluble, _ = s.AsReported.Get("Cu_ox")
	return copper.SplitForms(finds)
}
