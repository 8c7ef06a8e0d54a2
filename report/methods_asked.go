package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/report/study"
)

// variable returns a variable of the study and remembers that it was asked for,
// for the methods tell of it then.
func (b *builder) variable(key string) (study.Variable, error) {
	v, err := b.study.Variable(key)
	if err == nil && !slices.Contains(b.asked, key) {
		b.asked = append(b.asked, key)
	}
	return v, err
}

// askedFor lists the variables that entries and prose ask for.
func (b *builder) askedFor() []string {
	return slices.Concat(b.asked, b.notebook.Variables())
}

// asks tells whether a variable is asked for by one of the keys, at whatever
// temperature; a key that ends in _ stands for all that begin so.
func (b *builder) asks(keys ...string) bool {
	return slices.ContainsFunc(b.askedFor(), func(asked string) bool {
		asked, _, _ = strings.Cut(asked, "@")
		return slices.ContainsFunc(keys, func(k string) bool {
			return asked == k || strings.HasSuffix(k, "_") && strings.HasPrefix(asked, k)
		})
	})
}

// temperatures lists those for which variables are asked that hold at one, "at
// 1200 and 1250 °C".
func (b *builder) temperatures(keys ...string) []string {
	var out []string
	for _, asked := range b.askedFor() {
		key, tc, stated := strings.Cut(asked, "@")
		if !slices.ContainsFunc(keys, func(k string) bool { return key == k || strings.HasSuffix(k, "_") && strings.HasPrefix(key, k) }) {
			continue
		}
		if !stated {
			tc = fmt.Sprintf("%g", b.study.Conditions.TC)
		}
		if text := tc + " °C"; !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	slices.Sort(out)
	return out
}

// The variables that a topic of the methods is about.
var (
	freezingKeys = []string{"t_90_molten", "t_half_molten", "solidus"}
	formKeys     = []string{"cu_as_", "cu_unreduced_"}
	oxygenKeys   = []string{"log_fo2_"}
	wallKeys     = []string{"flux_sum", "alkali_sum", "alkali_flux", "al2o3_flux", "sio2_al2o3", "k2o_al2o3", "tio2_al2o3", "schuen_c", "bischof_quotient"}
)

// What of the models was used.
func (b *builder) usesViscosity() bool {
	return len(b.flowAt) > 0 || b.asks("viscosity") || b.forms.levers
}
func (b *builder) usesDensity() bool {
	return len(b.flowAt) > 0 || b.asks("density") || b.forms.levers
}
func (b *builder) usesSettling() bool { return len(b.flowAt) > 0 || b.forms.levers }
func (b *builder) usesCrystals() bool { return b.usesViscosity() && b.study.CountsCrystals() }
func (b *builder) usesFreezing() bool {
	return b.used["melting"] || b.asks(freezingKeys...) || b.usesCrystals()
}
func (b *builder) usesLiquidus() bool {
	return b.used["melting"] || b.used["ternary"] || b.asks(study.Liquidus) || b.usesFreezing()
}
func (b *builder) usesOxygen() bool    { return len(b.redoxAt) > 0 || b.asks(oxygenKeys...) }
func (b *builder) usesDissolved() bool { return len(b.copperAt) > 0 || b.usesForms() || b.usesOxygen() }
func (b *builder) usesForms() bool     { return b.forms.split || b.asks(formKeys...) }
func (b *builder) usesWall() bool      { return len(b.linings) > 0 || b.asks(wallKeys...) }

// usesIndices lists the indices that were asked for.
func (b *builder) usesIndices() []string {
	var out []string
	for _, v := range study.Indices() {
		if b.asks(v.Key) {
			out = append(out, v.Key)
		}
	}
	return out
}

// usesMelt tells whether a slag was brought to the melt basis.
func (b *builder) usesMelt() bool {
	return b.usesLiquidus() || b.usesViscosity() || b.usesDensity() || b.usesDissolved() || b.asks("ferric_share") || len(b.usesIndices()) > 0
}
