package refit

import (
	"crypto/sha256"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"smeltbook/phase/melt"
)

// Report is everything that the page about the fit tells.
type Report struct {
	Inputs     string // digest of what the fit was made from
	Model      *melt.Model
	Fitted     []Score
	Cross      []Score // the same points, each predicted without its system
	Tenths     []Score // and without its tenth of the points
	Validation []Score
	Joins      []Join
}

// Digest identifies the points and priors of a fit.
func Digest(t *Table, calibration []byte) string {
	h := sha256.New()
	io.WriteString(h, t.Priors())
	h.Write(calibration)
	return fmt.Sprintf("%x", h.Sum(nil))
}

// Markdown returns the page.
func (r *Report) Markdown() string {
	var b strings.Builder
	p := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	p("# Fit of the liquidus model\n\n")
	p("Written by `go run ./phase/melt/refit`; `README.md` explains the model and the\nrule by which a point passes. Points: `testdata/liquidus`.\n\n")
	p("Digest of priors and calibration points: `%s`\n\n", r.Inputs)
	p("*In-sample* flatters. *Without its tenth*: the points dealt out in turn to ten\nparts, each predicted from a fit to the other nine; this is the error to expect\nof a fresh melt among the calibrated systems. *Without its system*: each system\npredicted from a fit to all the others, which asks the model to extrapolate.\n*Kept aside*: never fitted. All fits start from the priors.\n\n")
	p("| set | points | judged | pass %% | first phase right %% | median °C | 68th percentile °C | RMS °C | median with its sign °C |\n|---|---|---|---|---|---|---|---|---|\n")
	for _, set := range Sets {
		for _, way := range []struct {
			name   string
			scores []Score
		}{{"in-sample", r.Fitted}, {"without its tenth", r.Tenths}, {"without its system", r.Cross}} {
			if s := Sum(way.scores, set.In); s.N > 0 {
				p("| %s | %d | %s | %.0f | %.0f | %.0f | %.0f | %.0f | %s |\n", set.Name, s.N, way.name, s.Pass, s.Right, s.Median, s.P68, s.RMS, signed(s.Signed))
			}
		}
	}
	v := Sum(r.Validation, Sets[0].In)
	p("\nKept aside, %d points: %.0f %% pass, first phase right in %.0f %%, median %.0f °C,\nRMS %.0f °C.\n\n", v.N, v.Pass, v.Right, v.Median, v.RMS)
	p("| point | system | phases | published °C | model − published | first phase | pass |\n|---|---|---|---|---|---|---|\n")
	for _, s := range r.Validation {
		p("| %s | %s | %s | %g | %s | %s | %s |\n", s.Point.ID, s.Point.System, names(s.Point.Phases), s.Point.TC, off(s), s.First, yes(s.Pass))
	}
	p("\nLowest points of joins, kept aside:\n\n| join | published °C | model °C | at wt%% of the second | difference | source |\n|---|---|---|---|---|---|\n")
	for _, j := range r.Joins {
		tc, at := j.Lowest(r.Model)
		p("| %s | %g | %.0f | %.0f | %+.0f | %s |\n", j.Phases, j.TC, tc, at, tc-j.TC, j.Source)
	}
	p("\n## Point by point\n\n| point | system | phases | published °C | fitted | first phase | pass | without its tenth | first phase | pass | without its system | first phase | pass |\n|---|---|---|---|---|---|---|---|---|---|---|---|---|\n")
	for i, s := range r.Fitted {
		c, d := r.Cross[i], r.Tenths[i]
		p("| %s | %s | %s | %g | %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", s.Point.ID, s.Point.System, names(s.Point.Phases), s.Point.TC,
			off(s), s.First, yes(s.Pass), off(d), d.First, yes(d.Pass), off(c), c.First, yes(c.Pass))
	}
	return b.String()
}

func names(phases []melt.Phase) string {
	list := make([]string, len(phases))
	for i, p := range phases {
		list[i] = string(p)
	}
	return strings.Join(list, ", ")
}

func off(s Score) string {
	if math.IsNaN(s.TC) {
		return "none"
	}
	return fmt.Sprintf("%+.0f", s.TC-s.Point.TC)
}

// signed writes whole degrees with their sign, and nothing as 0.
func signed(x float64) string {
	if math.Round(x) == 0 {
		return "0"
	}
	return fmt.Sprintf("%+.0f", x)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

var crossHeading = []string{"id", "tenth_T_C", "tenth_first", "tenth_pass", "system_T_C", "system_first", "system_pass"}

// WriteCross writes the predictions of the two cross-validations.
func WriteCross(w io.Writer, tenths, systems []Score) error {
	rows := [][]string{crossHeading}
	for i, s := range tenths {
		row := []string{s.Point.ID}
		for _, c := range []Score{s, systems[i]} {
			row = append(row, strconv.FormatFloat(c.TC, 'f', 1, 64), string(c.First), yes(c.Pass))
		}
		rows = append(rows, row)
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// ReadCross reads them back for the points that they belong to.
func ReadCross(r io.Reader, points []Point) (tenths, systems []Score, err error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, nil, fmt.Errorf("cross-validation: %w", err)
	}
	if len(rows) != len(points)+1 || len(rows[0]) != len(crossHeading) {
		return nil, nil, fmt.Errorf("cross-validation of %d points, not of %d", len(rows)-1, len(points))
	}
	for i, p := range points {
		row := rows[i+1]
		if row[0] != p.ID {
			return nil, nil, fmt.Errorf("cross-validation, line %d: point %s, not %s", i+2, row[0], p.ID)
		}
		for n, list := range []*[]Score{&tenths, &systems} {
			cells := row[1+3*n : 4+3*n]
			tc, err := strconv.ParseFloat(cells[0], 64)
			if err != nil {
				return nil, nil, fmt.Errorf("cross-validation, line %d: %w", i+2, err)
			}
			first := melt.Phase(cells[1])
			*list = append(*list, Score{Point: p, TC: tc, First: first, Pass: cells[2] == "yes", Right: p.holds(first)})
		}
	}
	return tenths, systems, nil
}
