package page

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func render(t *testing.T, d Document, a Assets) string {
	t.Helper()
	var b bytes.Buffer
	if err := Render(&b, d, a); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// bodyOf cuts the style and the scripts off, which have files of their own.
func bodyOf(t *testing.T, page string) string {
	t.Helper()
	_, body, ok := strings.Cut(page, "</head>\n")
	if !ok {
		t.Fatal("the page has no head")
	}
	if i := strings.Index(body, "<script>"); i >= 0 {
		body = body[:i]
	}
	return body
}

func TestGolden(t *testing.T) {
	got := bodyOf(t, render(t, sampleDocument(), Assets{}))
	golden := filepath.Join("testdata", "sample.golden.html")
	if *update {
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("page differs from %s (-want +got):\n%s", golden, diff)
	}
}

func TestSameBytesTwice(t *testing.T) {
	a := Assets{ChartLibrary: "var library = 1;", ChartScript: "var charts = 2;"}
	first := render(t, sampleDocument(), a)
	if again := render(t, sampleDocument(), a); again != first {
		t.Error("the same document gives different bytes")
	}
}

func TestScriptsOnlyWithAssets(t *testing.T) {
	if n := strings.Count(render(t, sampleDocument(), Assets{}), "<script>"); n != 1 {
		t.Errorf("%d scripts without assets, want the page's own", n)
	}
	full := render(t, sampleDocument(), Assets{ChartLibrary: "library()", ChartScript: `s = "</SCRIPT><!--"`})
	if n := strings.Count(full, "<script>"); n != 3 {
		t.Errorf("%d scripts with assets, want 3", n)
	}
	if !strings.Contains(full, `<script>s = "<\/SCRIPT><\!--"</script>`) {
		t.Error("a script that holds the end of a script was not made harmless")
	}
	if half := render(t, sampleDocument(), Assets{ChartLibrary: "library()"}); strings.Contains(half, "library()") {
		t.Error("a library without a script that uses it was put into the page")
	}
}

// The page's own style and script stay small, so that a report of a small
// campaign is a small file.
func TestOwnWeight(t *testing.T) {
	if n := len(pageCSS) + len(pageJS); n > 60_000 {
		t.Errorf("style and script have %d bytes, want at most 60000", n)
	}
}

func TestFaultyDocuments(t *testing.T) {
	svg := []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`)
	entry := func(parts ...Part) Document {
		return Document{Title: "T", Blocks: []Block{&Entry{Number: 4, Kind: "melting", Parts: parts}}}
	}
	figure := func(svg string) Document {
		return entry(&Figure{ID: "f", Alt: "a", SVG: []byte(svg)})
	}
	for _, tt := range []struct {
		name string
		d    Document
		want string
	}{
		{"id twice", entry(&Figure{ID: "f", Alt: "a", SVG: svg}, &Figure{ID: "f", Alt: "a", SVG: svg}), `entry 4 (melting): page: the id "f" is given twice`},
		{"heading takes an entry's id", Document{Blocks: []Block{&Prose{Headings: []Heading{{2, "entry-4", "x"}}}, entry().Blocks[0]}}, `the id "entry-4" is given twice`},
		{"no description", entry(&Figure{ID: "f", SVG: svg}), `the figure "f" has no description`},
		{"bad id", entry(&Figure{ID: "1 f", Alt: "a", SVG: svg}), `should be letters, digits and hyphens`},
		{"short row", entry(&Table{Number: 3, Columns: make([]Column, 2), Rows: []Row{{Cells: make([]Cell, 1)}}}), "row 1 of table 3 has 1 cells for 2 columns"},
		{"spans", entry(&Table{Number: 3, Columns: make([]Column, 2), Groups: []ColumnGroup{{"x", 3, NoSide}}}), "the column groups of table 3 span 3 columns of 2"},
		{"short spread row", entry(&Spread{Number: 3, Columns: make([]Column, 1), Rows: []SpreadRow{{Left: make([]Cell, 1)}}}), "row 1 of spread 3 has 1 and 0 cells for 1 columns"},
		{"link", entry(&Text{Paragraphs: [][]Run{{{Text: "x", Link: "javascript:x"}}}}), `the link "javascript:x" is no web address`},
		{"chart", entry(&Figure{ID: "f", Alt: "a", SVG: svg, ChartJSON: []byte("{")}), "the chart is not JSON"},
		{"no drawing", figure(""), "the drawing has no <svg> element"},
		{"broken drawing", figure("<svg><g></svg>"), "the drawing is not well-formed"},
		{"two drawings", figure("<svg/><svg/>"), "instead of one <svg>"},
		{"drawing with a script", figure("<svg><script/></svg>"), "the drawing has a <script> element"},
		{"drawing with a style", figure("<svg><style>*{}</style></svg>"), "the drawing has a <style> element"},
		{"drawing with a handler", figure(`<svg onload="x"/>`), "the drawing has a handler onload"},
		{"drawing that fetches", figure(`<svg><image href="https://example.org/x.png"/></svg>`), `the drawing leads to "https://example.org/x.png"`},
		{"drawing that fetches by url", figure(`<svg><g fill="url(https://example.org/x)"/></svg>`), "the drawing leads to"},
		{"unknown block", Document{Blocks: []Block{nil}}, "unknown type"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			var b bytes.Buffer
			err := Render(&b, tt.d, Assets{})
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("Render: %v, want %q", err, tt.want)
			}
			if b.Len() > 0 {
				t.Error("something was written all the same")
			}
		})
	}
}

func TestDrawingsKeepTheirIDsApart(t *testing.T) {
	svg := []byte(`<?xml version="1.0"?><!DOCTYPE svg><svg><clipPath id="c"/><g clip-path="url(#c)"/><use href="#c"/></svg>`)
	got, err := safeSVG("fig-a", svg)
	if err != nil {
		t.Fatal(err)
	}
	want := `<svg><clipPath id="fig-a--c"/><g clip-path="url(#fig-a--c)"/><use href="#fig-a--c"/></svg>`
	if string(got) != want {
		t.Errorf("drawing\n%s\nwant\n%s", got, want)
	}
}

func TestSpreadIsMirrored(t *testing.T) {
	v := viewSpread(sampleSpread())
	row := v.Rows[0]
	if row.Left[2].Text != "34.1 ± 2.9" || row.Right[0].Text != "30.2 ± 1.8" {
		t.Errorf("beside the gutter stand %q and %q, want the means", row.Left[2].Text, row.Right[0].Text)
	}
	if row.Left[2].Place != 1 || row.Right[0].Place != 1 {
		t.Errorf("places %d and %d, want both first", row.Left[2].Place, row.Right[0].Place)
	}
}

func BenchmarkRender(b *testing.B) {
	d := sampleDocument()
	for b.Loop() {
		var out bytes.Buffer
		if err := Render(&out, d, Assets{}); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(out.Len()))
	}
}
