// Package chem turns formulas into masses and laboratory results into
// compositions: standard atomic weights, the analytes a laboratory reports,
// conversion between element and oxide, and the bases on which a composition
// is stated (as reported, free of ignition loss, summing to 100 %, iron as FeO
// or as Fe2O3).
//
// The original numbers are never replaced: every operation returns a new
// Composition.
package chem

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

// WeightsSource is the reference of the atomic weights.
const WeightsSource = "CIAAW abridged standard atomic weights, 2024 table; Prohaska et al. 2022, Pure Appl. Chem. 94:573"

//go:embed atomic_weights.csv
var weightsCSV string

type atomicWeight struct{ value, bound float64 }

var atomicWeights = sync.OnceValue(func() map[string]atomicWeight {
	rows := mustCSV(weightsCSV, 4)
	m := make(map[string]atomicWeight, len(rows))
	for _, r := range rows {
		m[r[0]] = atomicWeight{mustFloat(r[2]), mustFloat(r[3])}
	}
	return m
})

// AtomicWeight returns the standard atomic weight of an element and its
// standard uncertainty. The ± of the abridged table is a bound; taken as
// rectangular it gives u = bound/√3 (van der Veen et al. 2021, Pure Appl.
// Chem. 93:629). ok is false for an element that is not in the table.
func AtomicWeight(element string) (weight, u float64, ok bool) {
	w, ok := atomicWeights()[element]
	return w.value, w.bound / math.Sqrt(3), ok
}

// mustCSV reads an embedded table without its header row. A damaged embedded
// table is a programmer's mistake and is found by the package's tests.
func mustCSV(text string, fields int) [][]string {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = fields
	rows, err := r.ReadAll()
	if err != nil {
		panic(fmt.Sprintf("chem: embedded table: %v", err))
	}
	return rows[1:]
}

func mustFloat(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(fmt.Sprintf("chem: embedded table: %v", err))
	}
	return x
}
