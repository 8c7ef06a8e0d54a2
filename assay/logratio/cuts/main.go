// Command cuts simulates what the farthest of a clean cloud exceeds in one case
// of twenty, for many sizes of clouds, and writes robustcuts.csv. Run it from
// the top of the module; it takes about half an hour on two processors:
//
//	go run ./assay/logratio/cuts
package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"smeltbook/assay/logratio"
)

// Every number of samples up to singles, then some in between which the cut is
// interpolated; as many dimensions as fifteen parts have.
const (
	singles    = 30
	dimensions = 14
	seed       = 1
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "cuts:", err)
		os.Exit(1)
	}
}

func run() error {
	var out bytes.Buffer
	fmt.Fprintln(&out, "dimensions,samples,cut")
	for p := 1; p <= dimensions; p++ {
		for _, n := range sizes(p) {
			cut, err := logratio.SimulateCut(context.Background(), n, p, logratio.CutClouds, seed)
			if err != nil {
				return err
			}
			fmt.Fprintf(&out, "%d,%d,%.5g\n", p, n, cut)
		}
		fmt.Printf("%d of %d dimensions\n", p, dimensions)
	}
	return os.WriteFile(filepath.Join("assay", "logratio", "robustcuts.csv"), out.Bytes(), 0o644)
}

// sizes are the numbers of samples for a dimension; below the first there is no
// robust search.
func sizes(p int) (out []int) {
	for n := 2*p + 1; n <= singles; n++ {
		out = append(out, n)
	}
	return append(out, 32, 36, 40, 48, 60, 80, 120, 200, 400)
}
