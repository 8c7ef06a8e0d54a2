package melt

import (
	"fmt"
	"slices"
	"sync"
)

// Model is the liquid, the solids and what is tabulated of them. It never
// changes once made and may be used by any number of goroutines.
type Model struct {
	terms                []pairTerm
	members              []endMember
	solids               []solid
	olivineCa, wustiteCa float64 // energy of Ca against the rest of its site, J/mol
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

// newModel puts a model together from its parameters.
func newModel(p parameters) (*Model, error) {
	m := &Model{terms: p.terms}
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
			if i < 0 {
				return nil, fmt.Errorf("melt model: no parameters for %s of %s", name, mineral.name)
			}
			s.at = append(s.at, i)
			s.cations = m.members[i].size()
		}
		m.solids = append(m.solids, s)
	}
	var okO, okW bool
	m.olivineCa, okO = p.mixing["olivine"]
	m.wustiteCa, okW = p.mixing["wustite"]
	if !okO || !okW {
		return nil, fmt.Errorf("melt model: the mixing energy of olivine or wustite is missing")
	}
	m.refs = newReferences(m)
	return m, nil
}
