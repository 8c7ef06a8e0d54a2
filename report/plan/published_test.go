package plan

import (
	"context"
	"testing"

	"smeltbook/assay/balance"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/charge"
	"smeltbook/phase/slag"
)

// Levy 1912, Modern Copper Smelting, Table X (seen): a blast furnace gave a slag
// of 46081 t SiO2, 21071 t FeO and 30693 t CaO with 61794 t of lime-rock and 9999
// t of converter slag. Without those two both are solved for from the ratios of
// the slag and the grades. Grades are printed to 0.01 wt%, 3 t of CaO in the
// lime-rock, and tonnages to one: together some 10 t of either.
func TestTwoFluxesOfABlastFurnace(t *testing.T) {
	rows := checkdata.Table(t, "balance/blast_furnace_1912.csv")
	at := func(item, column string) float64 {
		for _, row := range rows {
			if row["item"] == item {
				if row[column] == "" {
					return 0
				}
				return checkdata.Number(t, row[column])
			}
		}
		t.Fatalf("no %s", item)
		return 0
	}
	const lime, converter, slagged = "Lime-rock", "Converter slag", "TO SLAG (printed)"
	material := func(name string, of func(oxide string) float64) balance.Material {
		var parts []chem.Part
		for _, oxide := range []string{"SiO2", "FeO", "CaO"} {
			parts = append(parts, chem.Part{ID: oxide, Quantity: quantity.WithU(of(oxide), 0, "wt%", "")})
		}
		c, err := chem.NewComposition(parts...)
		if err != nil {
			t.Fatal(err)
		}
		return balance.Material{Name: name, Kind: "flux", Mass: quantity.WithU(1, 0, "kg", ""), Composition: c}
	}
	const rest = 100_000.0 // t, to state the tonnages of all else as wt%
	stocks := []balance.Material{
		material("all else", func(oxide string) float64 {
			return 100 / rest * (at(slagged, oxide+"_t") - at(lime, oxide+"_t") - at(converter, oxide+"_t"))
		}),
		material(lime, func(oxide string) float64 { return at(lime, oxide+"_pct") }),
		material(converter, func(oxide string) float64 { return at(converter, oxide+"_pct") }),
	}
	how := balance.Usual()
	for _, q := range []*quantity.Quantity{&how.CopperInSlag, &how.SlagSulphur, &how.IronToMetal} {
		*q = quantity.WithU(0, 0, q.Unit, "")
	}
	how.Draws = 1
	trials, err := balance.NewTrials(stocks, how)
	if err != nil {
		t.Fatal(err)
	}
	ratio := func(over slag.Oxide) charge.Term {
		x := at(slagged, over.String()+"_t") / at(slagged, "SiO2_t")
		return charge.Term{Of: charge.Ratio, Over: over, Under: slag.SiO2, Lo: x, Hi: 1.01 * x}
	}
	p := charge.Problem{Ores: []charge.Bound{{Lo: 1, Hi: 1}}, Fluxes: []charge.Bound{{Hi: 2}, {Hi: 1}}, Target: []charge.Term{ratio(slag.CaO), ratio(slag.FeO)}}
	p.Slag = func(kg []float64) (slag.Wt, float64, error) {
		y, err := trials.Give(0, kg)
		return wtOf(y), kg[1] + kg[2], err
	}
	got, err := p.Solve(context.Background())
	if err != nil || !got.Verdict.Met() {
		t.Fatalf("%v %+v", err, got.Verdict)
	}
	checkdata.Near(t, "t of "+lime, rest*got.Kg[1], at(lime, "tons"), 10)
	checkdata.Near(t, "t of "+converter, rest*got.Kg[2], at(converter, "tons"), 10)
}
