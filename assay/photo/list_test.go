package photo

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"smeltbook/assay/sheet"
)

func recordsOf(t *testing.T, text string) []sheet.Records {
	t.Helper()
	file := filepath.Join(t.TempDir(), "photos.csv")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	book, err := sheet.Read(context.Background(), file, "field/photos.csv", sheet.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return book.Records
}

func TestListOfPhotographs(t *testing.T) {
	ids := []string{"KR-S01", "KR-S02", "KR-S01b", "LS-S01"}
	resolve := func(id string) (string, bool) {
		for _, x := range ids {
			if strings.EqualFold(x, id) {
				return x, true
			}
		}
		return "", false
	}
	files := fstest.MapFS{}
	for _, name := range []string{"kr-s01.JPG", "KR-S01b.png", "KR-S02 section.jpeg", "IMG_0042.jpg", "IMG_0043.jpg", "LS-S01.heic", "notes.txt", ".hidden.jpg", "KR-S0l.jpg", "sub/LS-S01.jpg"} {
		files["photos/"+name] = &fstest.MapFile{Data: []byte("x")}
	}
	sheets := recordsOf(t, `Photograph,Sample,Caption,Width (mm),Scale (µm/pixel)
IMG_0042.jpg,ls-s01,"broken face",84,
photos/IMG_0043.jpg,LS-S99,,,
kr-s01.JPG,,top,,25
gone.jpg,KR-S02,,,
kr-s01.JPG,,again,,
KR-S02 section.jpeg,,,about four,
yes,KR-S02,,,
`)
	got, ns := List(files, sheets, ids, resolve)
	by := map[string]Photograph{}
	for _, p := range got {
		by[p.File] = p
	}
	if len(got) != 4 {
		t.Errorf("%d photographs: %+v", len(got), got)
	}
	if p := by["photos/IMG_0042.jpg"]; p.Sample != "LS-S01" || p.Caption != "broken face" || p.Width != 84 || p.Scale(840) != 0.1 {
		t.Errorf("%+v", p)
	}
	if p := by["photos/kr-s01.JPG"]; p.Sample != "KR-S01" || p.Caption != "top" || math.Abs(p.Scale(1000)-0.025) > 1e-12 {
		t.Errorf("%+v", p)
	}
	if p := by["photos/KR-S01b.png"]; p.Sample != "KR-S01b" || !math.IsNaN(p.Scale(100)) {
		t.Errorf("%+v", p)
	}
	if p := by["photos/KR-S02 section.jpeg"]; p.Sample != "KR-S02" || !math.IsNaN(p.Scale(100)) {
		t.Errorf("%+v", p)
	}
	var said []string
	for _, n := range ns {
		said = append(said, n.Error())
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{
		`field/photos.csv, cell B3: the photograph IMG_0043.jpg is said to show "LS-S99", which is no sample; did you mean "LS-S01"?`,
		`field/photos.csv, cell A6: the photograph kr-s01.JPG stands at`, `field/photos.csv, cell A5: there is no file photos/gone.jpg; check`,
		`field/photos.csv, cell D7: "about four" is no length above zero`, `photos: named after no sample, and left out: IMG_0043.jpg, KR-S0l.jpg; name a photograph after its sample, as in KR-S01.jpg, or state the sample in a sheet with the columns Photograph and Sample; is KR-S0l.jpg meant to be of KR-S01?`,
		`photos/LS-S01.heic: photographs are read as .jpg or .png, and this is a .heic file`,
	} {
		if !strings.Contains(all, want) {
			t.Errorf("nobody says %q:\n%s", want, all)
		}
	}
	if len(said) != 6 {
		t.Errorf("%d notices:\n%s", len(said), all)
	}
}

func TestNoFolderNoPhotographs(t *testing.T) {
	if got, ns := List(fstest.MapFS{}, nil, nil, nil); len(got) > 0 || len(ns) > 0 {
		t.Errorf("%v %v", got, ns)
	}
	_, ns := List(fstest.MapFS{}, recordsOf(t, "Photograph,Sample,Width\nA.jpg,A,12\n"), []string{"A"}, func(id string) (string, bool) { return id, true })
	if len(ns) != 2 || !strings.Contains(ns[0].Message, "does not say its unit") {
		t.Errorf("%v", ns)
	}
}
