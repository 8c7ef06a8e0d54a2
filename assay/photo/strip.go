package photo

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
)

// Strip returns a photograph without what a camera or a program wrote beside the
// picture: place, time, names, previews. The picture itself is not computed
// anew; how it has to be turned and its colours are kept.
func Strip(data []byte) ([]byte, error) {
	info, err := Inspect(data)
	if err != nil {
		return nil, err
	}
	if info.Format == "png" {
		return stripPNG(data, info.Orientation)
	}
	return stripJPEG(data, info.Orientation)
}

var errStrip = fmt.Errorf("what is written beside the picture cannot be told from it; save it again in a picture program, without a place")

// Markers of JPEG (ITU-T T.81, table B.1).
const (
	markSOI  = 0xd8
	markEOI  = 0xd9
	markSOS  = 0xda
	markAPP0 = 0xe0
	markAPP1 = 0xe1
	markAPP2 = 0xe2
	markAPPE = 0xee // Adobe: how colours are coded
	markAPPF = 0xef
	markCOM  = 0xfe
)

// stripJPEG copies the segments that make the picture, up to its end: what
// follows may be a second picture with all that the first had beside it.
func stripJPEG(data []byte, orientation int) ([]byte, error) {
	if len(data) < 4 || data[0] != 0xff || data[1] != markSOI {
		return nil, errStrip
	}
	out := append([]byte(nil), data[:2]...)
	if orientation > 1 {
		tiff := tiffWithOrientation(orientation)
		out = append(out, 0xff, markAPP1, 0, byte(2+6+len(tiff)))
		out = append(append(out, "Exif\x00\x00"...), tiff...)
	}
	for i := 2; i < len(data); {
		if data[i] != 0xff {
			return nil, errStrip
		}
		for i < len(data) && data[i] == 0xff { // fill bytes
			i++
		}
		if i >= len(data) {
			return nil, errStrip
		}
		mark := data[i]
		i++
		if mark == markEOI {
			return append(out, 0xff, markEOI), nil
		}
		if i+2 > len(data) {
			return nil, errStrip
		}
		n := int(binary.BigEndian.Uint16(data[i:]))
		if n < 2 || i+n > len(data) {
			return nil, errStrip
		}
		segment := data[i : i+n]
		i += n
		if keepSegment(mark, segment[2:]) {
			out = append(append(out, 0xff, mark), segment...)
		}
		if mark == markSOS {
			end := scanEnd(data, i)
			out = append(out, data[i:end]...)
			i = end
		}
	}
	return nil, errStrip
}

func keepSegment(mark byte, content []byte) bool {
	switch {
	case mark == markAPP0:
		return bytes.HasPrefix(content, []byte("JFIF\x00")) // not its extension, which is a preview
	case mark == markAPP2:
		return bytes.HasPrefix(content, []byte("ICC_PROFILE\x00"))
	case mark == markAPPE:
		return true
	}
	return mark != markCOM && (mark < markAPP0 || mark > markAPPF)
}

// scanEnd is where the coded data of a scan end: at the first marker that is no
// restart and no stuffed zero.
func scanEnd(data []byte, i int) int {
	for ; i+1 < len(data); i++ {
		if data[i] == 0xff && data[i+1] != 0 && data[i+1] != 0xff && (data[i+1] < 0xd0 || data[i+1] > 0xd7) {
			return i
		}
	}
	return len(data)
}

// tiffWithOrientation is the least EXIF that says how a picture is turned.
func tiffWithOrientation(o int) []byte {
	return []byte{'M', 'M', 0, 42, 0, 0, 0, 8, 0, 1, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, byte(o), 0, 0, 0, 0, 0, 0}
}

const pngHead = "\x89PNG\r\n\x1a\n"

// keptChunks are those of PNG (W3C, Portable Network Graphics, third edition)
// that the picture hangs on.
var keptChunks = map[string]bool{"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true, "gAMA": true, "cHRM": true, "sRGB": true, "iCCP": true, "cICP": true, "sBIT": true, "bKGD": true, "pHYs": true}

func stripPNG(data []byte, orientation int) ([]byte, error) {
	if !bytes.HasPrefix(data, []byte(pngHead)) {
		return nil, errStrip
	}
	out := []byte(pngHead)
	for i := len(pngHead); i+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[i:]))
		if n > len(data)-i-12 {
			return nil, errStrip
		}
		kind := string(data[i+4 : i+8])
		if keptChunks[kind] {
			out = append(out, data[i:i+12+n]...)
		}
		if kind == "IHDR" && orientation > 1 {
			out = appendChunk(out, "eXIf", tiffWithOrientation(orientation))
		}
		if kind == "IEND" {
			return out, nil
		}
		i += 12 + n
	}
	return nil, errStrip
}

func appendChunk(out []byte, kind string, content []byte) []byte {
	out = binary.BigEndian.AppendUint32(out, uint32(len(content)))
	start := len(out)
	out = append(append(out, kind...), content...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[start:]))
}
