package melt

import (
	"fmt"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// remarks says whether w lies in the calibrated range, and what has to be told
// beside its liquidus.
func remarks(w slag.Wt, l Liquidus) (inRange bool, ns source.Notices) {
	b, leftOut := basis(w)
	given := w.Normalise()
	add := func(s source.Severity, code, format string, args ...any) {
		ns.Add(s, code, source.Cell{}, format, args...)
	}
	ironRemark(given, b, add)
	if text := leftOutText(w); text != "" {
		add(source.Warning, "LIQUIDUS_OXIDES_LEFT_OUT", "the liquidus model does not know %s; the liquidus is that of the rest", text)
	}
	if t, p := b[slag.TiO2], b[slag.P2O5]; t+p > presence/2 {
		add(source.Note, "LIQUIDUS_DILUENTS", "TiO2 (%.1f wt%%) and P2O5 (%.1f wt%%) count as ideal diluents: no mineral of theirs is in the model and their effect is good to about ±%.0f °C", t, p, diluentError*(t+p))
	}
	if z := b[slag.ZnO]; z > presence {
		add(source.Note, "LIQUIDUS_ZINC", "ZnO (%.1f wt%%) is calibrated on ZnO–SiO2 alone; no mineral but willemite and zincite takes it up", z)
	}
	out := beyond(b, leftOut)
	if len(out) > 0 {
		add(source.Warning, "LIQUIDUS_OUT_OF_RANGE", "outside the calibrated range of the liquidus model: %s; treat the temperature as a rough guess", strings.Join(out, "; "))
	}
	weakSpots(b, l, add)
	return len(out) == 0, ns
}

type addNotice func(s source.Severity, code, format string, args ...any)

// ironRemark tells what the model assumes of iron.
func ironRemark(given, b slag.Wt, add addNotice) {
	switch {
	case given[slag.Fe2O3] > 0 && given[slag.FeO] == 0:
		add(source.Warning, "LIQUIDUS_FERRIC_IRON", "all iron is stated as Fe2O3 (%.1f wt%%) and was taken as a total, restated as FeO; with FeO and Fe2O3 apart, or an oxygen potential, magnetite could be told", given[slag.Fe2O3])
	case b[slag.Fe2O3] > 0:
		add(source.Note, "LIQUIDUS_FERRIC_IRON", "Fe2O3 (%.1f wt%%) counts as ferric iron of the melt, which rests on few and rough points; an analysis of cold slag also records what the air did to it on cooling and in the ground", b[slag.Fe2O3])
	case b[slag.FeO] >= presence:
		add(source.Note, "LIQUIDUS_FERRIC_IRON", "all iron is taken as FeO, as in a melt that touches metallic iron; a slag that holds magnetite starts to crystallise at a higher temperature")
	}
}

// diluentError is how far off the effect of an uncalibrated diluent may be, in
// °C per wt%: a judgement.
const diluentError = 10.0

// leftOutText lists the unknown oxides above 1 wt%, or their sum where only
// together they exceed it; empty where they do not matter.
func leftOutText(w slag.Wt) string {
	w = restated(w).Normalise()
	known := map[slag.Oxide]bool{}
	for _, m := range modelled {
		known[m.oxide] = true
	}
	var list, small []string
	var sum float64
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if known[o] || w[o] == 0 {
			continue
		}
		sum += w[o]
		small = append(small, o.String())
		if w[o] > presence {
			list = append(list, fmt.Sprintf("%v (%.1f wt%%)", o, w[o]))
		}
	}
	switch {
	case len(list) > 0:
		return strings.Join(list, ", ")
	case sum > presence:
		return fmt.Sprintf("%s (%.1f wt%% together)", strings.Join(small, ", "), sum)
	}
	return ""
}

// weakSpots tells where the model is known to miss, and by how much at the
// points it was fitted to.
func weakSpots(b slag.Wt, l Liquidus, add addNotice) {
	sio2, feo, cao, al2o3, mgo := b[slag.SiO2], b[slag.FeO], b[slag.CaO], b[slag.Al2O3], b[slag.MgO]
	if l.TwoLiquids {
		add(source.Warning, "LIQUIDUS_TWO_LIQUIDS", monotecticNote)
	}
	if al2o3 > 15 {
		add(source.Warning, "LIQUIDUS_ALUMINA_RICH", "with %.0f wt%% Al2O3 the model comes out up to 70 °C high where anorthite, mullite or spinel come together with silica, and is no better than ±80 °C towards corundum", al2o3)
	}
	if l.First == Anorthite && al2o3 <= 15 {
		add(source.Note, "LIQUIDUS_ANORTHITE_EARLY", "with silica and little alumina anorthite comes out 35–70 °C high, so olivine, pyroxene or spinel may come first in its place")
	}
	if within(sio2, 27, 37) && within(cao, 22, 36) && within(feo, 28, 50) {
		add(source.Warning, "LIQUIDUS_NEAR_CAFESIO4", "around CaFeSiO4 the model is about 40 °C low, and calcium silicates and olivine lie within a few degrees: read the first mineral as olivine or dicalcium silicate")
	}
	if within(sio2, 42, 48) && cao > 48 {
		add(source.Warning, "LIQUIDUS_LIME_SILICATE_STEEP", "near 44–46 wt%% SiO2 on the lime side the dicalcium silicate liquidus is about 40 °C high and rises by about 60 °C per wt%%")
	}
	if within(sio2, 18, 26) && within(cao, 5, 15) && feo > 55 {
		add(source.Note, "LIQUIDUS_WUSTITE_OLIVINE", "the boundary of wüstite and olivine inside CaO–FeO–SiO2 comes out about 45 °C high")
	}
	if b[slag.Fe2O3] > 2 && (l.First == Magnetite || isNear(l, Magnetite)) {
		add(source.Note, "LIQUIDUS_MAGNETITE", "magnetite in silicate melts rests on few and rough points, at most of which the model comes out 40 °C high or more")
	}
	if l.First == Pyroxene && mgo < presence {
		add(source.Note, "LIQUIDUS_PYROXENE_LIKE", "the data behind pyroxene without MgO are nominal: read it as a pyroxene-like silicate")
	}
	if mgo > presence && (l.First == Melilite || isNear(l, Melilite)) && (l.First == Pyroxene || isNear(l, Pyroxene)) {
		add(source.Note, "LIQUIDUS_MELILITE_PYROXENE", "where melilite meets pyroxene the model comes out up to 30 °C high")
	}
	if mgo > 6 && (l.First.silica() || l.First == Wustite || l.First == Olivine && b[slag.FeO] > 20) {
		add(source.Warning, "LIQUIDUS_MAGNESIA_STEEP", "with this much MgO beside FeO the model may be 60 °C high, and at the periclase liquidus more")
	}
	if alkali := b[slag.K2O] + b[slag.Na2O]; alkali > 3 {
		add(source.Warning, "LIQUIDUS_ALKALI", "with %.1f wt%% of alkalis the effect of potassium and sodium beside lime, magnesia and ferric iron is hardly calibrated; between diopside and leucite the model is 140 °C low, between anorthite and leucite far too high", alkali)
	}
}

func within(x, lo, hi float64) bool { return x >= lo && x <= hi }

func isNear(l Liquidus, p Phase) bool {
	for _, q := range l.Near {
		if q.Phase == p {
			return true
		}
	}
	return false
}
