package melt

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// parametersCSV holds every fitted number of the model; README.md explains
// its columns.
//
//go:embed parameters.csv
var parametersCSV string

// pairTerm is one addend of a pair energy g, in J/mol:
//
//	(h + s·T) · Π Y_c^power[c]
type pairTerm struct {
	i, j  component
	h, s  float64 // J/mol, J/mol/K
	power [numSpecies]int
	of    []component // whose power is not zero
}

// fusion is a solid end member as the data file gives it.
type fusion struct {
	name    string
	cations vector  // per formula
	tm      float64 // K
	heat    float64 // heat of fusion at tm, J/mol
	gain    float64 // heat capacity of fusion, liquid less solid, J/mol/K

	// A transition of the solid adds to its stability below the temperature.
	transition     float64 // K; 0 for none
	transitionHeat float64 // J/mol
}

// parameters is the content of the data file.
type parameters struct {
	terms   []pairTerm
	fusions []fusion
	mixing  map[string]float64 // energy of Ca against the rest of a site, J/mol
	rows    []parameterRow

	associates [numAssociates]float64 // share left apart
}

// parameterRow tells what one row of the data file sets.
type parameterRow struct {
	kind, name, quantity string
	at                   int // place in terms or fusions
}

// parseParameters reads the data file.
func parseParameters(text string) (parameters, error) {
	p := parameters{mixing: map[string]float64{}}
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = 10
	rows, err := r.ReadAll()
	if err != nil {
		return p, fmt.Errorf("melt parameters: %w", err)
	}
	for n, row := range rows {
		if n == 0 {
			continue
		}
		if err := p.add(row[0], row[1], row[2], row[3], row[5]); err != nil {
			return p, fmt.Errorf("melt parameters, line %d: %w", n+1, err)
		}
		p.record(row[0], row[1], row[3])
	}
	return p, nil
}

func (p *parameters) add(kind, name, factor, quantity, number string) error {
	value, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return err
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return fmt.Errorf("%s is no finite number", number)
	}
	switch kind {
	case "pair":
		t, err := parseTerm(name, factor)
		if err != nil {
			return err
		}
		switch quantity {
		case "h":
			t.h = value
		case "s":
			t.s = value
		default:
			return fmt.Errorf("unknown quantity %q", quantity)
		}
		p.terms = append(p.terms, t)
	case "solid":
		if len(p.fusions) == 0 || p.fusions[len(p.fusions)-1].name != name {
			f, err := parseCations(factor)
			if err != nil {
				return err
			}
			p.fusions = append(p.fusions, fusion{name: name, cations: f})
		}
		last := &p.fusions[len(p.fusions)-1]
		switch quantity {
		case "Tm":
			last.tm = value + celsius
		case "dH":
			last.heat = value * 1000
		case "dCp":
			last.gain = value
		default:
			return fmt.Errorf("unknown quantity %q", quantity)
		}
	case "transition":
		i := slices.IndexFunc(p.fusions, func(f fusion) bool { return f.name == name })
		if i < 0 {
			return fmt.Errorf("the end member %s has to come before its transition", name)
		}
		switch quantity {
		case "T":
			p.fusions[i].transition = value + celsius
		case "dH":
			p.fusions[i].transitionHeat = value * 1000
		default:
			return fmt.Errorf("unknown quantity %q", quantity)
		}
	case "associate":
		c, err := parseComponent(name)
		if err != nil {
			return err
		}
		if c < kal || !(value >= 0 && value < 1) {
			return fmt.Errorf("%g is no share of %s left apart", value, name)
		}
		p.associates[c-kal] = value
	case "mixing":
		p.mixing[name] = value * 1000
	default:
		return fmt.Errorf("unknown kind %q", kind)
	}
	return nil
}

// record notes what the row last added has set.
func (p *parameters) record(kind, name, quantity string) {
	r := parameterRow{kind: kind, name: name, quantity: quantity}
	switch kind {
	case "pair":
		r.at = len(p.terms) - 1
	case "solid", "transition":
		r.at = slices.IndexFunc(p.fusions, func(f fusion) bool { return f.name == name })
	}
	p.rows = append(p.rows, r)
}

const highestPower = 20

// parseTerm reads a pair, "Fe-Si", and a factor, "1", "YSi^4" or "YCa*YSi".
func parseTerm(pair, factor string) (t pairTerm, err error) {
	a, b, ok := strings.Cut(pair, "-")
	if !ok {
		return t, fmt.Errorf("%q is not a pair", pair)
	}
	if t.i, err = parseComponent(a); err != nil {
		return t, err
	}
	if t.j, err = parseComponent(b); err != nil {
		return t, err
	}
	if factor == "1" {
		return t, nil
	}
	for _, part := range strings.Split(factor, "*") {
		name, exponent, raised := strings.Cut(strings.TrimPrefix(part, "Y"), "^")
		c, err := parseComponent(name)
		if err != nil {
			return t, err
		}
		n := 1
		if raised {
			if n, err = strconv.Atoi(exponent); err != nil {
				return t, err
			}
			if n < 1 || n > highestPower {
				return t, fmt.Errorf("the power of %q is not between 1 and %d", part, highestPower)
			}
		}
		if t.power[c] == 0 {
			t.of = append(t.of, c)
		}
		t.power[c] += n
	}
	return t, nil
}
