package fireplan

import "smeltbook/assay/quantity"

// Record is a plan for programs; its keys end in their unit.
type Record struct {
	Title         string   `json:"title"`
	Runs          bool     `json:"runs"`
	FailsFirst    string   `json:"fails_first"`
	LoadKg        float64  `json:"load_kg"`
	LoadFrom      string   `json:"load_from"`
	LoadHeatMJ    float64  `json:"load_heat_mj"`
	WorkingC      float64  `json:"working_c"`
	HotC          *float64 `json:"hot_c"`
	HotSD         *float64 `json:"hot_sd_c"`
	HotEnough     float64  `json:"hot_enough_share"`
	BedC          *float64 `json:"bed_c"`
	BedSD         *float64 `json:"bed_sd_c"`
	FloorC        *float64 `json:"floor_c"`
	Ratio         *float64 `json:"co_co2"`
	RatioLow      *float64 `json:"co_co2_low"`
	RatioHigh     *float64 `json:"co_co2_high"`
	HeatUpMin     *float64 `json:"heat_up_min"`
	HotMin        *float64 `json:"hot_min"`
	HotMinLow     *float64 `json:"hot_low_min"`
	HotMinHigh    *float64 `json:"hot_high_min"`
	ChargingH     float64  `json:"charging_h"`
	TotalH        float64  `json:"total_h"`
	RateKgH       float64  `json:"rate_kg_h"`
	MostKgH       float64  `json:"most_kg_h"`
	CharcoalKgH   *float64 `json:"charcoal_kg_h"`
	CharcoalKgHSD *float64 `json:"charcoal_sd_kg_h"`
	BurntKg       *float64 `json:"burnt_kg"`
	BurntSD       *float64 `json:"burnt_sd_kg"`
	ReadyKg       *float64 `json:"charcoal_kg"`
	ReadySD       *float64 `json:"charcoal_sd_kg"`
	AirLMin       float64  `json:"air_l_min"`
	NeedLMin      *float64 `json:"air_needed_l_min"`
	SureLMin      *float64 `json:"air_sure_l_min"`
	By            string   `json:"blown_by"`
	Blowers       int      `json:"blowers"`
	Needed        int      `json:"blowers_needed"`
	Sure          int      `json:"blowers_sure"`
	PressurePa    float64  `json:"pressure_pa"`
	BellowsC      float64  `json:"bellows_c"`
	ReleasedW     float64  `json:"released_w"`
	WallW         float64  `json:"wall_w"`
	TopW          float64  `json:"top_w"`
	GasW          float64  `json:"gas_w"`
	ChargeW       float64  `json:"charge_w"`
	WaterW        float64  `json:"water_w"`

	Risks   []RiskRecord  `json:"risks"`
	Sizes   []SizeRecord  `json:"sizes"`
	Effects []EffectShare `json:"effects"`
	Logs    []LogRecord   `json:"logs"`

	Grounds []GroundRecord `json:"grounds"`
	Pipes   []PipeRecord   `json:"pipes"`
	PipeC   []float64      `json:"pipe_c"` // along the pipe, from the fire to the bellows
	Fires   []FireRecord   `json:"wood_fires"`

	Cautions []string `json:"cautions"`
	Assumed  []string `json:"assumed"`
	Warnings []string `json:"warnings"`
	Draws    int      `json:"draws"`
	Seed     uint64   `json:"seed"`
}

// RiskRecord is a risk for programs.
type RiskRecord struct {
	Key    string   `json:"key"`
	Margin *float64 `json:"margin"`
	Stops  bool     `json:"stops"`
	Says   string   `json:"says"`
	Do     string   `json:"do"`
}

// SizeRecord is a bowl of another size.
type SizeRecord struct {
	DiameterCm  float64  `json:"diameter_cm"`
	AirLMin     *float64 `json:"air_l_min"`
	CharcoalKgH *float64 `json:"charcoal_kg_h"`
	LossShare   *float64 `json:"wall_and_top_share"`
}

// EffectShare is what a parameter does to the temperature before the pipe.
type EffectShare struct {
	Key    string  `json:"key"`
	Label  string  `json:"label"`
	Value  float64 `json:"value"`
	U      float64 `json:"u"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"`
	First  float64 `json:"first"`
	Total  float64 `json:"total"`
}

// LogRecord is a past firing's air against its charcoal.
type LogRecord struct {
	Run        string   `json:"run"`
	AirLMin    *float64 `json:"air_l_min"`
	Monoxide   *float64 `json:"co_share"`
	MonoxideSD *float64 `json:"co_share_sd"`
	LeastLMin  *float64 `json:"air_least_l_min"`
	MostLMin   *float64 `json:"air_most_l_min"`
	Holds      bool     `json:"holds"`
}

