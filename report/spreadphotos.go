package report

import (
	"crypto/sha256"
	"fmt"
	"maps"
	"math"
	"os"
	"path"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/photo"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// Sizes of photographs in the report: two pixels of a thumbnail for one of the
// page, and no more for all of them than a page can bear that is sent by mail.
const (
	thumbSide      = 640      // pixels of the longer side
	thumbBytes     = 72_000   // of one
	allThumbsBytes = 1500_000 // of a report
)

// oneScale is how many times wider than the other a picture of a pair may show,
// for the two to be drawn to one scale.
const oneScale = 4

// photographsUsed is what the photographs of a report come to.
type photographsUsed struct {
	bytes  int
	shown  map[string]bool        // pairings whose photographs were shown
	pieces map[*assay.Sample]bool // samples whose photographs were
	thumbs map[string]*thumbOf
	files  []page.File // originals, in the order they are used
	left   []string    // left out because the report would become too large
}

// thumbOf is a photograph made small; why says what is wrong with it.
type thumbOf struct {
	photo.Thumbnail
	id     string
	placed bool
	pixel  float64 // mm
	why    string
}

// photographs sets what pictures there are of matched pieces, and of those
// without a match, on facing pages; nil where there are none, or where they
// stand in the report already and the notebook does not ask for them again. A piece
// without a match is not shown a second time.
func (b *builder) photographs(groups pair, p pairing, asked *bool) *page.Photographs {
	if asked != nil && !*asked || len(b.study.Campaign.Photographs) == 0 {
		return nil
	}
	if b.photos.shown[p.key(groups)] && asked == nil {
		return nil
	}
	out := &page.Photographs{Left: leaf(groups[0]), Right: leaf(groups[1])}
	seen := map[*assay.Sample]bool{}
	add := func(name string, left, right *assay.Sample) {
		row := page.PhotographRow{Name: name, Left: b.photographsOf(left), Right: b.photographsOf(right)}
		alone := len(row.Left) == 0 || len(row.Right) == 0
		if alone && (len(row.Left) == 0 || seen[left]) && (len(row.Right) == 0 || seen[right]) {
			return // nothing that was not shown with another piece
		}
		seen[left], seen[right] = true, true
		toOneScale(&row)
		out.Rows = append(out.Rows, row)
	}
	for i, x := range p.pairs {
		add(fmt.Sprint("pair ", i+1), x.left, x.right)
	}
	matched := len(out.Rows)
	for i, g := range groups {
		for _, s := range g.Samples {
			sides := [2]*assay.Sample{}
			if sides[i] = s; !p.has(s) && (asked != nil || !b.photos.pieces[s]) {
				add(s.ID, sides[0], sides[1])
			}
		}
	}
	if len(out.Rows) == 0 {
		return nil
	}
	if b.photos.shown == nil {
		b.photos.shown, b.photos.pieces = map[string]bool{}, map[*assay.Sample]bool{}
	}
	maps.Copy(b.photos.pieces, seen)
	b.photos.shown[p.key(groups)] = true
	b.figures++
	out.Number, out.ID = b.figures, fmt.Sprintf("figure-%d", b.figures)
	out.Caption = fmt.Sprintf("Photographs of pieces, left %s, right %s. The two of a pair are drawn to one scale where both scales are known.", groups[0].Label(), groups[1].Label())
	if matched == 0 {
		out.Caption = fmt.Sprintf("Photographs of pieces, left %s, right %s.", groups[0].Label(), groups[1].Label())
	}
	if len(b.photos.left) > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("Left out, because the photographs of a report take %.1f MB at most: %s.", float64(allThumbsBytes)/1e6, fewOf(b.photos.left)))
	}
	return out
}

func (p pairing) has(s *assay.Sample) bool {
	for _, x := range p.pairs {
		if x.left == s || x.right == s {
			return true
		}
	}
	return false
}

// photographsOf are those of one sample.
func (b *builder) photographsOf(s *assay.Sample) (out []page.Photograph) {
	if s == nil {
		return nil
	}
	for _, p := range b.study.Campaign.Photographs {
		if p.Sample != s.ID {
			continue
		}
		t := b.thumb(p)
		if t.why != "" {
			continue
		}
		x := page.Photograph{ID: t.id, Width: t.Width, Height: t.Height, Alt: altOf(p, s), Caption: strings.Join(nonEmpty(s.ID, p.Caption), ": "), Pixel: t.pixel, Share: 1}
		if !t.placed {
			x.JPEG, t.placed = t.JPEG, true
		}
		out = append(out, x)
	}
	return out
}

// altOf describes a photograph to those who cannot see it.
func altOf(p photo.Photograph, s *assay.Sample) string {
	return strings.Join(nonEmpty(fmt.Sprintf("Photograph of %s %s", s.Kind, s.ID), p.Caption), ": ") + "."
}

// thumb makes a photograph small, once, and tells what is wrong with it.
func (b *builder) thumb(p photo.Photograph) *thumbOf {
	if t, ok := b.photos.thumbs[p.File]; ok {
		return t
	}
	if b.photos.thumbs == nil {
		b.photos.thumbs = map[string]*thumbOf{}
	}
	t := &thumbOf{id: fmt.Sprintf("photo-%d", len(b.photos.thumbs)+1)}
	b.photos.thumbs[p.File] = t
	data, err := photo.Read(os.DirFS(b.study.Campaign.Dir), p.File)
	if err == nil {
		t.Thumbnail, err = photo.Shrink(data, thumbSide, thumbBytes)
	}
	switch {
	case err != nil:
		t.why = err.Error()
		var ns source.Notices
		ns.Add(source.Warning, "PHOTOGRAPH", source.Cell{File: p.File}, "the photograph is left out: %v", err)
		b.notices = append(b.notices, ns...)
		b.entry.Parts = append(b.entry.Parts, &page.Notices{List: ns})
		return t
	case b.photos.bytes+len(t.JPEG) > allThumbsBytes:
		t.why = "no room"
		b.photos.left = append(b.photos.left, path.Base(p.File))
		return t
	}
	b.photos.bytes += len(t.JPEG)
	b.photos.files = append(b.photos.files, page.File{Name: p.File, SHA256: fmt.Sprintf("%x", sha256.Sum256(data)), Bytes: int64(len(data))})
	if mm := p.Scale(int(math.Round(float64(t.Width) / t.Thumbnail.Scale))); mm > 0 {
		t.pixel = mm / t.Thumbnail.Scale
	}
	return t
}

// toOneScale draws the pictures of a row to one scale, where each has one and
// they do not differ too much.
func toOneScale(row *page.PhotographRow) {
	var all []*page.Photograph
	least, most := math.Inf(1), 0.0
	for _, side := range [][]page.Photograph{row.Left, row.Right} {
		for i := range side {
			wide := side[i].Pixel * float64(side[i].Width)
			if wide == 0 {
				return
			}
			least, most = min(least, wide), max(most, wide)
			all = append(all, &side[i])
		}
	}
	if most > oneScale*least {
		return
	}
	for _, x := range all {
		x.Share = x.Pixel * float64(x.Width) / most
	}
}
