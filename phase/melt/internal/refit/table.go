package refit

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

// The columns of the parameter file that matter here.
const (
	colKind     = 0
	colName     = 1
	colFactor   = 2
	colQuantity = 3
	colValue    = 5
	colStart    = 6
	colSigma    = 7
	colStage    = 8
)

// Table is the parameter file.
type Table struct {
	rows [][]string // with the heading
}

// ReadTable reads a parameter file.
func ReadTable(text string) (*Table, error) {
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("melt parameters: %w", err)
	}
	return &Table{rows}, nil
}

// String returns the file.
func (t *Table) String() string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.WriteAll(t.rows)
	return b.String()
}

// Priors returns the file without its column of values: what a fit starts
// from.
func (t *Table) Priors() string {
	var b strings.Builder
	for _, row := range t.rows {
		fmt.Fprintln(&b, strings.Join(row[:colValue], ","), strings.Join(row[colStart:], ","))
	}
	return b.String()
}

// prior is a parameter that the fit may move.
type prior struct {
	row           int // from 0 below the heading
	centre, sigma float64
}

// free returns the parameters of one stage, or of all.
func (t *Table) free(stage int) ([]prior, error) {
	var list []prior
	for n, row := range t.rows[1:] {
		s, err := strconv.Atoi(row[colStage])
		if err != nil {
			return nil, fmt.Errorf("melt parameters, line %d: %w", n+2, err)
		}
		if (s != stage && stage != allStages) || row[colSigma] == "fixed" {
			continue
		}
		p := prior{row: n}
		if p.centre, err = strconv.ParseFloat(row[colStart], 64); err != nil {
			return nil, fmt.Errorf("melt parameters, line %d: %w", n+2, err)
		}
		share, relative := strings.CutSuffix(row[colSigma], " %")
		if p.sigma, err = strconv.ParseFloat(share, 64); err != nil {
			return nil, fmt.Errorf("melt parameters, line %d: %w", n+2, err)
		}
		if relative {
			p.sigma *= p.centre / 100
		}
		list = append(list, p)
	}
	return list, nil
}

// set writes the value of a parameter with five figures, which is what the
// model then works with.
func (t *Table) set(row int, value float64) {
	t.rows[row+1][colValue] = strconv.FormatFloat(value, 'g', 6, 64)
}

func (t *Table) value(row int) float64 {
	x, _ := strconv.ParseFloat(t.rows[row+1][colValue], 64)
	return x
}

// restart puts the starting values in place of the fitted ones.
func (t *Table) restart() {
	for _, row := range t.rows[1:] {
		row[colValue] = row[colStart]
	}
}

func (t *Table) clone() *Table {
	c := &Table{rows: make([][]string, len(t.rows))}
	for i, row := range t.rows {
		c.rows[i] = append([]string(nil), row...)
	}
	return c
}
