// Package photo reads photographs of samples: which there are, whether they can
// be shown, and small copies of them without anything that a camera wrote
// beside the picture. It knows JPEG and PNG.
package photo

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // the formats that are read
	_ "image/png"
	"path"
	"strings"

	"github.com/bep/imagemeta"
)

// Limits of what is read. A picture is held against them by its heading, before
// room for its pixels is made.
const (
	MaxBytes  = 40 << 20
	MaxPixels = 50_000_000
)

// Info is what the heading of a photograph tells.
type Info struct {
	Format        string // "jpeg" or "png"
	Width, Height int    // pixels, as stored
	Orientation   int    // 1 to 8 as EXIF counts; 1 where it says none
	Located       bool   // it tells where it was taken
}

// Known reports whether a file's name is that of a photograph that can be read;
// why says what to do with pictures of other kinds and is empty for files that
// are none.
func Known(name string) (ok bool, why string) {
	switch ext := strings.ToLower(path.Ext(name)); ext {
	case ".jpg", ".jpeg", ".png":
		return true, ""
	case ".heic", ".heif", ".tif", ".tiff", ".webp", ".gif", ".bmp", ".avif", ".dng", ".cr2", ".cr3", ".nef", ".arw", ".orf", ".raf", ".rw2", ".svg", ".pdf", ".jfif":
		return false, fmt.Sprintf("photographs are read as .jpg or .png, and this is a %s file; save it as one of the two", ext)
	}
	return false, ""
}

// Inspect reads the heading of a photograph. The error is half a sentence that
// says what is wrong with it and what to do.
func Inspect(data []byte) (Info, error) {
	if len(data) == 0 {
		return Info{}, fmt.Errorf("it is empty; copy it again")
	}
	if len(data) > MaxBytes {
		return Info{}, fmt.Errorf("it has %d MB, more than %d; save it smaller", len(data)>>20, MaxBytes>>20)
	}
	c, format, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || c.Width < 1 || c.Height < 1 {
		return Info{}, fmt.Errorf("it is no JPEG or PNG picture, or it is damaged; open it in a picture program and save it again")
	}
	if c.Width > MaxPixels/c.Height {
		return Info{}, fmt.Errorf("it has %d × %d pixels, more than the %d million that are read; save it smaller", c.Width, c.Height, MaxPixels/1_000_000)
	}
	info := Info{Format: format, Width: c.Width, Height: c.Height, Orientation: 1}
	info.readTags(data)
	return info, nil
}

// places are tags that name a place, of EXIF, IPTC and XMP.
var places = map[string]bool{"City": true, "Sublocation": true, "Sub-location": true, "Location": true, "LocationCreated": true, "LocationShown": true, "ContentLocationName": true,
	"Province-State": true, "State": true, "Country": true, "CountryCode": true, "CountryName": true, "Country-PrimaryLocationName": true, "Country-PrimaryLocationCode": true}

// readTags takes orientation and place from what the camera wrote. Tags that
// cannot be read say nothing.
func (i *Info) readTags(data []byte) {
	format := imagemeta.JPEG
	if i.Format == "png" {
		format = imagemeta.PNG
	}
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: bytes.NewReader(data), ImageFormat: format, Sources: imagemeta.EXIF | imagemeta.IPTC | imagemeta.XMP,
		ShouldHandleTag: func(imagemeta.TagInfo) bool { return true },
		HandleTag: func(t imagemeta.TagInfo) error {
			if strings.HasPrefix(t.Tag, "GPS") && t.Tag != "GPSVersionID" && t.Tag != "GPSInfo" || places[t.Tag] {
				i.Located = true
			}
			if o, ok := whole(t.Value); ok && t.Source == imagemeta.EXIF && t.Tag == "Orientation" && t.Namespace == "IFD0" && o >= 1 && o <= 8 {
				i.Orientation = o
			}
			return nil
		},
	})
}

func whole(v any) (int, bool) {
	switch v := v.(type) {
	case uint16:
		return int(v), true
	case uint32:
		return int(v), v <= 8
	case int:
		return v, true
	}
	return 0, false
}

// Upright is the size of the picture turned as it was taken.
func (i Info) Upright() (width, height int) {
	if i.Orientation > 4 {
		return i.Height, i.Width
	}
	return i.Width, i.Height
}
