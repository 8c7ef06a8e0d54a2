package dressing

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// TwoProduct are the figures of a stage with two products from assays alone,
// of feed f, concentrate c and tailings t:
//
//	yield     Y = (f − t)/(c − t)
//	recovery  R = c(f − t)/(f(c − t))
//
// with first-order standard uncertainties, the three assays independent. The
// formula takes for granted that nothing was lost. All are pure numbers.
type TwoProduct struct {
	Yield, Recovery quantity.Quantity
	Ratio           quantity.Quantity // of concentration, 1/Y
	Enrichment      quantity.Quantity // c/f
	// Apart is f − t over its standard uncertainty. Where it is small the
	// formula divides one error by another: see Usable.
	Apart   float64
	Notices source.Notices
}

// apartEnough is the number of standard uncertainties by which feed and
// tailings must differ. The relative uncertainty of yield and recovery is about
// one over it, so that below four they are known to no better than a quarter,
// and soon may be negative (our convention).
const apartEnough = 4

// Usable reports whether yield and recovery are known to about a quarter.
func (t TwoProduct) Usable() bool { return t.Apart >= apartEnough }

// FromAssays applies the two-product formula to wt% of one component. It fails
// where an assay is missing or without uncertainty, or the three exclude each
// other.
func FromAssays(feed, concentrate, tailings quantity.Quantity) (TwoProduct, error) {
	f, c, t := feed.Value, concentrate.Value, tailings.Value
	for _, q := range []struct {
		name string
		quantity.Quantity
	}{{"feed", feed}, {"concentrate", concentrate}, {"tailings", tailings}} {
		if !q.HasU() {
			return TwoProduct{}, fmt.Errorf("the %s is not assayed (%s)", q.name, q.Text())
		}
	}
	lo, hi := math.Min(c, t), math.Max(c, t)
	if f <= 0 || c == t || f < lo || f > hi {
		return TwoProduct{}, fmt.Errorf("a feed of %g wt%% lies between no products of %g and %g wt%%", f, c, t)
	}
	uf, uc, ut := feed.U, concentrate.U, tailings.U
	y, r := (f-t)/(c-t), c*(f-t)/(f*(c-t))
	uy := math.Sqrt(sq(uf)+sq(y*uc)+sq((1-y)*ut)) / math.Abs(c-t)
	ur := math.Sqrt(sq(c*t/(f*f*(c-t))*uf) + sq(t*(f-t)/(f*sq(c-t))*uc) + sq(c*(f-c)/(f*sq(c-t))*ut))
	const note = "first order, from the three assays"
	out := TwoProduct{
		Yield: quantity.WithU(y, uy, "1", note), Recovery: quantity.WithU(r, ur, "1", note),
		Enrichment: quantity.WithU(c/f, c/f*math.Hypot(uc/c, uf/f), "1", note),
		Ratio:      quantity.None(quantity.Missing, math.NaN(), "1"),
		Apart:      math.Inf(1),
	}
	if y > 0 {
		out.Ratio = quantity.WithU(1/y, uy/(y*y), "1", note)
	}
	if u := math.Hypot(uf, ut); u > 0 {
		out.Apart = math.Abs(f-t) / u
	}
	if !out.Usable() {
		out.Notices.Add(source.Warning, "DRESSING_UNSTABLE", source.Cell{},
			"feed and tailings differ by %s wt%%, %.1f times the uncertainty of that difference; recovery from assays alone divides by it and cannot be trusted here: weigh the products, or assay feed and tailings more closely",
			quantity.WithU(math.Abs(f-t), math.Hypot(uf, ut), "wt%", "").Text(), out.Apart)
	}
	return out, nil
}

func sq(x float64) float64 { return x * x }

// SeparationEfficiency is the share of the mineral recovered less the share of
// the gangue recovered with it, after Schulz (1970, Transactions SME-AIME
// 247:81; from memory), with the yield as a share and the grade of the pure
// mineral m in the same unit as feed f and concentrate c:
//
//	E = Y·m(c − f)/((m − f)f)
func SeparationEfficiency(yield, feed, concentrate, mineral float64) float64 {
	return yield * mineral * (concentrate - feed) / ((mineral - feed) * feed)
}
