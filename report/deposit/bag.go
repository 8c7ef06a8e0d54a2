package deposit

import (
	"archive/zip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
	"time"
)

// Tag files of a bag after RFC 8493.
const (
	bagDeclaration = "bagit.txt"
	bagInfo        = "bag-info.txt"
	manifest       = "manifest-sha256.txt"
	tagManifest    = "tagmanifest-sha256.txt"

	declaration = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
)

// fixedTime stands for every file: the archive is made from its content alone.
// It is the earliest that a zip file can tell.
var fixedTime = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

// writeBag writes the payload, by names below its folder, with the tag files
// and the manifests of both.
func writeBag(w io.Writer, a about, files map[string][]byte, readmeText []byte) error {
	all := map[string][]byte{}
	var size int
	for name, data := range files {
		all[path.Join(payload, name)] = data
		size += len(data)
	}
	manifestText := manifestOf(all)
	info := fmt.Sprintf("Payload-Oxum: %d.%d\nExternal-Description: %s\nBag-Software-Agent: %s %s\n", size, len(files), oneLine(a.title), a.program.Name, a.program.Version)
	if len(a.date) == len("2026-11-02") {
		info = "Bagging-Date: " + a.date + "\n" + info
	}
	tags := map[string][]byte{
		bagDeclaration: []byte(declaration),
		bagInfo:        []byte(info),
		manifest:       manifestText,
		readme:         readmeText,
	}
	tags[tagManifest] = manifestOf(tags)
	maps.Copy(all, tags)

	z := zip.NewWriter(w)
	folder := asciiName(a.title)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		f, err := z.CreateHeader(&zip.FileHeader{Name: path.Join(folder, name), Method: zip.Deflate, Modified: fixedTime})
		if err != nil {
			return fmt.Errorf("packing %s: %w", name, err)
		}
		if _, err := f.Write(all[name]); err != nil {
			return fmt.Errorf("packing %s: %w", name, err)
		}
	}
	return z.Close()
}

// manifestOf lists files with their checksums, names encoded as RFC 8493 asks.
func manifestOf(files map[string][]byte) []byte {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&b, "%s  %s\n", sum(files[name]), nameCoder.Replace(name))
	}
	return []byte(b.String())
}

var (
	nameCoder   = strings.NewReplacer("%", "%25", "\n", "%0A", "\r", "%0D")
	nameDecoder = strings.NewReplacer("%25", "%", "%0A", "\n", "%0D", "\r", "%0a", "\n", "%0d", "\r")
)

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }
