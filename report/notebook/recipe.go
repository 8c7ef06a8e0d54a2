package notebook

import (
	"slices"
	"strconv"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// recipe is the front matter's recipe.
type recipe struct {
	Basis        yaml.Node
	Iron         yaml.Node
	Copper       yaml.Node
	Sulphur      yaml.Node
	Prills       yaml.Node
	Metal        yaml.Node
	BelowLimit   yaml.Node
	LOI          yaml.Node
	Ignited      []yaml.Node
	Prefer       []string
	AcceptTotals []string
	Unreadable   yaml.Node
	Correct      yaml.Node
	Ferric       yaml.Node
	Assume       yaml.Node
}

// metal is what the recipe says of the metal in one sample.
type metal struct {
	Share  *float64 // wt% of the sample
	U      *float64 // standard uncertainty of Share
	Cu     *float64 `yaml:"Cu"` // wt% of the metal
	Fe     *float64 `yaml:"Fe"`
	Sieved bool
}

func (d *decoder) recipe(r recipe) assay.Recipe {
	out := assay.Recipe{Prefer: r.Prefer, AcceptTotals: r.AcceptTotals}
	for i := range r.Ignited {
		if name, ok := d.text(&r.Ignited[i], strconv.Quote("ignited")); ok {
			out.Ignited, out.IgnitedLines = append(out.Ignited, name), append(out.IgnitedLines, r.Ignited[i].Line)
		}
	}
	out.Basis = word(d, &r.Basis, "basis", chem.Reported, chem.LOIFree, chem.Normalised)
	out.Prills = word(d, &r.Prills, "prills", assay.PrillsAsAnalysed, assay.PrillsWithout, assay.PrillsWith)
	out.BelowLimit = word(d, &r.BelowLimit, "below_limit", assay.CountZero, assay.CountHalf, assay.CountLimit)
	out.LOI = word(d, &r.LOI, "loi", assay.LOIMeasured, assay.LOIVolatiles)
	out.UnreadableAsMissing = word(d, &r.Unreadable, "unreadable", "error", "missing") == "missing"
	out.AllFerrous = word(d, &r.Ferric, "ferric", "titrated", "none") == "none"
	out.Iron = byKind(d, &r.Iron, "iron", chem.AsFeO, chem.AsFe2O3)
	out.Copper = byKind(d, &r.Copper, "copper", "Cu", "CuO", "Cu2O")
	out.Sulphur = byKind(d, &r.Sulphur, "sulphur", chem.SulphurForms()...)
	out.Correct = d.corrections(&r.Correct)
	for _, p := range d.optional(&r.Assume, "assume") {
		out.Assume = append(out.Assume, d.assumed(p)...)
	}
	for _, p := range d.optional(&r.Metal, "metal") {
		if m, ok := d.metal(p); ok {
			out.Metal = append(out.Metal, m)
		}
	}
	return out
}

// word reads a word that has to be in the list; empty where none is written.
func word[T ~string](d *decoder, n *yaml.Node, key string, words ...T) T {
	if n.IsZero() {
		return ""
	}
	text, ok := d.oneOf(n, strconv.Quote(key), asStrings(words))
	if !ok {
		return ""
	}
	return T(text)
}

func asStrings[T ~string](words []T) []string {
	var out []string
	for _, w := range words {
		out = append(out, string(w))
	}
	return out
}

// byKind reads a word for each kind of sample. A kind that is a slip of a usual
// one is refused; others may be words of the user's field sheet.
func byKind[T ~string](d *decoder, n *yaml.Node, key string, words ...T) map[string]T {
	var out map[string]T
	kinds := assay.Kinds()
	for _, p := range d.optional(n, key) {
		if near := source.Nearest(p.key, kinds); near != "" && !slices.Contains(kinds, p.key) {
			d.fail(p.line, "UNKNOWN_WORD", "%q under %q is no kind of sample; did you mean %s?", p.key, key, near)
			continue
		}
		text, ok := d.oneOf(p.value, "the "+key+" of "+strconv.Quote(p.key), asStrings(words))
		if !ok {
			continue
		}
		if out == nil {
			out = map[string]T{}
		}
		out[p.key] = T(text)
	}
	return out
}

func (d *decoder) metal(p pair) (assay.SampleMetal, bool) {
	var m metal
	before := len(d.notices)
	name := "the metal of " + strconv.Quote(p.key)
	d.value(p.value, rv(&m), name)
	if len(d.notices) > before {
		return assay.SampleMetal{}, false
	}
	switch {
	case m.Share == nil || m.Cu == nil:
		d.fail(p.line, "WRONG_VALUE", "%s needs its share of the sample and its copper, both in wt%%: {share: 1.4, u: 0.2, Cu: 96, Fe: 3}", name)
		return assay.SampleMetal{}, false
	case !(*m.Share >= 0 && *m.Share < 99), !(*m.Cu >= 0), m.Fe != nil && !(*m.Fe >= 0), m.U != nil && !(*m.U >= 0), *m.Cu+orZero(m.Fe) > 100.5:
		d.fail(p.line, "WRONG_VALUE", "%s is impossible: share, copper and iron are in wt%%, none is negative, and copper and iron are at most 100 together", name)
		return assay.SampleMetal{}, false
	}
	at := source.Line(d.file, p.line)
	share := quantity.New(*m.Share, "wt%", "none: the notebook states none", at)
	if m.U != nil {
		share = quantity.WithU(*m.Share, *m.U, "wt%", "from the notebook", at)
	}
	return assay.SampleMetal{Sample: p.key, Sieved: m.Sieved, Line: p.line, Prills: chem.Prills{
		Metal:  share,
		Copper: quantity.New(*m.Cu, "wt%", "none: the notebook states none", at),
		Iron:   quantity.New(orZero(m.Fe), "wt%", "none: the notebook states none", at),
	}}, true
}

// products are the words for products whose contents can be assumed.
var products = map[string]string{"ingot": assay.Metal, "prills": assay.Prill, "matte": assay.Matte}

// assumed reads what is to be taken for a product that nobody analysed: by
// element a content in wt% and its uncertainty.
func (d *decoder) assumed(p pair) (out []assay.AssumedContent) {
	kind, ok := products[p.key]
	if !ok {
		d.fail(p.line, "UNKNOWN_WORD", "\"assume\" speaks of %q; it takes ingot, prills or matte%s", p.key, source.DidYouMean(p.key, []string{"ingot", "prills", "matte"}))
		return nil
	}
	sum := 0.0
	for _, c := range d.pairs(p.value, strconv.Quote(p.key)) {
		var two []float64
		before := len(d.notices)
		d.value(c.value, rv(&two), strconv.Quote(c.key))
		if len(d.notices) > before {
			continue
		}
		a, known := chem.LookupAnalyte(c.key)
		switch {
		case !known || a.Kind != chem.Element:
			d.fail(c.line, "UNKNOWN_WORD", "%q is no element; write for example Cu: [96, 2]", c.key)
			continue
		case len(two) != 2 || !(two[0] >= 0 && two[0] <= 100) || !(two[1] > 0 && two[1] <= 100):
			d.fail(c.line, "WRONG_VALUE", "%s of %s takes a content in wt%% and its standard uncertainty, as in %s: [96, 2]", c.key, p.key, c.key)
			continue
		}
		sum += two[0]
		out = append(out, assay.AssumedContent{Kind: kind, Element: c.key, Content: quantity.WithU(two[0], two[1], "wt%", "assumed, as the notebook states", source.Line(d.file, c.line))})
	}
	if sum > 100.5 {
		d.fail(p.line, "WRONG_VALUE", "the contents assumed of %s sum to %.4g wt%%; they are 100 at most", p.key, sum)
		return nil
	}
	return out
}

func orZero(x *float64) float64 {
	if x == nil {
		return 0
	}
	return *x
}
