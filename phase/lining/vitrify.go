package lining

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
)

// Stage is a stage of vitrification as seen under the scanning microscope.
type Stage string

// The stages after Maniatis & Tite 1981, from cold to hot.
const (
	NoVitrification Stage = "no_vitrification"
	Initial         Stage = "initial"         // IV
	Extensive       Stage = "extensive"       // V
	ContinuousFine  Stage = "continuous_fine" // CV with fine bloating
	Coarse          Stage = "coarse"          // CV with medium and coarse bloating
)

// Stages returns all stages from cold to hot.
func Stages() []Stage {
	return []Stage{NoVitrification, Initial, Extensive, ContinuousFine, Coarse}
}

// Atmosphere is that in which a clay was fired.
type Atmosphere string

// The two kinds of firing.
const (
	Oxidising Atmosphere = "oxidising"
	Reducing  Atmosphere = "reducing"
)

// Band is a range of temperature in °C; an open end is infinite.
type Band struct {
	Lo, Hi  float64
	Blur    float64 // °C by which each end is unsure
	Source  string
	Notices source.Notices
}

// bandBlur is how sure the ends of the bands are.
const bandBlur = 50.0

// bandEnds holds the temperatures at which each stage begins; the first begins
// anywhere.
var (
	ordinaryOxidising  = [5]float64{math.Inf(-1), 800, 850, 950, 1050}
	ordinaryReducing   = [5]float64{math.Inf(-1), 750, 800, 900, 1000}
	calcareousOxidised = [5]float64{math.Inf(-1), 800, 850, 1050, 1100}
)

// FiredAt returns the band of temperature at which a clay reaches a stage of
// vitrification, after Maniatis & Tite 1981 (table from memory, ±50 °C). It
// fails for a calcareous clay in reduction, of which no band is known.
func FiredAt(stage Stage, calcareous bool, in Atmosphere) (Band, error) {
	ends, err := endsFor(calcareous, in)
	if err != nil {
		return Band{}, err
	}
	for i, s := range Stages() {
		if s != stage {
			continue
		}
		b := Band{Lo: ends[i], Hi: math.Inf(1), Blur: bandBlur, Source: maniatisTite}
		if i+1 < len(ends) {
			b.Hi = ends[i+1]
		}
		if calcareous && stage == Extensive {
			b.Notices.Add(source.Note, "VITRIFICATION_STABLE", source.Cell{},
				"the structure of a calcareous clay hardly changes from 850 to 1050 °C, so this stage dates no closer")
		}
		if calcareous && stage == Coarse {
			b.Notices.Add(source.Note, "VITRIFICATION_COLLAPSE", source.Cell{},
				"a calcareous clay collapses to a melt soon above 1100 °C")
		}
		if stage == ContinuousFine || stage == Coarse {
			b.Notices.Add(source.Note, "VITRIFICATION_REFRACTORY", source.Cell{},
				"siliceous and refractory clays come to these stages later: a crucible clay with 78 wt%% SiO2 bloated finely at 1100 and coarsely at 1200 °C, one with 33 wt%% Al2O3 finely at 1200 °C (Freestone & Tite 1986)")
		}
		return b, nil
	}
	return Band{}, fmt.Errorf("%q is no stage of vitrification; use one of %v", stage, Stages())
}

func endsFor(calcareous bool, in Atmosphere) ([5]float64, error) {
	switch {
	case in != Oxidising && in != Reducing:
		return [5]float64{}, fmt.Errorf("%q is no atmosphere; use %s or %s", in, Oxidising, Reducing)
	case calcareous && in == Reducing:
		return [5]float64{}, fmt.Errorf("no bands of vitrification are known for a calcareous clay fired in reduction; oxidised ones are no guide there")
	case calcareous:
		return calcareousOxidised, nil
	case in == Reducing:
		return ordinaryReducing, nil
	}
	return ordinaryOxidising, nil
}

// StageAt is the inverse of FiredAt: the stage that a clay reaches at a
// temperature in °C.
func StageAt(tc float64, calcareous bool, in Atmosphere) (Stage, error) {
	ends, err := endsFor(calcareous, in)
	if err != nil {
		return "", err
	}
	if math.IsNaN(tc) {
		return "", fmt.Errorf("no temperature was given")
	}
	stage := NoVitrification
	for i, s := range Stages() {
		if tc >= ends[i] {
			stage = s
		}
	}
	return stage, nil
}
