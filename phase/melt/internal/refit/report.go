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
	p("*In-sample* flatters. *Cross-validated*: each system predicted from a fit to all\nthe others, from the starting values on. *Kept aside*: never fitted.\n\n")
	p("| set | points | in-sample: pass %% | first phase %% | median °C | RMS °C | cross-validated: pass %% | first phase %% | median °C | 68th percentile °C | RMS °C |\n|---|---|---|---|---|---|---|---|---|---|---|\n")
	for _, set := range Sets {
		in, cv := Sum(r.Fitted, set.In), Sum(r.Cross, set.In)
		if in.N == 0 {
			continue
		}
		p("| %s | %d | %.0f | %.0f | %.0f | %.0f | %.0f | %.0f | %.0f | %.0f | %.0f |\n", set.Name, in.N,
			in.Pass, in.Right, in.Median, in.RMS, cv.Pass, cv.Right, cv.Median, cv.P68, cv.RMS)
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
	p("\n## Point by point\n\n| point | system | phases | published °C | fitted | first phase | pass | cross-validated | first phase | pass |\n|---|---|---|---|---|---|---|---|---|---|\n")
	for i, s := range r.Fitted {
		c := r.Cross[i]
		p("| %s | %s | %s | %g | %s | %s | %s | %s | %s | %s |\n", s.Point.ID, s.Point.System, names(s.Point.Phases), s.Point.TC,
			off(s), s.First, yes(s.Pass), off(c), c.First, yes(c.Pass))
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

func yes(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

var crossHeading = []string{"id", "T_C", "first_phase", "pass"}

// WriteCross writes the predictions of the cross-validation.
func WriteCross(w io.Writer, scores []Score) error {
	c := csv.NewWriter(w)
	rows := [][]string{crossHeading}
	for _, s := range scores {
		rows = append(rows, []string{s.Point.ID, strconv.FormatFloat(s.TC, 'f', 1, 64), string(s.First), yes(s.Pass)})
	}
	return c.WriteAll(rows)
}

// ReadCross reads them back for the points that they belong to.
func ReadCross(r io.Reader, points []Point) ([]Score, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("cross-validation: %w", err)
	}
	if len(rows) != len(points)+1 {
		return nil, fmt.Errorf("cross-validation of %d points, not of %d", len(rows)-1, len(points))
	}
	list := make([]Score, len(points))
	for i, p := range points {
		row := rows[i+1]
		tc, err := strconv.ParseFloat(row[1], 64)
		if err != nil || row[0] != p.ID {
			return nil, fmt.Errorf("cross-validation, line %d: %q is not point %s with a temperature", i+2, row, p.ID)
		}
		list[i] = Score{Point: p, TC: tc, First: melt.Phase(row[2]), Pass: row[3] == "yes", Right: p.holds(melt.Phase(row[2]))}
	}
	return list, nil
}
