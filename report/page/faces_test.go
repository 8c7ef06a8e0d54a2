package page

import (
	"encoding/base64"
	"regexp"
	"strings"
	"testing"
)

// madeFaces returns the typeface, or skips the test in a build without.
func madeFaces(t *testing.T) string {
	t.Helper()
	css := Faces()
	if css == "" {
		t.Skip("built without the typeface; go generate makes it")
	}
	return css
}

// The typefaces are in the page itself, as WOFF2 (W3C, WOFF File Format 2.0: the
// signature wOF2), with its licence named, and adds less than 220 kB.
func TestFaces(t *testing.T) {
	css := madeFaces(t)
	if len(css) > 220_000 {
		t.Errorf("the faces add %d bytes", len(css))
	}
	found := regexp.MustCompile(`url\(data:font/woff2;base64,([^)]*)\)`).FindAllStringSubmatch(css, -1)
	if len(found) != 6 {
		t.Fatalf("%d faces", len(found))
	}
	for _, f := range found {
		data, err := base64.StdEncoding.DecodeString(f[1])
		if err != nil || string(data[:4]) != "wOF2" {
			t.Errorf("a face begins with %q: %v", data[:4], err)
		}
	}
	if strings.Contains(css, "://") {
		t.Error("the faces name an address")
	}
	if !strings.Contains(css, "Copyright 2014 The Source Serif 4 Project Authors, SIL Open Font License") || !strings.Contains(css, "The Arimo Project Authors, SIL Open Font License") || !strings.Contains(FacesLicence(), "SIL OPEN FONT LICENSE Version 1.1") {
		t.Error("the licence of the faces is not told")
	}
	page := render(t, sampleDocument(), Assets{Faces: css})
	if !strings.Contains(page, css) {
		t.Error("the page does not hold the faces as they are")
	}
	if !strings.Contains(page, "font-src data:;") {
		t.Error("the page's policy does not let its faces in")
	}
}
