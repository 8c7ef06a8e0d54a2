package deposit

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"

	"smeltbook/report/study"
)

// Types of fields, those of the Frictionless Table Schema.
const (
	stringType  = "string"
	numberType  = "number"
	booleanType = "boolean"
)

// field describes a column of a table.
type field struct {
	Name        string         `json:"name"`
	Type        string         `json:"type"`
	Unit        string         `json:"unit,omitempty"`
	Description string         `json:"description"`
	Constraints map[string]any `json:"constraints,omitempty"`
}

// table is a table of the deposit. An empty cell stands for what is missing.
type table struct {
	name, path  string
	title       string
	description string
	fields      []field
	rows        [][]string
	primaryKey  []string
	foreignKeys []foreignKey
}

// foreignKey says that the values of a field are keys of another table.
type foreignKey struct {
	Fields    string    `json:"fields"`
	Reference reference `json:"reference"`
}

type reference struct {
	Resource string `json:"resource"`
	Fields   string `json:"fields"`
}

func (t *table) header() []string {
	names := make([]string, len(t.fields))
	for i, f := range t.fields {
		names[i] = f.Name
	}
	return names
}

func (t *table) csv() ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	if err := w.Write(t.header()); err != nil {
		return nil, err
	}
	for _, row := range t.rows {
		inert := make([]string, len(row))
		for i, cell := range row {
			inert[i] = cell
			if t.fields[i].Type == stringType {
				inert[i] = study.InertText(cell)
			}
		}
		if err := w.Write(inert); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// number prints a number as it is, nothing where there is none.
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// tablesOf returns all tables of a deposit.
func tablesOf(s *study.Study) []*table {
	out := []*table{valuesTable(s.Campaign), samplesTable(s)}
	for _, t := range []*table{controlsTable(s.Campaign), firingsTable(s.Campaign)} {
		if len(t.rows) > 0 {
			out = append(out, t)
		}
	}
	return out
}

func samplesTable(s *study.Study) *table {
	flat := s.Table()
	t := &table{name: "samples", path: "tables/samples.csv", title: "Samples",
		description: "One row a sample: where it is from, its composition on the basis of the recipe, and everything computed from it.",
		primaryKey:  []string{"sample"}}
	for i, c := range flat.Columns {
		f := field{Name: c.Key, Type: stringType, Unit: c.Unit, Description: c.Is}
		if c.Unit != "" {
			f.Type = numberType
		}
		for _, row := range flat.Rows {
			if _, ok := row[i].(bool); ok {
				f.Type = booleanType
			}
		}
		t.fields = append(t.fields, f)
	}
	t.fields[0].Constraints = map[string]any{"required": true, "unique": true}
	for _, row := range flat.Rows {
		cells := make([]string, len(row))
		for i, v := range row {
			switch v := v.(type) {
			case string:
				cells[i] = v
			case float64:
				cells[i] = number(v)
			case bool:
				cells[i] = strconv.FormatBool(v)
			}
		}
		t.rows = append(t.rows, cells)
	}
	return t
}
