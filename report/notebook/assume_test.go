package notebook

import (
	"strings"
	"testing"

	"smeltbook/assay"
)

// What is to be assumed of products without an analysis is read with its ±, and
// what makes no sense is told with the line.
func TestAssumedContents(t *testing.T) {
	n, ns := Parse("notebook.md", []byte("---\ntitle: T\ndata: [a.csv]\nrecipe:\n  assume:\n    ingot: {Cu: [96, 2], Fe: [3, 2]}\n    prills: {Cu: [97, 1]}\n---\n"))
	got := n.Config.Recipe.Assume
	if ns.Failed() || len(got) != 3 || got[0].Kind != assay.Metal || got[0].Content.WithUnit() != "96.0 ± 2.0 wt%" || got[1].Element != "Fe" || got[2].Kind != assay.Prill {
		t.Fatalf("%+v %v", got, ns)
	}
	for _, l := range n.Config.Recipe.Lines() {
		if l.Key == "assume" && (!l.Stated || !strings.Contains(l.Value, "metal without analysis: 96.0 ± 2.0 wt% Cu")) {
			t.Errorf("%+v", l)
		}
	}
	for text, want := range map[string]string{
		"ingt: {Cu: [96, 2]}":              `line 6: "assume" speaks of "ingt"; it takes ingot, prills or matte; did you mean "ingot"?`,
		"ingot: {Cu: 96}":                  "line 6: Cu of ingot takes a content in wt% and its standard uncertainty",
		"ingot: {Cu: [96, 0]}":             "Cu of ingot takes a content",
		"ingot: {Kupfer: [96, 2]}":         `"Kupfer" is no element`,
		"ingot: {Cu: [96, 2], Fe: [9, 1]}": "sum to 105 wt%",
	} {
		n, ns := Parse("notebook.md", []byte("---\ntitle: T\ndata: [a.csv]\nrecipe:\n  assume:\n    "+text+"\n---\n"))
		if len(ns) != 1 || !strings.Contains(ns[0].Error(), want) || len(n.Config.Recipe.Assume) > 1 {
			t.Errorf("%q: %v, want %q", text, ns, want)
		}
	}
}
