package report_test

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// photographed is a campaign of a few slags with photographs, as files by their
// names below photos/.
func photographed(t *testing.T, sheet string, photos map[string][]byte) (doc page.Document, said string) {
	t.Helper()
	dir := t.TempDir()
	files := map[string][]byte{
		"xrf.csv":     []byte("Sample,Kind,Origin,SiO2 (wt%),FeO (wt%),CaO (wt%),Al2O3 (wt%)\nKR-1,slag,experimental,32,60,3,5\nKR-2,slag,experimental,36,54,4,6\nLS-1,slag,excavated,30,62,4,4\nLS-2,slag,excavated,35,56,4,5\nLS-3,slag,excavated,34,56,4,6\n"),
		"notebook.md": []byte("---\ntitle: T\ndata: [\"*.csv\"]\ngroups:\n  fired: {origin: experimental}\n  dug: {origin: excavated}\n---\n\n```spread\ngroups: [fired, dug]\n```\n\n```spread\ngroups: [fired, dug]\nsubject: melting\n```\n\n```spread\ngroups: [fired, dug]\npairs: {LS-1: KR-1}\n```\n"),
	}
	if sheet != "" {
		files["photographs.csv"] = []byte(sheet)
	}
	for name, data := range photos {
		files["photos/"+name] = data
	}
	for name, data := range files {
		full := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(full), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	n, ns := notebook.Parse(assay.NotebookName, files["notebook.md"])
	if ns.Failed() {
		t.Fatal(ns)
	}
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || c.Notices.Failed() {
		t.Fatal(err, c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(1, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	doc, notices, err := report.Document(context.Background(), s, n, report.Options{})
	if err != nil || notices.Failed() {
		t.Fatal(err, notices)
	}
	for _, x := range append(c.Notices, notices...) {
		said += x.Error() + "\n"
	}
	return doc, said
}

func photographsIn(doc page.Document) (out []*page.Photographs) {
	for _, b := range doc.Blocks {
		if e, ok := b.(*page.Entry); ok {
			for _, p := range e.Parts {
				if x, ok := p.(*page.Photographs); ok {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

// grey is a photograph; a noisy one does not compress.
func grey(t *testing.T, w, h int, noisy bool) []byte {
	t.Helper()
	p := image.NewRGBA(image.Rect(0, 0, w, h))
	r := rand.New(rand.NewPCG(uint64(w), uint64(h)))
	for i := range p.Pix {
		if p.Pix[i] = 128; noisy {
			p.Pix[i] = byte(r.IntN(256))
		}
	}
	for y := range h {
		p.SetRGBA(0, y, color.RGBA{255, 255, 255, 255})
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// Photographs stand beside each other pair by pair, small, drawn to one scale
// where both are known; one that is needed twice is in the page once.
func TestPhotographsOfPairs(t *testing.T) {
	doc, said := photographed(t, "Photograph,Sample,Caption,Width (mm)\nIMG_1.jpg,LS-1,top,50\nKR-1.jpg,,broken,100\n", map[string][]byte{
		"IMG_1.jpg": grey(t, 1280, 960, false), "KR-1.jpg": grey(t, 800, 600, false), "LS-2.png": []byte("no picture"), "LS-3.jpg": grey(t, 320, 640, false), "KR-2.jpg": grey(t, 100, 100, false),
	})
	list := photographsIn(doc)
	if len(list) != 2 {
		t.Fatalf("%d sets of photographs, want two: the second spread has the same rows", len(list))
	}
	if rows := list[1].Rows; len(rows) != 1 || rows[0].Name != "pair 1" {
		t.Errorf("the third spread shows pieces without a match again: %+v", rows)
	}
	if !strings.Contains(said, "photos/LS-2.png: the photograph is left out: it is no JPEG or PNG picture") {
		t.Errorf("nobody says what is wrong:\n%s", said)
	}
	data := map[string]int{}
	for _, r := range list[0].Rows {
		for _, x := range append(r.Left, r.Right...) {
			if max(x.Width, x.Height) > 640 {
				t.Errorf("%s has %d × %d pixels", x.Caption, x.Width, x.Height)
			}
			if x.JPEG != nil {
				data[x.ID]++
			}
			if x.Alt == "" {
				t.Errorf("%s says nothing to those who cannot see it", x.Caption)
			}
		}
		if r.Name == "pair 1" { // LS-1 beside KR-1: 50 mm beside 100 mm
			if r.Left[0].Share != 1 || r.Right[0].Share != 0.5 || r.Right[0].Width != 640 || r.Right[0].Pixel != 50.0/640 || r.Left[0].Caption != "KR-1: broken" {
				t.Errorf("pair 1: %+v, %+v", r.Left[0].Share, r.Right[0].Share)
			}
		}
	}
	for id, n := range data {
		if n != 1 {
			t.Errorf("%s is in the page %d times", id, n)
		}
	}
	var html bytes.Buffer
	if err := page.Render(&html, doc, page.Assets{}); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<span class="bar" style="width:20.00%"></span><span class="length">20 mm</span>`, "no scale given", `<use href="#photo-`} {
		if !strings.Contains(html.String(), want) {
			t.Errorf("the page has no %q", want)
		}
	}
	if !strings.Contains(html.String(), "photos/IMG_1.jpg") {
		t.Error("the colophon does not name the photographs")
	}
}

// Photographs take no more room than a report can bear; the rest is named.
func TestPhotographsKeepTheirRoom(t *testing.T) {
	photos := map[string][]byte{}
	for i := range 30 {
		photos["KR-1_"+string(rune('a'+i))+".jpg"] = grey(t, 640, 400+i, true)
	}
	doc, _ := photographed(t, "", photos)
	list := photographsIn(doc)
	total := 0
	for _, r := range list[0].Rows {
		for _, x := range append(r.Left, r.Right...) {
			total += len(x.JPEG)
		}
	}
	if notes := strings.Join(list[0].Notes, " "); total == 0 || total > 1_500_000 || !strings.Contains(notes, "Left out, because the photographs of a report take 1.5 MB at most: KR-1_") {
		t.Errorf("%d bytes, %q", total, notes)
	}
}
