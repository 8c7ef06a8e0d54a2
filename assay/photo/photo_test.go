package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// corners is a picture of four colours, one a quarter, wider than high.
func corners() *image.RGBA {
	p := image.NewRGBA(image.Rect(0, 0, 96, 64))
	for y := range 64 {
		for x := range 96 {
			p.Set(x, y, quarter(x < 48, y < 32))
		}
	}
	return p
}

func quarter(left, top bool) color.RGBA {
	c := color.RGBA{A: 255}
	if left {
		c.R = 220
	}
	if top {
		c.B = 220
	}
	return c
}

func jpegOf(t testing.TB, p image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, p, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

func pngOf(t testing.TB, p image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, p); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// exif is what a camera writes: how the picture is turned and where it was
// taken (CIPA DC-008: tags Orientation, GPSInfo and, in its directory, latitude
// and longitude).
func exif(orientation uint16) []byte {
	var b bytes.Buffer
	put := func(values ...any) {
		for _, v := range values {
			_ = binary.Write(&b, binary.BigEndian, v)
		}
	}
	put([]byte("MM"), uint16(42), uint32(8))
	put(uint16(2),
		uint16(0x0112), uint16(3), uint32(1), orientation, uint16(0),
		uint16(0x8825), uint16(4), uint32(1), uint32(38), uint32(0))
	put(uint16(4),
		uint16(1), uint16(2), uint32(2), []byte("N\x00\x00\x00"), uint16(2), uint16(5), uint32(3), uint32(92),
		uint16(3), uint16(2), uint32(2), []byte("E\x00\x00\x00"), uint16(4), uint16(5), uint32(3), uint32(116), uint32(0))
	for range 2 {
		put(uint32(51), uint32(1), uint32(7), uint32(1), uint32(3), uint32(1))
	}
	return b.Bytes()
}

// inJPEG puts segments behind the start of a picture.
func inJPEG(picture []byte, segments ...[]byte) []byte {
	out := append([]byte(nil), picture[:2]...)
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, picture[2:]...)
}

func segment(mark byte, content string) []byte {
	return append([]byte{0xff, mark, byte((len(content) + 2) >> 8), byte(len(content) + 2)}, content...)
}

func inPNG(picture []byte, kind, content string) []byte {
	at := len(pngHead) + 25 // behind IHDR
	return append(appendChunk(append([]byte(nil), picture[:at]...), kind, []byte(content)), picture[at:]...)
}

const xmpPlace = `http://ns.adobe.com/xap/1.0/` + "\x00" + `<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" photoshop:City="Orrin"/></rdf:RDF></x:xmpmeta>`

// Pictures are put upright. By CIPA DC-008 the first row and the first column
// of the stored picture lie at these sides of the thing seen.
func TestUprightByOrientation(t *testing.T) {
	sides := map[uint16][2]string{1: {"top", "left"}, 2: {"top", "right"}, 3: {"bottom", "right"}, 4: {"bottom", "left"},
		5: {"left", "top"}, 6: {"right", "top"}, 7: {"right", "bottom"}, 8: {"left", "bottom"}}
	for o, side := range sides {
		for _, data := range [][]byte{
			inJPEG(jpegOf(t, corners()), segment(markAPP1, "Exif\x00\x00"+string(exif(o)))),
			inPNG(pngOf(t, corners()), "eXIf", string(exif(o))),
		} {
			info, err := Inspect(data)
			if err != nil || info.Orientation != int(o) || !info.Located {
				t.Fatalf("orientation %d: %+v %v", o, info, err)
			}
			thumb, err := Shrink(data, 48, 1<<20)
			if err != nil {
				t.Fatal(err)
			}
			w, h := 48, 32
			if o > 4 {
				w, h = 32, 48
			}
			if uw, uh := info.Upright(); thumb.Width != w || thumb.Height != h || uw < uh != (w < h) || thumb.Scale != 0.5 {
				t.Errorf("orientation %d: %d × %d, scale %g, upright %d × %d", o, thumb.Width, thumb.Height, thumb.Scale, uw, uh)
			}
			got, err := jpeg.Decode(bytes.NewReader(thumb.JPEG))
			if err != nil {
				t.Fatal(err)
			}
			// The stored first corner is red and blue.
			x, y := w/4, h/4
			for _, s := range side {
				switch s {
				case "right":
					x = w - 1 - w/4
				case "bottom":
					y = h - 1 - h/4
				}
			}
			r, g, b, _ := got.At(x, y).RGBA()
			if r>>8 < 180 || b>>8 < 180 || g>>8 > 60 {
				t.Errorf("orientation %d: at %d, %d stands %d %d %d, not the first corner", o, x, y, r>>8, g>>8, b>>8)
			}
			// The end of the first row is blue alone: it tells a mirrored picture.
			if side[0] == "top" || side[0] == "bottom" {
				x = w - 1 - x
			} else {
				y = h - 1 - y
			}
			if r, _, b, _ := got.At(x, y).RGBA(); r>>8 > 60 || b>>8 < 180 {
				t.Errorf("orientation %d: at %d, %d stands no end of the first row", o, x, y)
			}
		}
	}
}

