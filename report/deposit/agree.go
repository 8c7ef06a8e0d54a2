package deposit

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"
)

// agree holds the tables against their description, against each other and
// against the inputs.
func (b *bag) agree(p *Proof) error {
	var about dataPackage
	if err := b.decode("datapackage.json", &about); err != nil {
		return err
	}
	var m method
	if err := b.decode("method.json", &m); err != nil {
		return err
	}
	p.Version = m.Program.Version
	for _, in := range m.Inputs {
		if f := b.files[path.Join(payload, campaign, in.Name)]; f.sha256 != in.SHA256 {
			return fmt.Errorf("%s/%s is not the input that the tables were made from: method.json states another checksum", campaign, in.Name)
		}
	}
	keys := map[string]map[string]bool{} // by resource and field
	columns := map[string]map[string][]string{}
	for _, r := range about.Resources {
		name := path.Join(payload, r.Path)
		f, ok := b.files[name]
		if !ok {
			return fmt.Errorf("datapackage.json describes %s, which is not in the archive", r.Path)
		}
		if r.Hash != hashPrefix+f.sha256 || int64(r.Bytes) != f.size {
			return fmt.Errorf("%s is not the table that datapackage.json describes: size or checksum differ", r.Path)
		}
		byField, rows, err := r.read(b.kept[name])
		if err != nil {
			return fmt.Errorf("%s: %w", r.Path, err)
		}
		columns[r.Name] = byField
		p.Tables++
		p.Rows += rows
		for field, values := range byField {
			set := map[string]bool{}
			for _, v := range values {
				set[v] = true
			}
			keys[r.Name+"."+field] = set
		}
	}
	for _, r := range about.Resources {
		for _, k := range r.Schema.ForeignKeys {
			known := keys[k.Reference.Resource+"."+k.Reference.Fields]
			for i, v := range columns[r.Name][k.Fields] {
				if !known[v] {
					return fmt.Errorf("%s, row %d: there is no %s %q in the table of %s", r.Path, i+2, k.Fields, v, k.Reference.Resource)
				}
			}
		}
		for i, file := range columns[r.Name]["file"] {
			if _, ok := p.Campaign[file]; file != "" && !ok {
				return fmt.Errorf("%s, row %d: the value is from %q, which is not among the inputs", r.Path, i+2, file)
			}
		}
		if r.Name == "values" {
			p.Values = b.kept[path.Join(payload, r.Path)]
		}
	}
	return nil
}

func (b *bag) decode(name string, v any) error {
	data, ok := b.kept[path.Join(payload, name)]
	if !ok {
		return fmt.Errorf("%s is missing; this is no deposit", name)
	}
	if err := json.Unmarshal(data, v); err != nil {
		return fmt.Errorf("%s cannot be read: %w", name, err)
	}
	return nil
}

// read returns the columns of a table by field, every value checked against its
// description.
func (r resource) read(data []byte) (columns map[string][]string, rows int, err error) {
	records, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		return nil, 0, fmt.Errorf("it is no comma-separated table: %w", err)
	}
	t := table{fields: r.Schema.Fields}
	if len(records) == 0 || !slices.Equal(records[0], t.header()) {
		return nil, 0, fmt.Errorf("its headings are not the fields that datapackage.json describes")
	}
	columns = map[string][]string{}
	for i, record := range records[1:] {
		for j, value := range record {
			f := r.Schema.Fields[j]
			if err := f.check(value); err != nil {
				return nil, 0, fmt.Errorf("row %d, %s: %w", i+2, f.Name, err)
			}
			columns[f.Name] = append(columns[f.Name], value)
		}
	}
	for _, key := range r.Schema.PrimaryKey {
		seen := map[string]bool{}
		for i, v := range columns[key] {
			if seen[v] {
				return nil, 0, fmt.Errorf("row %d: %s %q stands there twice", i+2, key, v)
			}
			seen[v] = true
		}
	}
	return columns, len(records) - 1, nil
}

// check holds a value against its field.
func (f field) check(value string) error {
	if value == "" {
		if f.Constraints["required"] == true {
			return fmt.Errorf("nothing stands there, and something has to")
		}
		return nil
	}
	switch f.Type {
	case numberType:
		if x, err := strconv.ParseFloat(value, 64); err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%.40q is not a number", value)
		}
	case booleanType:
		if value != "true" && value != "false" {
			return fmt.Errorf("%.40q is neither true nor false", value)
		}
	}
	if allowed, ok := f.Constraints["enum"].([]any); ok && !slices.Contains(allowed, any(value)) {
		return fmt.Errorf("%.40q is none of the words that are allowed there", value)
	}
	if f.Type == stringType && strings.ContainsRune("=+-@", rune(value[0])) {
		return fmt.Errorf("%.40q could be run as a formula", value)
	}
	return nil
}
