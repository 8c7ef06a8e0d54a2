package redox

import (
	"math"
	"slices"

	"smeltbook/assay/source"
)

const (
	frost        = "Frost 1991, Rev. Mineral. 25:1"
	myersEugster = "Myers & Eugster 1983, Contrib. Mineral. Petrol. 82:75"
	oneill       = "O'Neill 1987, Am. Mineral. 72:67"

	quartzFayaliteIron = "quartz, iron and fayalite"
	reactionQIF        = "2Fe + SiO2 + O2 = Fe2SiO4"
	ironAndWustite     = "iron and wüstite"
	reactionIW         = "2Fe + O2 = 2FeO"
	reactionWM         = "6FeO + O2 = 2Fe3O4"
	reactionMH         = "4Fe3O4 + O2 = 6Fe2O3"
	reactionQFM        = "3Fe2SiO4 + O2 = 2Fe3O4 + 3SiO2"
)

// straight is a line log fO2 = a/T + b. Frost's term of pressure, C(P − 1)/T
// with P in bar, is nothing at the pressure of a furnace.
func straight(id, family, label, reaction, from string, lo, hi, a, b float64) Buffer {
	return Buffer{ID: id, Family: family, Label: label, Reaction: reaction, Source: from, LoC: lo, HiC: hi,
		logFO2: func(T float64) float64 { return a/T + b }}
}

// QuartzFayaliteIron returns the buffer 2Fe + SiO2 + O2 = Fe2SiO4 (QFI, also
// QIF) of O'Neill 1987. Its last piece, from 1184 K, is from memory; it joins
// the one before within 50 J.
func QuartzFayaliteIron() Buffer {
	return Buffer{ID: "qfi", Family: "qfi", Label: quartzFayaliteIron, Reaction: reactionQIF, Source: oneill,
		LoC: 900 - zeroCelsius, HiC: 1420 - zeroCelsius,
		logFO2: func(T float64) float64 {
			ln := math.Log(T)
			switch {
			case T < 1042:
				return fromPotential(-542941-33.182*T+22.446*T*ln, T)
			case T < 1184:
				return fromPotential(-562377+103.384*T+5.4771*T*ln, T)
			}
			return fromPotential(-602739+369.704*T-27.3443*T*ln, T)
		}}
}

// MagnetiteHaematite returns the buffer 4Fe3O4 + O2 = 6Fe2O3 of Frost 1991.
// The source gives no upper end; the melting of its other buffers stands for it.
func MagnetiteHaematite() Buffer {
	return straight("mh", "mh", "magnetite and haematite", reactionMH, frost, 682, 1200, -25700.6, 14.558)
}

// NickelBunsenite returns the buffer 2Ni + O2 = 2NiO (NNO) of Frost 1991.
func NickelBunsenite() Buffer {
	return straight("nno", "nno", "nickel and nickel oxide", "2Ni + O2 = 2NiO", frost, 600, 1200, -24930, 9.36)
}

// Buffers returns every equilibrium once, by the source that is used first,
// from the most reduced to the most oxidised.
func Buffers() []Buffer {
	return []Buffer{QuartzFayaliteIron(), IronWustite(), WustiteMagnetite(), FayaliteMagnetite(), NickelBunsenite(), CopperCuprite(), MagnetiteHaematite()}
}

// Alternatives returns the other sources of the equilibria of Buffers. Those
// of Myers & Eugster lie 0.1 to 0.6 above the lines used first.
func Alternatives() []Buffer {
	return []Buffer{
		straight("qif_frost", "qfi", quartzFayaliteIron, reactionQIF, frost, 573, 840, -29520.8, 7.492),
		straight("qif_myers_eugster", "qfi", quartzFayaliteIron, reactionQIF, myersEugster, 960, 1140, -27517.5, 6.396),
		straight("iw_frost", "iw", ironAndWustite, reactionIW, frost, 565, 1200, -27489, 6.702),
		straight("iw_myers_eugster", "iw", ironAndWustite, reactionIW, myersEugster, 800, 1260, -26834.7, 6.471),
		straight("wm_myers_eugster", "wm", "wüstite and magnetite", reactionWM, myersEugster, 1000, 1300, -36951.3, 16.092),
		FayaliteMagnetiteONeill(),
		straight("qfm_myers_eugster", "qfm", "quartz, fayalite and magnetite", reactionQFM, myersEugster, 600, 1140, -24441.9, 8.290),
		straight("mh_myers_eugster", "mh", "magnetite and haematite", reactionMH, myersEugster, 1040, 1270, -23847.6, 13.480),
	}
}

// AllBuffers returns Buffers and Alternatives, the sources of one equilibrium
// together, the one used first at their head.
func AllBuffers() []Buffer {
	var out []Buffer
	others := Alternatives()
	for _, b := range Buffers() {
		out = append(out, b)
		for _, o := range others {
			if o.Family == b.Family {
				out = append(out, o)
			}
		}
	}
	return out
}

// ByID returns the buffer with the given ID, the standard state of dissolved
// copper included.
func ByID(id string) (Buffer, bool) {
	all := append(AllBuffers(), LiquidCopperOxide())
	i := slices.IndexFunc(all, func(b Buffer) bool { return b.ID == id })
	if i < 0 {
		return Buffer{}, false
	}
	return all[i], true
}

// Spread returns the lowest and the highest log fO2 that the sources of b's
// equilibrium give at a temperature in °C, with a note that names how many
// there are. Sources used outside their range are counted only where none is
// inside.
func (b Buffer) Spread(tc float64) (lo, hi float64, ns source.Notices) {
	var inside, all []float64
	for _, o := range AllBuffers() {
		if o.Family != b.Family {
			continue
		}
		x, bad := o.LogFO2(tc)
		if bad.Failed() {
			return math.NaN(), math.NaN(), bad
		}
		all = append(all, x)
		if tc >= o.LoC && tc <= o.HiC {
			inside = append(inside, x)
		}
	}
	switch {
	case len(all) == 0:
		x, ns := b.LogFO2(tc)
		return x, x, ns
	case len(inside) == 0:
		inside = all
		ns.Add(source.Warning, "BUFFER_RANGE", source.Cell{}, "no source of %s reaches %.0f °C; all are used beyond their range", b.Label, tc)
	}
	ns.Add(source.Note, "BUFFER_SOURCES", source.Cell{}, "%d sources of %s at %.0f °C", len(inside), b.Label, tc)
	return slices.Min(inside), slices.Max(inside), ns
}
