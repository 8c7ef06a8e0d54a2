package figure_test

import (
	"bytes"
	"encoding/binary"
	"image/png"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"rsc.io/pdf"

	"smeltbook/report/figure"
	"smeltbook/report/figure/figuretest"
)

func export(t *testing.T, f figure.Figure, as figure.Format, mm float64) []byte {
	t.Helper()
	file, err := f.Export(as, mm)
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// sheetOfPaper is what a reader that is none of ours finds in a PDF file.
type sheetOfPaper struct {
	widthMM float64
	fonts   []pdf.Font
	sizes   []float64 // of letters, in points
	texts   string
}

func readPDF(t *testing.T, file []byte) sheetOfPaper {
	t.Helper()
	doc, err := pdf.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	if n := doc.NumPage(); n != 1 {
		t.Fatalf("the document has %d pages", n)
	}
	p := doc.Page(1)
	box := p.V.Key("MediaBox")
	if box.IsNull() {
		box = p.V.Key("Parent").Key("MediaBox")
	}
	out := sheetOfPaper{widthMM: (box.Index(2).Float64() - box.Index(0).Float64()) / 72 * 25.4}
	for _, name := range p.Fonts() {
		out.fonts = append(out.fonts, p.Font(name))
	}
	pdf.Interpret(p.V.Key("Contents"), func(stack *pdf.Stack, operator string) {
		var operands []pdf.Value
		for stack.Len() > 0 {
			operands = append(operands, stack.Pop()) // the last first
		}
		switch operator {
		case "Tf":
			out.sizes = append(out.sizes, operands[0].Float64())
		case "Tj":
			raw := operands[0].RawString() // two bytes a letter
			for i := 0; i+1 < len(raw); i += 2 {
				out.texts += string(rune(raw[i])<<8 | rune(raw[i+1]))
			}
			out.texts += "\n"
		}
	})
	return out
}

// A document has the width asked for, and letters of 7 to 9 pt at every width
// in faces that it holds itself, as journals ask (Elsevier, Artwork and media
// instructions: sizing, types).
func TestPDFForJournals(t *testing.T) {
	for _, f := range figuretest.All() {
		for _, mm := range figure.PrintWidths {
			p := readPDF(t, export(t, f, figure.AsPDF, mm))
			if math.Abs(p.widthMM-mm) > 0.01 {
				t.Errorf("%s: the page is %.3f mm wide, want %v", f.ID, p.widthMM, mm)
			}
			if len(p.fonts) == 0 || len(p.sizes) < 5 {
				t.Fatalf("%s: %d faces, %d texts", f.ID, len(p.fonts), len(p.sizes))
			}
			for _, face := range p.fonts {
				descriptor := face.V.Key("DescendantFonts").Index(0).Key("FontDescriptor")
				if descriptor.Key("FontFile2").Kind() != pdf.Stream || face.V.Key("ToUnicode").Kind() != pdf.Stream {
					t.Errorf("%s: the face %s is not embedded, or its text cannot be searched", f.ID, face.BaseFont())
				}
			}
			for _, size := range p.sizes {
				if size < 7 || size > 9 {
					t.Errorf("%s at %v mm has letters of %v pt", f.ID, mm, size)
				}
			}
		}
	}
}

var subscript = regexp.MustCompile("[₀-₉]")

// What the drawing for the page letters, the document letters as text: it can
// be searched, with subscripts, signs and Greek. Subscripts are pieces of their own,
// set close, which readers join to one word.
func TestPDFKeepsText(t *testing.T) {
	for _, f := range figuretest.All() {
		got := readPDF(t, export(t, f, figure.AsPDF, 140)).texts
		for _, want := range parse(t, mustSVG(t, f, 140)).texts {
			want = strings.TrimSpace(subscript.ReplaceAllString(want, "\n$0\n"))
			want = strings.ReplaceAll(want, "\n\n", "\n")
			if !strings.Contains(got, want) {
				t.Errorf("%s: the document does not hold %q", f.ID, want)
			}
		}
	}
}

// Texts from sheets may hold anything.
func TestPDFOfHostileText(t *testing.T) {
	for _, f := range figuretest.Hostile("(b\\)) a😀\x00\xff 銅 ← ₂ σ") {
		if p := readPDF(t, export(t, f, figure.AsPDF, 140)); !strings.Contains(p.texts, "(b\\)) ") {
			t.Errorf("%s: the document holds %q", f.ID, p.texts)
		}
	}
}

func TestExportSameBytesTwice(t *testing.T) {
	for _, f := range figuretest.All() {
		for _, as := range []figure.Format{figure.AsSVG, figure.AsPDF} {
			a, b := export(t, f, as, 90), export(t, f, as, 90)
			if !bytes.Equal(a, b) {
				t.Errorf("%s: two files as %s differ", f.ID, as)
			}
			if bytes.Contains(a, []byte("Date")) {
				t.Errorf("%s as %s holds a date", f.ID, as)
			}
		}
	}
}

// 600 dots an inch, to the point, and said in the file so that programs place
// it at its size (W3C, Portable Network Graphics, pHYs: dots per metre).
func TestPNGForJournals(t *testing.T) {
	for _, f := range []figure.Figure{figuretest.Ternary(4, 3), figuretest.Bands(2)} {
		file := export(t, f, figure.AsPNG, 90)
		config, err := png.DecodeConfig(bytes.NewReader(file))
		if err != nil {
			t.Fatal(err)
		}
		height, err := strconv.ParseFloat(strings.TrimSuffix(parse(t, mustSVG(t, f, 90)).attrs["height"], "mm"), 64)
		if err != nil {
			t.Fatal(err)
		}
		if want := 2126; config.Width != want || math.Abs(float64(config.Height)-height/25.4*600) > 1 {
			t.Errorf("%s has %d × %d points, want %d × %.0f", f.ID, config.Width, config.Height, want, height/25.4*600)
		}
		at := bytes.Index(file, []byte("pHYs"))
		if at < 0 || binary.BigEndian.Uint32(file[at+4:]) != 23622 || binary.BigEndian.Uint32(file[at+8:]) != 23622 || file[at+12] != 1 {
			t.Errorf("%s does not say that it has 600 dots an inch", f.ID)
		}
		if _, err := png.Decode(bytes.NewReader(file)); err != nil { // checks every chunk's sum
			t.Errorf("%s: %v", f.ID, err)
		}
	}
}

// A drawing as SVG needs no face: all letters are outlines.
func TestSVGForJournals(t *testing.T) {
	for _, f := range figuretest.All() {
		doc := parse(t, export(t, f, figure.AsSVG, 90))
		if n := doc.elements["text"]; n > 0 {
			t.Errorf("%s has %d texts", f.ID, n)
		}
		onPage := parse(t, mustSVG(t, f, 90))
		if got, want := doc.elements["path"]-onPage.elements["path"], onPage.elements["text"]; got != want {
			t.Errorf("%s has %d outlines of %d texts", f.ID, got, want)
		}
		if doc.attrs["width"] != "90mm" || doc.attrs["viewBox"] != onPage.attrs["viewBox"] {
			t.Errorf("%s is %s wide in %s", f.ID, doc.attrs["width"], doc.attrs["viewBox"])
		}
	}
}

func TestPrintWidth(t *testing.T) {
	for _, tt := range []struct {
		figure figure.Figure
		want   float64
	}{
		{figuretest.Facing(4, 3), 190}, {figuretest.Profile(2, 2), 190}, {figuretest.Viscosity(3, 2), 190},
		{figuretest.Bands(2), 90},
		{figuretest.Hostile(strings.Repeat("a long name in several words ", 4))[0], 190},
	} {
		if got, err := tt.figure.PrintWidth(); err != nil || got != tt.want {
			t.Errorf("%s: %v mm, %v; want %v", tt.figure.ID, got, err, tt.want)
		}
	}
}

// A triangle is as narrow as the names of its fields allow.
func TestPrintWidthKeepsNames(t *testing.T) {
	f := figuretest.Ternary(4, 3)
	mm, err := f.PrintWidth()
	if err != nil {
		t.Fatal(err)
	}
	for _, width := range figure.PrintWidths {
		all := true
		texts := parse(t, mustSVG(t, f, width)).texts
		for _, field := range f.Body.(*figure.Ternary).Fields {
			all = all && contains(texts, field.Text)
		}
		if all != (width >= mm) {
			t.Errorf("at %v mm every field has its name: %v; the figure takes %v mm", width, all, mm)
		}
	}
}

func TestLinesForJournals(t *testing.T) {
	for _, f := range figuretest.All() {
		for _, mm := range figure.PrintWidths {
			figure.CheckLines(t, f, mm)
		}
	}
}

func TestExportRefuses(t *testing.T) {
	f := figuretest.Ternary(2, 2)
	for _, mm := range []float64{0, -90, 79, 401, math.NaN(), math.Inf(1)} {
		if _, err := f.Export(figure.AsPDF, mm); err == nil || !strings.Contains(err.Error(), "is not between 80 and 400 mm") {
			t.Errorf("%v mm: %v", mm, err)
		}
	}
	if _, err := f.Export("eps", 90); err == nil || !strings.Contains(err.Error(), "use svg, pdf or png") {
		t.Errorf("eps: %v", err)
	}
}

// Replica and excavated slag must differ in a grey print: by the lightness of
// their marks (L* of CIE 1976), as parts of bars do, besides their shape.
func TestGroupsDifferInGrey(t *testing.T) {
	if d := lightness(t, figure.LookOf(1).Fill) - lightness(t, figure.LookOf(0).Fill); d < 25 {
		t.Errorf("marks of the two groups differ by %.1f in lightness", d)
	}
}
