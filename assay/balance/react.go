package balance

import (
	"math"
	"math/rand/v2"
	"slices"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// slagOxides are the oxides that neither copper nor gas takes (common
// practice); iron is reckoned apart.
var slagOxides = [...]string{"SiO2", "TiO2", "Al2O3", "MnO", "MgO", "CaO", "Na2O", "K2O", "P2O5", "BaO", "SrO", "ZrO2", "Cr2O3", "V2O5", "SnO2"}

// alkali tells which of slagOxides leave in part with the gas.
var alkali = func() (out [len(slagOxides)]bool) {
	for i, id := range slagOxides {
		out[i] = id == "Na2O" || id == "K2O"
	}
	return out
}()

// slagParts are what a slag is stated in: its oxides, FeO, Cu2O and S.
var slagParts = append(slagOxides[:], "FeO", "Cu2O", "S")

// slagKg is kg of each of slagParts.
type slagKg [len(slagOxides) + 3]float64

const (
	atFeO = len(slagOxides) + iota
	atCu2O
	atS
)

// of is the weight of a part by its formula; 0 where it is none of slagParts.
func (p *slagKg) of(id string) float64 {
	if i := slices.Index(slagParts, id); i >= 0 {
		return p[i]
	}
	return 0
}

// melting is a material as numbers: kg dried, and contents with their standard
// uncertainties as shares of one.
type melting struct {
	weighed     float64 // kg with its moisture
	weighedU    float64
	dry         float64 // kg of one kg weighed
	dryU        float64
	at          []int // places of the oxides in slagOxides
	oxide       []float64
	oxideU      []float64
	cu, fe, s   float64
	cuU, feU, u float64 // u is that of sulphur
}

func meltingOf(m Material) melting {
	out := melting{weighed: m.Mass.Value, weighedU: known(m.Mass.U), dry: 1 - m.Moisture.Or(0)/100}
	if m.Moisture.HasU() {
		out.dryU = m.Moisture.U / 100
	}
	c := m.Composition.AsOxides(chem.AsFeO)
	for at, id := range slagOxides {
		q, ok := c.Get(id)
		if !ok || !c.Counts(id) {
			continue
		}
		x, u := content(q)
		out.at, out.oxide, out.oxideU = append(out.at, at), append(out.oxide, x/100), append(out.oxideU, u/100)
	}
	share := func(element string) (x, u float64) {
		q, _ := m.Composition.OfElement(element)
		x, u = content(q)
		return x / 100, u / 100
	}
	out.cu, out.cuU = share("Cu")
	out.fe, out.feU = share("Fe")
	out.s, out.u = share("S")
	return out
}

// content is the number that a balance takes for a part in wt%: below a limit
// it may be anything up to it with the same chance (JCGM 100:2008, 4.3.7), and
// what was not analysed counts as none.
func content(q quantity.Quantity) (x, u float64) {
	switch {
	case q.Known():
		return q.Value, known(q.U)
	case q.Class.Censored() && q.Limit > 0:
		return q.Limit / 2, q.Limit / math.Sqrt(12)
	}
	return 0, 0
}

// known is a standard uncertainty, 0 where there is none.
func known(u float64) float64 {
	if math.IsNaN(u) {
		return 0
	}
	return u
}

func (m melting) draw(r *rand.Rand) melting {
	out := m
	out.weighed = drawn(r, m.weighed, m.weighedU, math.Inf(1))
	out.dry = drawn(r, m.dry, m.dryU, 1)
	out.oxide = slices.Clone(m.oxide)
	for i := range out.oxide {
		out.oxide[i] = drawn(r, m.oxide[i], m.oxideU[i], 1)
	}
	out.cu, out.fe, out.s = drawn(r, m.cu, m.cuU, 1), drawn(r, m.fe, m.feU, 1), drawn(r, m.s, m.u, 1)
	return out
}

// drawn is a normal draw held between zero and the most that can be.
func drawn(r *rand.Rand, x, u, most float64) float64 {
	return min(max(x+u*r.NormFloat64(), 0), most)
}

// conduct is a behaviour as numbers.
type conduct struct{ slagCu, sulphur, slagS, alkalis, iron float64 }

func (h Behaviour) central() conduct {
	return conduct{h.CopperInSlag.Value / 100, h.SulphurKept.Value, h.SlagSulphur.Value / 100, h.AlkalisKept.Value, h.IronToMetal.Value}
}

func (h Behaviour) draw(r *rand.Rand) conduct {
	one := func(q quantity.Quantity, most float64) float64 { return drawn(r, q.Value, known(q.U), most) }
	return conduct{one(h.CopperInSlag, 60) / 100, one(h.SulphurKept, 1), one(h.SlagSulphur, 10) / 100, one(h.AlkalisKept, 1), one(h.IronToMetal, 1)}
}

// products are the masses in kg that a charge gives.
type products struct {
	charged                  float64 // with moisture
	cu                       float64
	sulphur                  float64   // that does not burn
	oxides                   slagKg    // of the slag
	from                     []float64 // oxides of each material, without copper
	slag, slagCu, slagS      float64
	metalCu, metalFe         float64
	matteCu, matteFe, matteS float64
}

// react does the stoichiometry of Predict.
func react(in []melting, how conduct) products {
	p := products{from: make([]float64, len(in))}
	var fe, s float64
	for _, m := range in {
		kg := m.weighed * m.dry
		p.charged += m.weighed
		p.cu += kg * m.cu
		fe += kg * m.fe
		s += kg * m.s * how.sulphur
	}
	p.sulphur = s
	brought := p.bring(in, how)
	// The slag's sulphur hangs on its weight and its weight, through the iron
	// that the matte takes, on its sulphur: a few rounds settle it.
	for range 20 {
		p.matte(s-p.slagS, fe)
		p.metalFe = how.iron * (fe - p.matteFe)
		oxides := p.withIron(in, brought, fe)
		p.slagCu = min(how.slagCu*oxides/(1-how.slagCu*cu2oPerCu-how.slagS), p.cu-p.matteCu)
		before := p.slag
		p.slag = (oxides + p.slagCu*cu2oPerCu) / (1 - how.slagS)
		p.slagS = min(how.slagS*p.slag, s)
		p.slag = oxides + p.slagCu*cu2oPerCu + p.slagS
		if math.Abs(p.slag-before) < 1e-12*p.slag {
			break
		}
	}
	p.oxides[atCu2O], p.oxides[atS] = p.slagCu*cu2oPerCu, p.slagS
	p.metalCu = p.cu - p.matteCu - p.slagCu
	return p
}

// notices tell what is odd about the products.
func (p *products) notices() (ns source.Notices) {
	if p.sulphur-p.slagS-p.matteS > 1e-9*p.sulphur {
		ns.Add(source.Warning, "SULPHUR_LEFT", source.Cell{},
			"there is more sulphur than copper and iron can bind; it is taken to burn")
	}
	if p.metalCu <= 0 && p.cu > 0 {
		ns.Add(source.Warning, "NO_METAL", source.Cell{},
			"matte and slag hold all the copper of this charge: no metal is to be expected; roast the ore, or charge more of it")
	}
	return ns
}

// bring adds up the oxides that the materials bring to the slag, iron left out,
// and returns the sum of each material.
func (p *products) bring(in []melting, how conduct) []float64 {
	brought := make([]float64, len(in))
	for i, m := range in {
		kg := m.weighed * m.dry
		for k, at := range m.at {
			x := kg * m.oxide[k]
			if alkali[at] {
				x *= how.alkalis
			}
			p.oxides[at] += x
			brought[i] += x
		}
	}
	return brought
}

// withIron adds the iron that goes neither to matte nor to metal, as FeO, to
// what the materials brought, and returns the sum of all.
func (p *products) withIron(in []melting, brought []float64, fe float64) (sum float64) {
	slagFe := fe - p.matteFe - p.metalFe
	for i, m := range in {
		p.from[i] = brought[i]
		if fe > 0 {
			p.from[i] += slagFe * feoPerFe * (m.weighed * m.dry) * m.fe / fe
		}
		sum += p.from[i]
	}
	p.oxides[atFeO] = slagFe * feoPerFe
	return sum
}

// matte binds sulphur (kg) to copper as Cu2S and, where that does not suffice,
// to iron as FeS.
func (p *products) matte(s, fe float64) {
	p.matteCu = min(s*cuPerS, p.cu)
	left := max(s-p.matteCu/cuPerS, 0)
	p.matteFe = min(left*fePerS, fe)
	p.matteS = p.matteCu/cuPerS + p.matteFe/fePerS
}
