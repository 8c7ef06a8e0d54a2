package figure

import (
	"strings"
	"unicode"

	"gonum.org/v1/plot/vg/recorder"
)

// PrintWidths are the usual widths of figures in journals, in millimetres: one
// column, one and a half, and the page (common practice).
var PrintWidths = [3]float64{90, 140, 190}

// PrintWidth is the width of PrintWidths that suits the figure: the page for
// facing pages, else the narrowest at which no word is left out that the page
// would show.
//
// The error is that of Validate.
func (f Figure) PrintWidth() (float64, error) {
	page := PrintWidths[len(PrintWidths)-1]
	whole, err := f.words(page)
	if err != nil || f.faces() {
		return page, err
	}
	for _, mm := range PrintWidths[:len(PrintWidths)-1] {
		some, err := f.words(mm)
		if err != nil {
			return page, err
		}
		if keepsAll(some, whole) {
			return mm, nil
		}
	}
	return page, nil
}

// faces tells whether the figure stands on two facing pages.
func (f Figure) faces() bool {
	switch f.Body.(type) {
	case *Facing, *Profile, *Curves:
		return true
	}
	return false
}

// words are the words that the figure shows at a width; numbers do not
// count, since axes show fewer of them where they are short.
func (f Figure) words(widthMM float64) (map[string]bool, error) {
	d, err := f.drawing(widthMM)
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, line := range d.on(new(recorder.Canvas)).lines {
		for _, word := range strings.Fields(line) {
			if strings.ContainsFunc(word, unicode.IsLetter) {
				out[word] = true
			}
		}
	}
	return out, nil
}

func keepsAll(some, whole map[string]bool) bool {
	for word := range whole {
		if !some[word] {
			return false
		}
	}
	return true
}
