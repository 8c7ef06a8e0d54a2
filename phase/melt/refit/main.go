// Command refit fits the parameters of the liquidus model to the calibration
// points and writes parameters.csv and the report FIT.md. Run it from the top
// of the module:
//
//	go run ./phase/melt/refit
package main

import (
	"flag"
	"fmt"
	"os"

	"smeltbook/phase/melt/internal/refit"
)

func main() {
	cross := flag.Bool("cross", true, "judge the fit by leaving out one system at a time")
	flag.Parse()
	if err := refit.Run(os.Stdout, ".", *cross); err != nil {
		fmt.Fprintln(os.Stderr, "refit:", err)
		os.Exit(1)
	}
}
