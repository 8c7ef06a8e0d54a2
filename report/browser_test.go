package report_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdpruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"smeltbook/report"
	"smeltbook/report/internal/browsertest"
)

var samplePages struct {
	sync.Mutex
	page []byte
}

// samplePage is the report of the sample campaign, made once for all tests.
func samplePage(t *testing.T) []byte {
	t.Helper()
	samplePages.Lock()
	defer samplePages.Unlock()
	if samplePages.page == nil {
		_, samplePages.page = road(t, "../samples/orrin-vale", report.Options{Assets: report.Assets()})
	}
	return samplePages.page
}

// openReport writes the page of the sample campaign and loads it, watching for
// anything that goes wrong and anything that leaves the machine.
func openReport(t *testing.T, width int) context.Context {
	t.Helper()
	ctx := browsertest.Start(t, width)
	page := samplePage(t)
	path := filepath.Join(t.TempDir(), "report.html")
	if err := os.WriteFile(path, page, 0o644); err != nil {
		t.Fatal(err)
	}
	var mu sync.Mutex
	var wrong []string
	note := func(format string, args ...any) {
		mu.Lock()
		defer mu.Unlock()
		wrong = append(wrong, fmt.Sprintf(format, args...))
	}
	err := chromedp.Listen(ctx, func(event any) {
		switch e := event.(type) {
		case *cdpruntime.EventExceptionThrown:
			note("exception: %v", e.ExceptionDetails)
		case *cdpruntime.EventConsoleAPICalled:
			if e.Type == cdpruntime.ConsoleAPICalledTypeError || e.Type == cdpruntime.ConsoleAPICalledTypeWarning {
				note("console: %v", e.Args)
			}
		case *log.EventEntryAdded:
			if e.Entry.Level == log.EntryLevelError {
				note("log: %s", e.Entry.Text)
			}
		case *network.EventRequestWillBeSent:
			if !strings.HasPrefix(e.Request.URL, "file://"+path) && !strings.HasPrefix(e.Request.URL, "data:") {
				note("request: %s", e.Request.URL)
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, log.Enable, cdp.Empty{}); err != nil {
		t.Fatal(err)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate("file://"+path)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		mu.Lock()
		defer mu.Unlock()
		for _, w := range wrong {
			t.Error(w)
		}
	})
	return ctx
}

// demoFigures are those of the demo report that are drawn: composition, triangle,
// melting, freezing, matched pieces, index, two of flow, oxygen, copper, two of the walls, two of dressing,
// two of logged firings, the furnace to scale and the heat of two of its walls,
// where the copper went, the sources of the slag, the biplot, the effects, a
// control chart and two methods against each other.
const (
	demoFigures = 25
	demoStill   = 1 // drawn to scale, without an interactive drawing
)

const figureHeights = `Array.from(document.querySelectorAll("main figure:not(.photos)"), f =>
	Array.from(f.querySelectorAll(".still, .live")).reduce((h, e) => h + e.getBoundingClientRect().height, 0))`

// TestReportInABrowser opens the demo report on a laptop and on a phone: no
// errors, no requests, every figure visible, nothing wider than the window.
func TestReportInABrowser(t *testing.T) {
	for _, width := range []int{1280, 390} {
		t.Run(fmt.Sprintf("%dpx", width), func(t *testing.T) {
			ctx := openReport(t, width)
			heights := browsertest.Evaluate[[]float64](t, ctx, figureHeights)
			if len(heights) != demoFigures {
				t.Errorf("%d figures, want %d", len(heights), demoFigures)
			}
			for i, h := range heights {
				if h < 150 {
					t.Errorf("figure %d is %.0f px high", i+1, h)
				}
			}
			if report.Assets().ChartLibrary == "" {
				t.Log("built without the charting library: the figures are still")
			} else if live := browsertest.Evaluate[float64](t, ctx, `document.querySelectorAll("figure.is-live, .is-live").length`); live != demoFigures-demoStill {
				t.Errorf("%v figures came alive, want %d", live, demoFigures-demoStill)
			}
			if over := browsertest.Evaluate[float64](t, ctx, `document.documentElement.scrollWidth - innerWidth`); over > 0 {
				t.Errorf("the page is %v px wider than the window", over)
			}
		})
	}
}

// TestReportInPrint checks the print view: still figures, no controls, nothing
// folded away.
func TestReportInPrint(t *testing.T) {
	ctx := openReport(t, 1280)
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"}); err != nil {
		t.Fatal(err)
	}
	still := browsertest.Evaluate[[]float64](t, ctx, `Array.from(document.querySelectorAll("main figure .still"), e => e.getBoundingClientRect().height)`)
	if len(still) != demoFigures {
		t.Errorf("%d still figures, want %d", len(still), demoFigures)
	}
	for i, h := range still {
		if h < 100 {
			t.Errorf("figure %d prints %.0f px high", i+1, h)
		}
	}
	if live := browsertest.Evaluate[float64](t, ctx, `Array.from(document.querySelectorAll("main figure .live")).filter(e => e.offsetHeight > 0).length`); live != 0 {
		t.Errorf("%v interactive figures are printed", live)
	}
}
