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

// typeface is one that the page carries: its name in the style, the family and
// its licence as people know them, its files by weight and style.
type typeface struct {
	name, family, licence string
	styles                [3]faceStyle
}

type faceStyle struct{ file, weight, style string }

// The figures' typeface has the widths by which report/figure places lettering.
var typefaces = [...]typeface{
	{"Notebook", "Source Serif 4", "SourceSerif4-LICENSE.txt",
		[...]faceStyle{{"regular", "400", "normal"}, {"italic", "400", "italic"}, {"bold", "600 900", "normal"}}},
	{"Notebook Figures", "Arimo", "Arimo-LICENSE.txt",
		[...]faceStyle{{"figures-regular", "400", "normal"}, {"figures-italic", "400", "italic"}, {"figures-bold", "600 900", "normal"}}},
}

// Faces returns the typefaces of the page and its figures as style, cut down to
// the letters of reports. It is empty when the program was built without; the
// page then takes typefaces of the reader's machine.
func Faces() string {
	var out strings.Builder
	for _, t := range typefaces {
		holder, _, _ := strings.Cut(readFace(t.licence), " (")
		fmt.Fprintf(&out, "/* %s, %s, SIL Open Font License 1.1. */\n", t.family, holder)
		for _, s := range t.styles {
			data := readFace(s.file + ".woff2")
			if data == "" {
				return ""
			}
			fmt.Fprintf(&out, "@font-face { font-family: %q; font-weight: %s; font-style: %s; src: url(data:font/woff2;base64,%s) format(\"woff2\"); }\n",
				t.name, s.weight, s.style, base64.StdEncoding.EncodeToString([]byte(data)))
		}
	}
	return out.String()
}

// FacesLicence returns the licences of the typefaces, and nothing when the
// program was built without them.
func FacesLicence() string {
	var texts []string
	for _, t := range typefaces {
		if text := readFace(t.licence); text != "" {
			texts = append(texts, text)
		}
	}
	return strings.Join(texts, "\n")
}

// readFace returns a generated file, empty where there is none.
func readFace(name string) string {
	data, err := faces.ReadFile("faces/" + name)
	if err != nil {
		return ""
	}
	return string(data)
}
