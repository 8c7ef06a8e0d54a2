package notebook_test

import (
	"fmt"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
)

func ExampleParse() {
	src := []byte(`---
title: Orrin Vale
data: [lab/xrf.xlsx]
---
The slag melts at {{ median "fired" "liquidus" }}.

` + "```ternary\ngroups: fired\nisotherm: 50\n```\n")

	n, notices := notebook.Parse("notebook.md", src)
	fmt.Println(n.Title, n.Config.Data, len(notices))

	values := func(c notebook.Call) (notebook.Value, source.Notices) {
		return notebook.Value{Text: "1172 ± 18 °C", Note: "median of 5 samples"}, nil // the caller computes c.Func of c.Args
	}
	for _, b := range n.Blocks {
		switch b := b.(type) {
		case *notebook.Prose:
			r, _ := b.Render(notebook.Sources{Values: values})
			fmt.Print(r.HTML)
		case *notebook.Entry:
			var options struct {
				Groups    []string
				Isotherms float64
			}
			for _, notice := range b.Decode(&options) {
				fmt.Println(notice)
			}
			fmt.Println(b.Kind, options.Groups)
		}
	}
	// Output:
	// Orrin Vale [lab/xrf.xlsx] 0
	// <p>The slag melts at <span class="value" title="median of 5 samples">1172 ± 18 °C</span>.</p>
	// notebook.md, line 9: there is no key "isotherm" here; did you mean "isotherms"?
	// ternary [fired]
}
