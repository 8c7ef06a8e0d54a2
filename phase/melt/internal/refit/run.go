package refit

import (
	"fmt"
	"io"
	"os"
	"path/filepath"

	"smeltbook/phase/melt"
)

const (
	parametersFile  = "phase/melt/parameters.csv"
	calibrationFile = "testdata/liquidus/calibration.csv"
)

func readPointFile(root, name string) ([]Point, error) {
	f, err := os.Open(filepath.Join(root, name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return ReadPoints(f)
}

// Run fits everything.
func Run(out io.Writer, root string, cross bool) error {
	text, err := os.ReadFile(filepath.Join(root, parametersFile))
	if err != nil {
		return err
	}
	t, err := ReadTable(string(text))
	if err != nil {
		return err
	}
	points, err := readPointFile(root, calibrationFile)
	if err != nil {
		return err
	}
	if err := Fit(t, points); err != nil {
		return err
	}
	m, err := melt.FromParameters(t.String())
	if err != nil {
		return err
	}
	show := func(name string, scores []Score) {
		fmt.Fprintln(out, name)
		for _, set := range Sets {
			s := Sum(scores, set.In)
			fmt.Fprintf(out, "%-24s n %3d pass %5.1f right %5.1f median %5.1f rms %5.1f\n", set.Name, s.N, s.Pass, s.Right, s.Median, s.RMS)
		}
	}
	in := Judge(m, points)
	show("in-sample", in)
	var cv []Score
	if cross {
		if cv, err = CrossValidate(t, points); err != nil {
			return err
		}
		show("cross", cv)
	}
	for i, s := range in {
		fmt.Fprintf(out, "%s %-22s %-12v %6.0f %+5.0f %-10s %v %v", s.Point.ID, s.Point.System, s.Point.Phases, s.Point.TC, s.TC-s.Point.TC, s.First, s.Pass, s.Right)
		if cross {
			fmt.Fprintf(out, "  cv %+5.0f %s %v %v", cv[i].TC-s.Point.TC, cv[i].First, cv[i].Pass, cv[i].Right)
		}
		fmt.Fprintln(out)
	}
	return os.WriteFile(filepath.Join(root, parametersFile), []byte(t.String()), 0o644)
}
