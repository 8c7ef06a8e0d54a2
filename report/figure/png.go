package figure

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/png"
	"math"

	"gonum.org/v1/plot/vg/vgimg"
)

// PNGDotsPerInch is the resolution of bitmaps; journals ask for 300 to 1000.
const PNGDotsPerInch = 600

func (f Figure) png(d drawing) ([]byte, error) {
	canvas := vgimg.NewWith(vgimg.UseWH(d.width, d.height), vgimg.UseDPI(PNGDotsPerInch))
	d.on(outlines{canvas})
	var b bytes.Buffer
	if err := png.Encode(&b, canvas.Image()); err != nil {
		return nil, fmt.Errorf("figure %q: %w", f.ID, err)
	}
	return withResolution(b.Bytes(), PNGDotsPerInch), nil
}

// withResolution says in a PNG file how large its points are, so that programs
// place it at its printed size: the chunk pHYs, which stands before the image
// data (W3C, Portable Network Graphics, 3rd edition, section 11.3.4.3).
func withResolution(file []byte, dotsPerInch float64) []byte {
	const header = 8 + 4 + 4 + 13 + 4 // the signature and the chunk IHDR
	perMetre := uint32(math.Round(dotsPerInch / 0.0254))
	chunk := []byte("pHYs")
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = binary.BigEndian.AppendUint32(chunk, perMetre)
	chunk = append(chunk, 1) // the unit is the metre

	out := append([]byte(nil), file[:header]...)
	out = binary.BigEndian.AppendUint32(out, uint32(len(chunk)-4))
	out = append(out, chunk...)
	out = binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(chunk))
	return append(out, file[header:]...)
}
