package refit

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"smeltbook/phase/melt"
)

// Files of the fit, from the top of the module.
const (
	parametersFile  = "phase/melt/parameters.csv"
	reportFile      = "phase/melt/FIT.md"
	calibrationFile = "testdata/liquidus/calibration.csv"
	validationFile  = "testdata/liquidus/validation.csv"
	joinsFile       = "testdata/liquidus/validation_joins.csv"
	crossFile       = "testdata/liquidus/crossvalidation.csv"
)

// inputs is what is read before anything is fitted.
type inputs struct {
	table       *Table
	digest      string
	calibration []Point
	validation  []Point
	joins       []Join
}

func read(root string) (in inputs, err error) {
	file := func(name string) []byte {
		data, e := os.ReadFile(filepath.Join(root, name))
		if e != nil && err == nil {
			err = e
		}
		return data
	}
	parameters, calibration := file(parametersFile), file(calibrationFile)
	validation, joins := file(validationFile), file(joinsFile)
	if err != nil {
		return in, err
	}
	if in.table, err = ReadTable(string(parameters)); err != nil {
		return in, err
	}
	in.digest = Digest(in.table, calibration)
	if in.calibration, err = ReadPoints(bytes.NewReader(calibration)); err != nil {
		return in, err
	}
	if in.validation, err = ReadPoints(bytes.NewReader(validation)); err != nil {
		return in, err
	}
	in.joins, err = ReadJoins(bytes.NewReader(joins))
	return in, err
}

// report judges the parameters of the table.
func (in *inputs) report(tenths, cross []Score) (*Report, error) {
	m, err := melt.FromParameters(in.table.String())
	if err != nil {
		return nil, err
	}
	return &Report{Inputs: in.digest, Model: m, Fitted: Judge(m, in.calibration), Cross: cross, Tenths: tenths,
		Validation: Judge(m, in.validation), Joins: in.joins}, nil
}

// Rewrite returns the page as the files under root give it, without fitting.
func Rewrite(root string) (string, error) {
	in, err := read(root)
	if err != nil {
		return "", err
	}
	f, err := os.Open(filepath.Join(root, crossFile))
	if err != nil {
		return "", err
	}
	defer f.Close()
	tenths, cross, err := ReadCross(f, in.calibration)
	if err != nil {
		return "", err
	}
	r, err := in.report(tenths, cross)
	if err != nil {
		return "", err
	}
	return r.Markdown(), nil
}

// Run fits the parameters, judges the fit, and writes the parameters, the
// cross-validation and the page into the tree under root. Without cross the
// cross-validation on file is kept and nothing but the parameters is written.
func Run(out io.Writer, root string, cross bool) error {
	in, err := read(root)
	if err != nil {
		return err
	}
	before, err := Fit(in.table, in.calibration)
	if err != nil {
		return err
	}
	write := func(name string, data []byte) error {
		return os.WriteFile(filepath.Join(root, name), data, 0o644)
	}
	if err := write(parametersFile, []byte(in.table.String())); err != nil {
		return err
	}
	r, err := in.report(nil, nil)
	if err != nil {
		return err
	}
	summary(out, "in-sample", r.Fitted)
	summary(out, "kept aside", r.Validation)
	if !cross {
		return nil
	}
	if r.Tenths, err = CrossValidate(&before, in.calibration, ByTenths(in.calibration)); err != nil {
		return err
	}
	summary(out, "without its tenth", r.Tenths)
	if r.Cross, err = CrossValidate(&before, in.calibration, BySystem(in.calibration)); err != nil {
		return err
	}
	summary(out, "without its system", r.Cross)
	var buffer bytes.Buffer
	if err := WriteCross(&buffer, r.Tenths, r.Cross); err != nil {
		return err
	}
	if err := write(crossFile, buffer.Bytes()); err != nil {
		return err
	}
	page, err := Rewrite(root)
	if err != nil {
		return err
	}
	return write(reportFile, []byte(page))
}

func summary(out io.Writer, name string, scores []Score) {
	fmt.Fprintln(out, name)
	for _, set := range Sets {
		if s := Sum(scores, set.In); s.N > 0 {
			fmt.Fprintf(out, "  %-24s %3d points  pass %3.0f %%  first phase %3.0f %%  median %4.0f  68 %% %4.0f  RMS %4.0f °C\n",
				set.Name, s.N, s.Pass, s.Right, s.Median, s.P68, s.RMS)
		}
	}
}
