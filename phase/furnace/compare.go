package furnace

// GroundCourse is what wall and ground of a kind take at some times.
type GroundCourse struct {
	Name  string    // dry, damp, wet
	Watts []float64 // at each time
	Dried []float64 // m of ground behind the lining that are dry by then
}

// Grounds compares dry, damp and wet ground under the firing's fire at some
// hours (rising) after lighting. The flow is that of Conduct, brought to the
// wall of this firing by what it takes in the middle of charging.
func (o Firing) Grounds(hours []float64) ([]GroundCourse, error) {
	f := o.Furnace
	at := func(ground Earth, times []float64) ([]Drying, error) {
		return Conduct(f.Bowl.Radius(), f.Bowl.Lining, f.Lining, ground, faceTC, f.AmbientTC, times)
	}
	own, err := at(f.Ground, []float64{3600 * f.Hours})
	if err != nil {
		return nil, err
	}
	scale := o.State.Wall / own[0].Watts
	times := make([]float64, len(hours))
	for i, h := range hours {
		times[i] = 3600 * h
	}
	kinds := Grounds()
	var out []GroundCourse
	for _, name := range []string{"dry", "damp", "wet"} {
		ds, err := at(kinds[name], times)
		if err != nil {
			return nil, err
		}
		c := GroundCourse{Name: name}
		for _, d := range ds {
			c.Watts = append(c.Watts, scale*d.Watts)
			c.Dried = append(c.Dried, max(d.DriedM-f.Bowl.Lining, 0))
		}
		out = append(out, c)
	}
	return out, nil
}

// PipeChoice is a way to build the air pipe and what it does to the bellows.
type PipeChoice struct {
	Pieces int
	Valve  bool
	Backdraw
}

// usualGap is that of a pipe in two pieces where the plan has none, m.
const usualGap = 0.03

// Pipes compares a pipe in one piece and in two, without and with a valve at the
// bellows, under the firing's fire; nothing for what draws nothing back.
func (o Firing) Pipes() ([]PipeChoice, error) {
	if o.Blower.Kind != "bag" && o.Blower.Kind != "piston" {
		return nil, nil
	}
	var out []PipeChoice
	for _, pieces := range []int{1, 2} {
		for _, valve := range []bool{false, true} {
			p := o.Pipe
			p.Valve = valve
			switch {
			case pieces == 1:
				p.Gap = 0
			case p.Gap == 0:
				p.Gap, p.Mouth = usualGap, 1.8*p.Bore
			}
			b, err := p.Back(o.Blower, o.State.HotTC(), monoxideOf(o.State.Zones[0]), o.Furnace.AmbientTC)
			if err != nil {
				return nil, err
			}
			out = append(out, PipeChoice{pieces, valve, b})
		}
	}
	return out, nil
}
