package report_test

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"smeltbook/report"
	"smeltbook/report/internal/browsertest"
)

// accessEngine is the engine of WCAG rules that `go generate` installs.
const accessEngine = "page/web/node_modules/axe-core/axe.min.js"

// checkAccess lists what the engine finds, each as rule, help and first places.
// Long tables are unfolded and cut to their first rows, since all rows are made
// alike.
const checkAccess = `(async () => {
	for (const d of document.querySelectorAll("details")) d.open = true;
	for (const b of document.querySelectorAll("details tbody")) while (b.rows.length > 6) b.lastElementChild.remove();
	const found = await axe.run(document, {resultTypes: ["violations"]});
	return found.violations.map(v => v.id + ": " + v.help + ": " + v.nodes.length + " × " +
		v.nodes.slice(0, 3).map(n => n.target.join(" ") + " " + n.html.slice(0, 160) + " " + n.failureSummary).join(" | "));
})()`

// TestAccessibility takes the demo report through the rules of an accessibility
// engine (WCAG 2.2 A and AA, and good practice) on a laptop and on a phone,
// light and dark.
func TestAccessibility(t *testing.T) {
	engine, err := os.ReadFile(accessEngine)
	if errors.Is(err, fs.ErrNotExist) && os.Getenv(browsertest.Required) != "required" {
		t.Skip("the accessibility engine is not installed: run `go generate ./report/page`")
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, width := range []int{1280, 390} {
		for _, scheme := range []string{"light", "dark"} {
			t.Run(fmt.Sprintf("%d px %s", width, scheme), func(t *testing.T) {
				ctx := openReport(t, width)
				prefer(t, ctx, "prefers-color-scheme", scheme)
				browsertest.Evaluate[int](t, ctx, string(engine)+";0")
				found, err := chromedp.Run(ctx, chromedp.Evaluate[[]string](checkAccess, chromedp.EvalAwaitPromise))
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range found {
					t.Error(f)
				}
			})
		}
	}
}

// prefer makes the browser say that its reader prefers something.
func prefer(t *testing.T, ctx context.Context, feature, value string) {
	t.Helper()
	media := emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: feature, Value: value}}}
	if _, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, media); err != nil {
		t.Fatal(err)
	}
}

// TestStillWhereMotionIsUnwelcome checks that nothing moves for a reader who
// asked for that.
func TestStillWhereMotionIsUnwelcome(t *testing.T) {
	ctx := openReport(t, 1280)
	prefer(t, ctx, "prefers-reduced-motion", "reduce")
	moving := browsertest.Evaluate[[]string](t, ctx, `Array.from(document.querySelectorAll("*")).filter(e => { const s = getComputedStyle(e);
		return s.scrollBehavior === "smooth" || s.animationName !== "none" || parseFloat(s.transitionDuration) > 0 }).map(e => e.outerHTML.slice(0, 80))`)
	if len(moving) > 0 {
		t.Errorf("%d things move, first %s", len(moving), moving[0])
	}
	if report.Assets().ChartLibrary == "" {
		return
	}
	if n := browsertest.Evaluate[int](t, ctx, `Array.from(document.querySelectorAll(".live")).filter(l => echarts.getInstanceByDom(l).getOption().animation !== false).length`); n > 0 {
		t.Errorf("%d charts move", n)
	}
}

// TestChartsByKeyboard walks the samples of a chart with the arrow keys, picks
// one and lets it go.
func TestChartsByKeyboard(t *testing.T) {
	if report.Assets().ChartLibrary == "" {
		t.Skip("built without the charting library: the figures are still")
	}
	ctx := openReport(t, 1280)
	const said = `document.activeElement.nextElementSibling.textContent`
	if n := browsertest.Evaluate[int](t, ctx, `(document.querySelector(".live[tabindex='0']").focus(), document.querySelectorAll(".live[role=application][tabindex='0']").length)`); n < 5 {
		t.Fatalf("%d charts can be walked with the keys, want most", n)
	}
	press(t, ctx, kb.ArrowRight)
	first := browsertest.Evaluate[string](t, ctx, said)
	press(t, ctx, kb.ArrowRight)
	second := browsertest.Evaluate[string](t, ctx, said)
	if first == "" || second == "" || first == second {
		t.Errorf("the keys say %q, then %q", first, second)
	}
	press(t, ctx, kb.ArrowLeft)
	if got := browsertest.Evaluate[string](t, ctx, said); got != first {
		t.Errorf("back again the keys say %q, want %q", got, first)
	}
	press(t, ctx, kb.Enter)
	name, _, _ := strings.Cut(first, ",")
	const picked = `(b => b ? b.textContent : "")(document.querySelector("#picked b"))`
	if got := browsertest.Evaluate[string](t, ctx, picked); got != name {
		t.Errorf("Enter picked %q, want %q", got, name)
	}
	press(t, ctx, kb.Escape)
	if got := browsertest.Evaluate[string](t, ctx, picked); got != "" {
		t.Errorf("after Escape %q is still picked", got)
	}
}
