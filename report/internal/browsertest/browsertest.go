// Package browsertest opens pages in a real browser for tests.
package browsertest

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// Required names the environment variable that turns a missing browser from a
// reason to skip into a failure, when it is set to "required".
const Required = "SMELTBOOK_BROWSER"

// Start starts a browser that is not shown, with a window of the given width
// in CSS pixels. Where there is none the test is skipped and says so, unless
// the environment requires one. In short runs it is skipped as well.
func Start(t *testing.T, width int) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes its time; left out in short runs")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, // tests may run as root; the pages are our own
		chromedp.Flag("disable-component-update", true),
	)
	allocator, cancel := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(cancel)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(int64(width), 900)); err != nil {
		if errors.Is(err, exec.ErrNotFound) && os.Getenv(Required) != "required" {
			t.Skip("no Chromium on this machine: the checks in a browser are left out")
		}
		t.Fatalf("starting the browser: %v", err)
	}
	ctx, cancel = context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	return ctx
}

// Evaluate runs a JavaScript expression in the page.
func Evaluate[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return v
}
