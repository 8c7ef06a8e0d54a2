// Command smeltbook turns a campaign folder, spreadsheets and a page of prose,
// into a report that sets replica slag beside excavated slag.
package main

import (
	"context"
	"os"
	"os/signal"
	"runtime/debug"
)

// heapGrowth is by how many per cent the heap may grow before it is swept. A run
// is short and its campaign small, so room is cheaper than sweeping: a twentieth
// of the time of a campaign of a thousand samples, for some 300 MB.
const heapGrowth = 300

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(heapGrowth)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
	stop()
	os.Exit(code)
}
