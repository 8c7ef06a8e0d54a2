package page

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strings"
)

// Photographs sets pictures of pieces on facing pages, a row a pair.
type Photographs struct {
	Number      int // among the figures
	ID          string
	Caption     string
	Left, Right Leaf
	Rows        []PhotographRow
	Notes       []string
}

// PhotographRow is the pictures of one pair; a page may have none.
type PhotographRow struct {
	Name        string
	Left, Right []Photograph
}

// Photograph is one picture. A picture that stands in several places is in the
// page once: the others have its ID and no data.
type Photograph struct {
	ID            string
	JPEG          []byte
	Width, Height int // pixels
	Alt           string
	Caption       string
	Pixel         float64 // mm that a pixel shows; 0 where nobody knows
	Share         float64 // of the room that the widest picture of the row has
}

func (*Photographs) part() {}

// photographView is a picture made ready.
type photographView struct {
	Photograph
	Data     template.URL
	Percent  int
	Bar      *scaleBar
	Unscaled bool
}

// scaleBar is a bar of a round length, as wide as a part of its picture.
type scaleBar struct {
	Percent string
	Text    string
}

type photographRowView struct {
	Name        string
	Left, Right []photographView
}

type photographsView struct {
	*Photographs
	Rows []photographRowView
}

func viewPhotographs(p *Photographs) *photographsView {
	v := &photographsView{Photographs: p}
	views := func(list []Photograph) (out []photographView) {
		for _, x := range list {
			pv := photographView{Photograph: x, Percent: int(math.Round(100 * x.Share)), Bar: barOf(x), Unscaled: x.Pixel == 0}
			if x.JPEG != nil {
				pv.Data = template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(x.JPEG))
			}
			out = append(out, pv)
		}
		return out
	}
	for _, r := range p.Rows {
		v.Rows = append(v.Rows, photographRowView{r.Name, views(r.Left), views(r.Right)})
	}
	return v
}

// barOf is the longest bar of 1, 2 or 5 of a power of ten that is no longer than
// two fifths of the picture.
func barOf(p Photograph) *scaleBar {
	if !(p.Pixel > 0) {
		return nil
	}
	wide := p.Pixel * float64(p.Width) // mm
	step := math.Pow(10, math.Floor(math.Log10(0.4*wide)))
	length := step
	for _, f := range []float64{2, 5} {
		if f*step <= 0.4*wide {
			length = f * step
		}
	}
	text := fmt.Sprintf("%g mm", length)
	switch {
	case length >= 1000:
		text = fmt.Sprintf("%g m", length/1000)
	case length >= 100:
		text = fmt.Sprintf("%g cm", length/10)
	case length < 1:
		text = fmt.Sprintf("%g µm", math.Round(1e4*length)/10)
	}
	return &scaleBar{Percent: fmt.Sprintf("%.2f", 100*length/wide), Text: text}
}

func (p *Photographs) check() error {
	if !figureID.MatchString(p.ID) {
		return fmt.Errorf("page: the id %q of photographs should be letters, digits and hyphens, starting with a letter", p.ID)
	}
	for _, r := range p.Rows {
		for _, x := range append(append([]Photograph{}, r.Left...), r.Right...) {
			switch {
			case !figureID.MatchString(x.ID) || x.Width < 1 || x.Height < 1 || !(x.Share > 0 && x.Share <= 1):
				return fmt.Errorf("page: the photograph %q has no size or no name", x.ID)
			case strings.TrimSpace(x.Alt) == "":
				return fmt.Errorf("page: the photograph %q has no description", x.ID)
			case x.JPEG != nil && !bytes.HasPrefix(x.JPEG, []byte{0xff, 0xd8, 0xff}):
				return fmt.Errorf("page: the photograph %q is no JPEG", x.ID)
			}
		}
	}
	return nil
}

// pictures returns the ids of the pictures that this part brings along.
func (p *Photographs) pictures() (ids []string) {
	for _, r := range p.Rows {
		for _, x := range append(append([]Photograph{}, r.Left...), r.Right...) {
			if x.JPEG != nil {
				ids = append(ids, x.ID)
			}
		}
	}
	return ids
}
