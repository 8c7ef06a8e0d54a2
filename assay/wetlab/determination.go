package wetlab

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/source"
)

// Determination is one line of a readings sheet.
type Determination struct {
	Sample    string
	At        source.Cell // where the sample is named
	Method    *Method
	Analyte   string // ID of package chem
	Readings  []Reading
	Separated []string // elements that were separated or masked before
	Replicate string
	Basis     string // as the sheet says it
	Digestion string
	Control   bool // a blank or reference material, no sample
	open      map[Key]source.Cell
}

func (d Determination) reading(k Key) (Reading, bool) {
	i := slices.IndexFunc(d.Readings, func(r Reading) bool { return r.Key == k })
	if i < 0 {
		return Reading{}, false
	}
	return d.Readings[i], true
}

func (d Determination) has(k Key) bool { _, ok := d.reading(k); return ok }

// where returns the cell of a reading, filled or not, else that of the sample.
func (d Determination) where(k Key) source.Cell {
	if r, ok := d.reading(k); ok && len(r.From) > 0 {
		return r.From[0]
	}
	if at, ok := d.open[k]; ok {
		return at
	}
	return d.At
}

// String names the determination: "FeO in KR-S01 by Pratt".
func (d Determination) String() string {
	return fmt.Sprintf("%s in %s by %s", d.Analyte, d.Sample, d.Method.ID)
}

// Reading returns the main reading as it stands in its cell, and ReadingUnit
// its unit as it stands over the column.
func (d Determination) Reading() string { return d.main().Raw }

// ReadingUnit is the unit of Reading.
func (d Determination) ReadingUnit() string { return d.main().RawUnit }

func (d Determination) main() Reading {
	for _, n := range d.Method.needs {
		for _, way := range n.ways {
			if r, ok := d.reading(way[0]); ok {
				return r
			}
		}
	}
	return Reading{}
}

// Using lists the readings as they were understood, in the units of the sheet:
// "volume 17.85 mL, sample mass 0.5 g".
func (d Determination) Using() string {
	var parts []string
	for _, r := range d.Readings {
		value := strings.TrimSpace(r.Raw + " " + r.RawUnit)
		if r.RawUnit == "" && r.Unit != string(pureNumber) { // worked out from other lines
			value = fmt.Sprintf("%.5g %s", r.Value, r.Unit)
		}
		parts = append(parts, string(r.Key)+" "+value)
	}
	return strings.Join(parts, ", ")
}
