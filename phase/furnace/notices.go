package furnace

import "smeltbook/assay/source"

// Notices tells where a solved furnace lies outside of what the models hold for.
func (f Furnace) Notices(s State) source.Notices {
	var ns source.Notices
	warn := func(code, format string, args ...any) {
		ns.Add(source.Warning, code, source.Cell{}, format, args...)
	}
	if s.BurnShare > 0.8 {
		warn("BLOWN_THROUGH", "the burning zone would take %.0f %% of the bed that the gas passes, so air blows through and its oxygen meets ore and copper; heap more charcoal, break it smaller or blow less", 100*s.BurnShare)
	}
	if s.HotTC() < 900 {
		warn("BARELY_LIT", "at %.0f °C charcoal burns as fast as it reacts, not as air comes, and the balance, which takes all oxygen as used, is too hopeful", s.HotTC())
	}
	if s.HotTC() > 1900 {
		warn("DISSOCIATION", "at %.0f °C carbon dioxide falls apart, which is left out; the fire is colder than this", s.HotTC())
	}
	if d := f.Bowl.Diameter; d < 0.15 || d > 0.8 {
		warn("SIZE_OUTSIDE", "a bowl %.0f cm across lies outside of those that the model was held against (15 to 80 cm)", 100*d)
	}
	if l := f.Fuel.Lump; l < 0.005 || l > 0.06 {
		warn("LUMPS_OUTSIDE", "lumps of %.1f cm lie outside of 0.5 to 6 cm: smaller ones hold up the air, larger ones leave channels", 100*l)
	}
	return ns
}