// GroundRecord is what wall and ground of a kind take after some hours.
type GroundRecord struct {
	Ground string    `json:"ground"`
	Hours  []float64 `json:"after_h"`
	WallW  []float64 `json:"wall_w"`
	DryM   []float64 `json:"dried_m"`
}

// PipeRecord is a way to build the air pipe.
type PipeRecord struct {
	Pieces   int     `json:"pieces"`
	Valve    bool    `json:"valve"`
	HotShare float64 `json:"fire_gas_share"`
	BellowsC float64 `json:"bellows_c"`
	COVolPct float64 `json:"bellows_co_vol_pct"`
	Survives bool    `json:"bellows_survive"`
}

// FireRecord is a fire of wood.
type FireRecord struct {
	Name     string   `json:"name"`
	FlameC   float64  `json:"flame_c"`
	Ratio    *float64 `json:"co_co2"`
	O2VolPct float64  `json:"o2_vol_pct"`
	LogPO2   *float64 `json:"log_po2"`
}

// Record puts a plan into its JSON form.
func (p *Plan) Record() Record {
	s := p.State
	r := Record{Title: p.Title, Runs: p.Runs(), FailsFirst: p.Risks[0].Key, LoadKg: p.Load.Kg, LoadFrom: p.Load.From, LoadHeatMJ: p.Load.HeatMJ, WorkingC: p.WorkingTC,
		HotEnough: p.Spread.HotEnough, FloorC: quantity.OrNull(s.FloorTC), Ratio: quantity.OrNull(s.Ratio()), RatioLow: quantity.OrNull(p.Spread.Ratio.Low), RatioHigh: quantity.OrNull(p.Spread.Ratio.High),
		HeatUpMin: quantity.OrNull(p.HeatUpMin), HotMin: quantity.OrNull(p.HotMin.Mean), HotMinLow: quantity.OrNull(p.HotMin.Low), HotMinHigh: quantity.OrNull(p.HotMin.High),
		ChargingH: p.ChargingH, TotalH: p.TotalH, RateKgH: p.RateKgH, MostKgH: p.MostKgH, AirLMin: p.Furnace.Air.Normal, NeedLMin: quantity.OrNull(p.NeedAir), SureLMin: quantity.OrNull(p.SureAir),
		By: p.Blower.Kind, Blowers: p.Blower.Number, Needed: p.Need, Sure: p.Sure, PressurePa: p.Pressure, BellowsC: p.Backdraw.BellowsTC,
		ReleasedW: s.Released, WallW: s.Wall, TopW: s.Top, GasW: s.GasOff, ChargeW: s.Charge, WaterW: s.Water,
		Cautions: p.Cautions, Assumed: p.Assumed, Warnings: []string{}, Logs: []LogRecord{}, Draws: p.Spread.Draws, Seed: p.Seed}
	r.HotC, r.HotSD = p.Spread.HotTC.OrNull()
	r.BedC, r.BedSD = p.Spread.BedTC.OrNull()
	r.CharcoalKgH, r.CharcoalKgHSD = p.Spread.CharcoalKgH.OrNull()
	r.BurntKg, r.BurntSD = p.Burnt.OrNull()
	r.ReadyKg, r.ReadySD = p.Charcoal.OrNull()
	for _, x := range p.Risks {
		r.Risks = append(r.Risks, RiskRecord{x.Key, quantity.OrNull(x.Margin), x.Stops, x.Says, x.Do})
	}
	for _, x := range p.Sizes {
		r.Sizes = append(r.Sizes, SizeRecord{100 * x.Diameter, quantity.OrNull(x.Air), quantity.OrNull(x.CharcoalKgH), quantity.OrNull(x.LossShare)})
	}
	r.Effects = p.Effects()
	for _, x := range p.Logs {
		l := LogRecord{Run: x.Run, AirLMin: quantity.OrNull(x.Air.Value), LeastLMin: quantity.OrNull(x.Budget.Least.Value), MostLMin: quantity.OrNull(x.Budget.Most.Value), Holds: x.Budget.Holds}
		l.Monoxide, l.MonoxideSD = x.Budget.Monoxide.OrNull()
		r.Logs = append(r.Logs, l)
	}
	r.PipeC = p.Backdraw.Along
	for _, x := range p.Grounds {
		r.Grounds = append(r.Grounds, GroundRecord{x.Name, Hours(), x.Watts, x.Dried})
	}
	r.Pipes = []PipeRecord{}
	for _, x := range p.Pipes {
		r.Pipes = append(r.Pipes, PipeRecord{x.Pieces, x.Valve, x.Share, x.BellowsTC, 100 * x.Monoxide, x.Survives})
	}
	for _, x := range p.Fires {
		r.Fires = append(r.Fires, FireRecord{x.Name, x.TC, quantity.OrNull(x.Ratio), 100 * x.Free, quantity.OrNull(x.LogPO2)})
	}
	for _, n := range p.Notices {
		r.Warnings = append(r.Warnings, n.Error())
	}
	return r
}
