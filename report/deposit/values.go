package deposit

import (
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// valueFields describe one value of one analysis; the first names what was
// analysed.
func valueFields(of, is string) []field {
	class := map[string]any{"enum": []string{string(quantity.Below), string(quantity.Above), string(quantity.NotFound),
		string(quantity.NotRun), string(quantity.Trace), string(quantity.Missing), string(quantity.Unusable)}}
	return []field{
		{of, stringType, "", is, map[string]any{"required": true}},
		{"analyte", stringType, "", "oxide or element by its formula, FeOT and Fe2O3T for total iron so stated, or LOI; \"total\" is the sum that the laboratory printed", map[string]any{"required": true}},
		{"as_written", stringType, "", "the value as it stands in its cell; empty for one worked out from readings", nil},
		{"unit_as_written", stringType, "", "the unit in which it stands there", nil},
		{"value", numberType, "wt%", "the value; empty where there is no number", nil},
		{"unit", stringType, "", "unit of value, standard_uncertainty and limit", nil},
		{"standard_uncertainty", numberType, "wt%", "standard uncertainty (k = 1)", nil},
		{"uncertainty_source", stringType, "", "where the standard uncertainty comes from, or why there is none", nil},
		{"class", stringType, "", "why there is no number: " + quantity.ClassWords, class},
		{"limit", numberType, "wt%", "limit below or above which the value lies", nil},
		{"method", stringType, "", "method of analysis", nil},
		{"remarks", stringType, "", "what the sheet marked the value with", nil},
		{"file", stringType, "", "file below campaign/ in which the value stands", nil},
		{"sheet", stringType, "", "sheet of the workbook; empty for text files", nil},
		{"cell", stringType, "", "cell; all of them, with spaces between, where the value was worked out from readings", nil},
	}
}

// valuesTable has every value of every analysis of the samples.
func valuesTable(c *assay.Campaign) *table {
	t := &table{name: "values", path: "tables/values.csv", title: "Values",
		description: "One row a value: every value that was read from the laboratories' sheets or worked out from readings of the bench, with its uncertainty and the cell it stands in.",
		fields:      valueFields("sample", "id of the sample"),
		foreignKeys: []foreignKey{{"sample", reference{"samples", "sample"}}}}
	for _, s := range c.Samples {
		for _, a := range s.Assays {
			t.rows = append(t.rows, valueRows(s.ID, a)...)
		}
	}
	return t
}

// controlsTable has the values of blanks and control materials.
func controlsTable(c *assay.Campaign) *table {
	t := &table{name: "controls", path: "tables/controls.csv", title: "Controls",
		description: "One row a value of a blank or a control material, as in the table of values.",
		fields:      valueFields("control", "name of the blank or of the control material")}
	for _, x := range c.Controls {
		t.rows = append(t.rows, valueRows(x.Name, x.Assay)...)
	}
	return t
}

func valueRows(of string, a assay.Assay) [][]string {
	values := a.Values
	if a.StatedTotal != nil {
		total := *a.StatedTotal
		total.Analyte = "total"
		values = append(values[:len(values):len(values)], total)
	}
	var rows [][]string
	for _, v := range values {
		if v.Class == quantity.Missing && strings.TrimSpace(v.Raw) == "" {
			continue // an empty cell is no value
		}
		rows = append(rows, valueRow(of, a, v))
	}
	return rows
}

func valueRow(of string, a assay.Assay, v sheet.Value) []string {
	value, u, limit, at := "", "", "", source.Cell{}
	if v.Known() {
		value, u = number(v.Value), number(v.U)
	} else {
		limit = number(v.Limit)
	}
	var cells []string
	for _, c := range v.From {
		if at.File == "" {
			at = c
		}
		if c.File == at.File && c.Sheet == at.Sheet {
			cells = append(cells, c.Ref)
		}
	}
	return []string{of, v.Analyte, v.Raw, v.Unit, value, v.Quantity.Unit, u, v.UNote, string(v.Class), limit,
		a.Method, strings.Join(v.Flags, "; "), at.File, at.Sheet, strings.Join(cells, " ")}
}

// firingsTable has what the field sheets record of the firings, one row a thing
// recorded.
func firingsTable(c *assay.Campaign) *table {
	t := &table{name: "firings", path: "tables/firings.csv", title: "Firings",
		description: "One row a thing that the field sheets record of a firing, uncertainties of scales as things of their own.",
		fields: []field{
			{"firing", stringType, "", "id of the firing", map[string]any{"required": true}},
			{"recorded", stringType, "", "heading in the field sheet", nil},
			{"as_written", stringType, "", "what stands in the cell", nil},
			{"value", numberType, "", "the number, in the unit beside it; empty where the cell holds none", nil},
			{"unit", stringType, "", "unit of the value", nil},
			{"file", stringType, "", "file below campaign/", nil},
			{"sheet", stringType, "", "sheet of the workbook", nil},
			{"cell", stringType, "", "cell", nil},
		}}
	for _, r := range c.Runs {
		for _, f := range r.Fields {
			if f.Cell.Empty() {
				continue
			}
			value := ""
			if f.Cell.Class == quantity.Measured && !f.Cell.Date {
				value = number(f.Cell.Value)
			}
			t.rows = append(t.rows, []string{r.ID, f.Name, f.Cell.Text, value, f.Unit, f.Cell.At.File, f.Cell.At.Sheet, f.Cell.At.Ref})
		}
	}
	return t
}

// Values returns the table of values of a campaign as it stands in a deposit.
func Values(c *assay.Campaign) ([]byte, error) { return valuesTable(c).csv() }
