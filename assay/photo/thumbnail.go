package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"

	"golang.org/x/image/draw"
)

// Thumbnail is a small copy of a photograph, upright, with nothing in it but the
// picture.
type Thumbnail struct {
	JPEG          []byte
	Width, Height int     // pixels
	Scale         float64 // pixels of the thumbnail for one of the photograph
}

// qualities are tried from the best until a thumbnail is small enough.
var qualities = []int{76, 64, 50, 38}

// Shrink makes a thumbnail whose longer side has at most side pixels and that
// takes at most bytes, as far as quality can bring that about. The error is half
// a sentence, as that of Inspect.
func Shrink(data []byte, side, most int) (Thumbnail, error) {
	info, err := Inspect(data)
	if err != nil {
		return Thumbnail{}, err
	}
	picture, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return Thumbnail{}, fmt.Errorf("it is damaged; open it in a picture program and save it again")
	}
	b := picture.Bounds()
	scale := min(1, float64(side)/float64(max(b.Dx(), b.Dy())))
	small := image.NewRGBA(image.Rect(0, 0, max(1, int(scale*float64(b.Dx())+0.5)), max(1, int(scale*float64(b.Dy())+0.5))))
	draw.Draw(small, small.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src) // what is transparent lies on paper
	draw.CatmullRom.Scale(small, small.Bounds(), picture, b, draw.Over, nil)
	upright := turned(small, info.Orientation)
	t := Thumbnail{Width: upright.Bounds().Dx(), Height: upright.Bounds().Dy(), Scale: scale}
	for _, q := range qualities {
		var out bytes.Buffer
		if err := jpeg.Encode(&out, upright, &jpeg.Options{Quality: q}); err != nil {
			return Thumbnail{}, fmt.Errorf("it cannot be made small: %w", err)
		}
		if t.JPEG = out.Bytes(); len(t.JPEG) <= most {
			break
		}
	}
	return t, nil
}

// turned puts a picture upright by its EXIF orientation (CIPA DC-008, tag
// Orientation): 2 mirrored, 3 turned about, 4 upside down, 5 to 8 with rows and
// columns exchanged as well.
func turned(p *image.RGBA, orientation int) *image.RGBA {
	if orientation <= 1 {
		return p
	}
	w, h := p.Bounds().Dx(), p.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	if orientation > 4 {
		out = image.NewRGBA(image.Rect(0, 0, h, w))
	}
	for y := range h {
		for x := range w {
			tx, ty := x, y
			switch orientation {
			case 2:
				tx = w - 1 - x
			case 3:
				tx, ty = w-1-x, h-1-y
			case 4:
				ty = h - 1 - y
			case 5:
				tx, ty = y, x
			case 6:
				tx, ty = h-1-y, x
			case 7:
				tx, ty = h-1-y, w-1-x
			case 8:
				tx, ty = y, w-1-x
			}
			out.SetRGBA(tx, ty, p.RGBAAt(x, y))
		}
	}
	return out
}
