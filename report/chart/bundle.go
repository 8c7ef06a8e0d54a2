package chart

import (
	"embed"
	"strings"
)

//go:generate npm --prefix web ci --no-audit --no-fund
//go:generate npm --prefix web run --silent bundle

//go:embed all:bundle
var bundle embed.FS

//go:embed chart.js
var pageScript string

// Script returns the charting library as the text of one script element, plain
// ASCII. ok is false when the program was built without it; the page then
// leaves the figures still.
func Script() (text string, ok bool) {
	b, err := bundle.ReadFile("bundle/echarts.js")
	if err != nil || len(b) == 0 {
		return "", false
	}
	return string(b), true
}

// Licences returns the licence texts of what Script holds, one after the
// other under their file names, and nothing when there is no script.
func Licences() string {
	var out strings.Builder
	entries, err := bundle.ReadDir("bundle")
	if err != nil {
		return ""
	}
	for _, e := range entries { // in the order of their names
		name, found := strings.CutSuffix(e.Name(), ".txt")
		if !found {
			continue
		}
		text, err := bundle.ReadFile("bundle/" + e.Name())
		if err != nil {
			continue
		}
		out.WriteString(name + "\n\n" + strings.TrimSpace(string(text)) + "\n\n")
	}
	return out.String()
}

// PageScript returns our own script, which lays the charts over the still
// figures of a page. It goes into the page after Script, at the end of the
// body.
func PageScript() string { return pageScript }
