package page

import (
	"embed"
	"encoding/base64"
	"fmt"
	"strings"
)

//go:generate npm --prefix web ci --no-audit --no-fund
//go:generate npm --prefix web run --silent faces

//go:embed all:faces
var faces embed.FS

// Faces returns the typeface of the page as style: regular, italic and bold,
// cut down to the letters of reports. It is empty when the program was built
// without; the page then takes a typeface of the reader's machine.
func Faces() string {
	var out strings.Builder
	for _, face := range []struct{ file, weight, style string }{
		{"regular", "400", "normal"}, {"italic", "400", "italic"}, {"bold", "600 900", "normal"},
	} {
		data, err := faces.ReadFile("faces/" + face.file + ".woff2")
		if err != nil || len(data) == 0 {
			return ""
		}
		fmt.Fprintf(&out, "@font-face { font-family: Notebook; font-weight: %s; font-style: %s; src: url(data:font/woff2;base64,%s) format(\"woff2\"); }\n",
			face.weight, face.style, base64.StdEncoding.EncodeToString(data))
	}
	holder, _, _ := strings.Cut(FacesLicence(), " (")
	return "/* Source Serif 4, " + holder + ", SIL Open Font License 1.1. */\n" + out.String()
}

// FacesLicence returns the licence of the typeface, and nothing when the
// program was built without it.
func FacesLicence() string {
	text, err := faces.ReadFile("faces/SourceSerif4-LICENSE.txt")
	if err != nil {
		return ""
	}
	return string(text)
}
