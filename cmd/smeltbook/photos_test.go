package main

import (
	"archive/zip"
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay/photo"
)

// placed is a photograph that names the place where it was taken, in XMP.
func placed(t *testing.T) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 64, 48)), nil); err != nil {
		t.Fatal(err)
	}
	xmp := "http://ns.adobe.com/xap/1.0/\x00" + `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:exif="http://ns.adobe.com/exif/1.0/" exif:GPSLatitude="51,7.05N" exif:GPSLongitude="3,7.05W"/></rdf:RDF></x:xmpmeta>`
	data := append([]byte{0xff, 0xd8, 0xff, 0xe1, byte((len(xmp) + 2) >> 8), byte(len(xmp) + 2)}, xmp...)
	return append(data, out.Bytes()[2:]...)
}

// Where a photograph was taken is told by check and is in no archive; the file of
// the campaign stays as it is.
func TestNoPlaceInTheDeposit(t *testing.T) {
	dir := t.TempDir()
	data := placed(t)
	for name, content := range map[string]string{
		"notebook.md":     "---\ntitle: T\nauthors: [\"Reeve, Ada\"]\ndate: 2026-11-02\nlicence: CC-BY-4.0\ndata: [xrf.csv]\ngroups:\n  fired: {origin: experimental}\n  dug: {origin: excavated}\ndraws: 50\n---\n\n![the bowl](bowl.jpg)\n\n```spread\ngroups: [fired, dug]\n```\n",
		"xrf.csv":         "Sample,Kind,Origin,SiO2 (wt%),FeO (wt%),CaO (wt%),Al2O3 (wt%)\nKR-1,slag,experimental,32,60,3,5\nLS-1,slag,excavated,30,62,4,4\n",
		"photos/LS-1.jpg": string(data), "bowl.jpg": string(data), "photos/KR-1.png": "no picture",
	} {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	_, out, _ := call("check", dir)
	for _, want := range []string{"photos/LS-1.jpg\n    the photograph tells where it was taken", "photos/KR-1.png\n    the photograph cannot be shown: it is no JPEG or PNG picture"} {
		if !strings.Contains(out, want) {
			t.Errorf("check does not say %q:\n%s", want, out)
		}
	}
	archive := filepath.Join(t.TempDir(), "d.zip")
	status, _, messages := call("deposit", dir, "--out", archive)
	if status != exitOK || !strings.Contains(messages, "because they told where they were taken: bowl.jpg, photos/LS-1.jpg") || !strings.Contains(messages, "no photos/KR-1.png") {
		t.Fatalf("%d %s", status, messages)
	}
	if status, _, messages := call("deposit", "--verify", archive); status != exitOK {
		t.Error(messages)
	}
	z, err := zip.OpenReader(archive)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	pictures := 0
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		content, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(content, []byte("GPSLatitude")) || bytes.Contains(content, []byte("51,7.05N")) {
			t.Errorf("%s tells the place", f.Name)
		}
		if path.Ext(f.Name) == ".jpg" {
			pictures++
			if info, err := photo.Inspect(content); err != nil || info.Located || info.Width != 64 {
				t.Errorf("%s: %+v %v", f.Name, info, err)
			}
		}
		if path.Base(f.Name) == "README.md" && !strings.Contains(string(content), "bowl.jpg, photos/LS-1.jpg") {
			t.Errorf("the README does not say what was taken out:\n%s", content)
		}
	}
	if left, err := os.ReadFile(filepath.Join(dir, "photos", "LS-1.jpg")); err != nil || !bytes.Equal(left, data) || pictures != 2 {
		t.Errorf("%d pictures; the campaign's own file changed: %t, %v", pictures, !bytes.Equal(left, data), err)
	}
}
