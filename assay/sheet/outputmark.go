package sheet

import (
	"encoding/xml"
	"strings"
)

// OutputMark is the category, among the properties of a workbook, of those that
// this program writes: a plan or a table must not come back as a measurement.
// Spreadsheet programs keep it when they save the file again.
const OutputMark = "smeltbook output"

// propertiesPart holds the properties (ECMA-376, Part 2, Core Properties).
const propertiesPart = "docProps/core.xml"

// lookForMark returns a visitor that notes the mark.
func (a *archive) lookForMark() func(xml.Token, int) {
	within := false
	return func(tok xml.Token, _ int) {
		switch t := tok.(type) {
		case xml.StartElement:
			within = t.Name.Local == "category"
		case xml.EndElement:
			within = false
		case xml.CharData:
			a.output = a.output || within && strings.TrimSpace(string(t)) == OutputMark
		}
	}
}
