package firing

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// scale turns a reading into °C.
type scale struct {
	unit string
	add  float64
	by   float64
}

func (s scale) celsius(x float64) float64 { return (x + s.add) * s.by }

var scales = map[string]scale{
	"c": {"°C", 0, 1}, "f": {"°F", -32, 5. / 9}, "k": {"K", -273.15, 1},
}

var (
	unitEnd     = regexp.MustCompile(`(?i)[\s_,]+(?:°\s*|deg(?:rees|\.)?\s*)?([CFK]|celsius|fahrenheit|kelvin)$`)
	channelName = regexp.MustCompile(`(?i)^(?:t|tc|ch|chan|channel|couple|temp|temperature|thermocouple|probe|sensor)[\s._-]*\d*$`)
	ownJunction = regexp.MustCompile(`(?i)cold junction|\bcjc?\b|internal|board|ambient|battery`)
	typeInName  = regexp.MustCompile(`(?i)\btype[\s:=]+([A-Z])\b`)
	titleUnit   = regexp.MustCompile(`(?i)(?:°\s*|\bdeg(?:rees|\.)?\s*)([CF])\b|\b(celsius|fahrenheit)\b`)
)

// scaleOf reads a unit of temperature.
func scaleOf(unit string) (scale, bool) {
	u := strings.ToLower(strings.NewReplacer("°", "", "º", "", "degrees", "", "deg", "", ".", "", " ", "", "celsius", "c", "fahrenheit", "f", "kelvin", "k").Replace(strings.ToLower(unit)))
	s, ok := scales[u]
	return s, ok
}

// track is a column of temperatures.
type track struct {
	field int
	scale scale
	ch    Channel
}

// tracks finds the columns of temperatures. A column that is named like a
// channel and has no unit takes the unit that the lines above the table state.
func (r *reader) tracks(t *sheet.Records, m timing) []track {
	var out []track
	title := strings.Join(t.Title, " ")
	for i, f := range t.Fields {
		if i == m.time || i == m.date || strings.Contains(f.Name, "±") {
			continue
		}
		at := source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref}
		name := strings.TrimSpace(f.Name)
		s, ok := scaleOf(f.Unit)
		if !ok && f.Unit == "" {
			if g := unitEnd.FindStringSubmatch(name); g != nil {
				if s, ok = scaleOf(g[1]); ok {
					name = strings.TrimSpace(strings.TrimSuffix(name, g[0]))
				}
			}
		}
		if !ok && f.Unit == "" && channelName.MatchString(name) {
			g := titleUnit.FindStringSubmatch(title)
			if g == nil {
				r.notices.Add(source.Error, "LOG_UNIT", at, "this column of temperatures has no unit; write it in the heading: %s (°C)", name)
				continue
			}
			s, ok = scaleOf(g[1] + g[2])
		}
		if !ok {
			continue
		}
		if ownJunction.MatchString(name) {
			r.notices.Add(source.Note, "LOG_NOT_FURNACE", at, "%q is the logger's own temperature or that of the air, and was left out", name)
			continue
		}
		ch := Channel{Name: name, Unit: s.unit, At: at}
		for _, text := range []string{name, title} {
			if g := typeInName.FindStringSubmatch(text); g != nil && ch.Couple == "" {
				if c := Couple(strings.ToUpper(g[1])); couples[c].top > 0 {
					ch.Couple = c
				}
			}
		}
		if s.unit != "°C" {
			r.notices.Add(source.Note, "LOG_CONVERTED", at, "%q is in %s and was converted to °C", name, s.unit)
		}
		out = append(out, track{i, s, ch})
	}
	return out
}

// coldest is the least that a couple in a field furnace can show; loggers
// write lower numbers for an open circuit.
const coldest = -50

// take adds the entry of a row to a channel.
func (r *reader) take(k *track, at float64, c sheet.RecordCell) {
	x, known := c.Value, c.Class == quantity.Measured
	if !known && !c.Empty() {
		x, known = withUnit(c.Text)
	}
	fault := func(why string) {
		k.ch.Faults = append(k.ch.Faults, Fault{Min: at, Text: c.Text, Why: why, At: c.At})
	}
	top := 1820.0 // of all types
	if k.ch.Couple != "" {
		top = k.ch.Couple.Top()
	}
	switch {
	case known:
		tc := k.scale.celsius(x)
		switch {
		case !(tc >= coldest):
			fault("open circuit")
		case tc > top || x == 9999:
			fault("open circuit or beyond the couple's table")
		default:
			k.ch.Readings = append(k.ch.Readings, Reading{Min: at, C: tc, At: c.At})
		}
	case c.Class == quantity.Missing: // nothing read is a gap, no fault
	case faultWord(c.Text):
		fault("open circuit")
	default:
		r.tell("LOG_NUMBER", c.At, source.Error, "%q is no temperature; write a number, or leave the cell empty where nothing was read", c.Text)
	}
}

// withUnit reads "845 °C": a number with its unit in the cell, in the unit of
// the column.
func withUnit(text string) (float64, bool) {
	s := strings.TrimSpace(strings.TrimRight(strings.TrimSpace(text), "°ºCcFf "))
	if s == "" || s == strings.TrimSpace(text) {
		return math.NaN(), false
	}
	x, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return math.NaN(), false
	}
	return x, true
}

var faultForm = regexp.MustCompile(`(?i)^[<>+\-]?\s*(?:o\.?\s?l\.?|open.*|over.*|ov(?:ld|r)?|err(?:or)?|nan|inf|n\.?/?c|burn\s?-?out|fault|no probe|-{2,}|\*+|#+.*|1\.?\s*$|under.*)$`)

// faultWord reports the words by which loggers tell an open circuit.
func faultWord(text string) bool { return faultForm.MatchString(strings.TrimSpace(text)) }