// Nothing that a camera wrote is left in a thumbnail or after stripping, and the
// picture is what it was.
func TestNothingBesideThePictureIsLeft(t *testing.T) {
	secret := "Reeve’s phone"
	plain := jpegOf(t, corners())
	for name, data := range map[string][]byte{
		"exif": inJPEG(plain, segment(markAPP1, "Exif\x00\x00"+string(exif(6)))),
		"xmp":  inJPEG(plain, segment(markAPP1, xmpPlace)),
		"more": append(inJPEG(plain, segment(markCOM, secret), segment(0xed, "Photoshop 3.0\x00"+secret), segment(markAPP2, "MPF\x00"+secret), segment(markAPP0, "JFXX\x00"+secret), segment(markAPP1, "Exif\x00\x00"+string(exif(6)))), inJPEG(plain, segment(markCOM, secret))...),
		"png":  inPNG(inPNG(pngOf(t, corners()), "tEXt", "Author\x00"+secret), "eXIf", string(exif(6))),
	} {
		before, err := Inspect(data)
		if err != nil || !before.Located {
			t.Errorf("%s: %+v %v, want a place", name, before, err)
		}
		stripped, err := Strip(data)
		if err != nil {
			t.Fatal(err)
		}
		after, err := Inspect(stripped)
		want := before
		want.Located = false
		if d := cmp.Diff(want, after); d != "" || err != nil {
			t.Errorf("%s: %s %v", name, d, err)
		}
		a, _, err := image.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		b, _, err := image.Decode(bytes.NewReader(stripped))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(a, b); d != "" {
			t.Errorf("%s: another picture", name)
		}
		thumb, err := Shrink(data, 64, 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		for _, out := range [][]byte{stripped, thumb.JPEG} {
			if bytes.Contains(out, []byte(secret)) || bytes.Contains(out, []byte("Orrin")) || bytes.Contains(out, []byte{0x88, 0x25, 0, 4}) {
				t.Errorf("%s: something is left", name)
			}
		}
		if bytes.Contains(thumb.JPEG, []byte("Exif")) {
			t.Errorf("%s: a thumbnail has tags", name)
		}
	}
}

// What cannot be read is refused before room is made for it.
func TestRefusesWithASentence(t *testing.T) {
	bomb := []byte(pngHead)
	bomb = appendChunk(bomb, "IHDR", []byte{0, 1, 0x86, 0xa0, 0, 1, 0x86, 0xa0, 8, 2, 0, 0, 0})
	whole := jpegOf(t, corners())
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":    {nil, "it is empty"},
		"text":     {[]byte("no picture at all"), "it is no JPEG or PNG picture"},
		"bomb":     {bomb, "100000 × 100000 pixels, more than the 50 million"},
		"cut":      {whole[:len(whole)/2], "it is damaged"},
		"too long": {make([]byte, MaxBytes+1), "more than 40"},
	} {
		_, err := Shrink(c.data, 64, 1<<20)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A picture that does not compress well loses quality until it fits.
func TestThumbnailsKeepTheirRoom(t *testing.T) {
	noisy := image.NewRGBA(image.Rect(0, 0, 600, 400))
	state := uint32(1)
	for i := range noisy.Pix {
		state = state*1664525 + 1013904223
		noisy.Pix[i] = byte(state >> 24)
	}
	data := pngOf(t, noisy)
	free, err := Shrink(data, 400, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	tight, err := Shrink(data, 400, len(free.JPEG)*2/3)
	if err != nil || len(tight.JPEG) > len(free.JPEG)*2/3 || tight.Width != 400 {
		t.Errorf("%d bytes of %d, %d wide, %v", len(tight.JPEG), len(free.JPEG), tight.Width, err)
	}
	again, _ := Shrink(data, 400, 1<<20)
	if !bytes.Equal(free.JPEG, again.JPEG) {
		t.Error("the same photograph gives other bytes")
	}
}

func FuzzPhotograph(f *testing.F) {
	small := image.NewRGBA(image.Rect(0, 0, 9, 5))
	f.Add(inJPEG(jpegOf(f, small), segment(markAPP1, "Exif\x00\x00"+string(exif(6))), segment(markAPP1, xmpPlace)))
	f.Add(inPNG(pngOf(f, small), "eXIf", string(exif(3))))
	f.Add(jpegOf(f, small)[:200])
	f.Fuzz(func(t *testing.T, data []byte) {
		if info, err := Inspect(data); err != nil || info.Width*info.Height > 1<<16 {
			return // large ones are only slow
		}
		thumb, err := Shrink(data, 32, 4096)
		if err != nil {
			return
		}
		c, err := jpeg.DecodeConfig(bytes.NewReader(thumb.JPEG))
		if err != nil || c.Width != thumb.Width || c.Height != thumb.Height || max(c.Width, c.Height) > 32 {
			t.Fatalf("thumbnail %+v: %v", c, err)
		}
		stripped, err := Strip(data)
		if err != nil {
			return
		}
		info, err := Inspect(stripped)
		if err != nil || info.Located {
			t.Fatalf("after stripping %+v: %v", info, err)
		}
		if _, err := Shrink(stripped, 32, 4096); err != nil {
			t.Fatalf("stripping broke the picture: %v", err)
		}
	})
}
