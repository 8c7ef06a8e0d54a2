package melt

import (
	"fmt"
	"slices"
	"sync"
)

// Model is the liquid, the solids and what is tabulated of them. It never
// changes once made and may be used by any number of goroutines.
type Model struct {
	terms                liquid
	members              []endMember
	solids               []solid
	byCost               []int   // places in solids, those that take calcium on a site last
	olivineCa, wustiteCa float64 // energy of Ca against the rest of its site, J/mol
	ferric               bool    // FeO1.5 is calibrated
	refs                 references
}

var defaultModel = sync.OnceValues(func() (*Model, error) {
	p, err := parseParameters(parametersCSV)
	if err != nil {
		return nil, err
	}
	return newModel(p)
})

// Default returns the model with the parameters embedded in the package. It
// is made once; an error means that the embedded data are damaged.
func Default() (*Model, error) { return defaultModel() }

// FromParameters makes a model of another parameter file, in the form of the
// one embedded in the package.
func FromParameters(text string) (*Model, error) {
	p, err := parseParameters(text)
	if err != nil {
		return nil, err
	}
	return newModel(p)
}

// newModel puts a model together from its parameters.
func newModel(p parameters) (*Model, error) {
	m, err := assemble(p)
	if err == nil {
		m.refs = newReferences(m)
	}
	return m, err
}

// assemble is newModel without the tables of references.
func assemble(p parameters) (*Model, error) {
	m := &Model{terms: liquid{pairs: p.terms, associates: p.associates}}
	if len(p.fusions) > maxMembers || len(minerals) > maxMinerals {
		return nil, fmt.Errorf("melt model: more than %d end members or %d minerals", maxMembers, maxMinerals)
	}
	for _, f := range p.fusions {
		e, err := newEndMember(f)
		if err != nil {
			return nil, fmt.Errorf("melt model: %w", err)
		}
		m.members = append(m.members, e)
	}
	for _, mineral := range minerals {
		s := solid{mineral: mineral}
		for _, name := range mineral.members {
			i := slices.IndexFunc(m.members, func(e endMember) bool { return e.name == name })
			if i < 0 && optional[name] {
				continue
			}
			if i < 0 {
				return nil, fmt.Errorf("melt model: no parameters for %s of %s", name, mineral.name)
			}
			s.at = append(s.at, i)
			s.cations = m.members[i].size()
		}
		if len(s.at) == 0 || mineral.phase == Magnetite && len(s.at) < 3 {
			continue
		}
		m.solids = append(m.solids, s)
	}
	for _, costly := range []bool{false, true} {
		for i, s := range m.solids {
			if costly == (s.mixing == olivines || s.mixing == wustites) {
				m.byCost = append(m.byCost, i)
			}
		}
	}
	var okO, okW bool
	m.olivineCa, okO = p.mixing["olivine"]
	m.wustiteCa, okW = p.mixing["wustite"]
	if !okO || !okW {
		return nil, fmt.Errorf("melt model: the mixing energy of olivine or wustite is missing")
	}
	m.ferric = slices.ContainsFunc(m.members, func(e endMember) bool { return e.name == "Mag" })
	return m, nil
}
