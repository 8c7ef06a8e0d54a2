package deposit

import (
	"archive/zip"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"
	"strings"
)

// limits bound what is unpacked to prove an archive: it may come from anywhere.
type limits struct {
	entries  int
	name     int   // bytes of a name
	unpacked int64 // bytes of all files
	kept     int64 // bytes of the files that are read, not only summed
}

var usualLimits = limits{entries: 20_000, name: 1_000, unpacked: 2 << 30, kept: 256 << 20}

// Proof is what an archive was found to hold.
type Proof struct {
	Files  int   // under the payload
	Bytes  int64 // of them
	Tables int
	Rows   int
	// Campaign holds the inputs by their names relative to the campaign, and
	// Values the table of values, for who wants to read the sheets again.
	Campaign map[string][]byte
	Values   []byte
	Version  string // of the program that made the archive
}

// Verify proves an archive of size bytes: that every file is there and is what
// its manifest says, that nothing else is, and that the tables are what their
// description says. The error is one sentence on what is wrong.
func Verify(ctx context.Context, r io.ReaderAt, size int64) (Proof, error) {
	return usualLimits.verify(ctx, r, size)
}

func (l limits) verify(ctx context.Context, r io.ReaderAt, size int64) (Proof, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return Proof{}, errors.New("this is no zip archive, or its end is missing; get the file again")
	}
	b, err := l.open(ctx, z)
	if err != nil {
		return Proof{}, err
	}
	if string(b.kept[bagDeclaration]) != declaration {
		return Proof{}, fmt.Errorf("%s does not declare a bag of version 1.0; this is no deposit, or it was damaged", bagDeclaration)
	}
	if err := b.check(tagManifest, func(name string) bool {
		return name != tagManifest && !strings.HasPrefix(name, payload+"/")
	}); err != nil {
		return Proof{}, err
	}
	if err := b.check(manifest, func(name string) bool { return strings.HasPrefix(name, payload+"/") }); err != nil {
		return Proof{}, err
	}
	p := Proof{Campaign: map[string][]byte{}}
	for name, f := range b.files {
		if strings.HasPrefix(name, payload+"/") {
			p.Files++
			p.Bytes += f.size
		}
		if input, ok := strings.CutPrefix(name, path.Join(payload, campaign)+"/"); ok {
			p.Campaign[input] = b.kept[name]
		}
	}
	if want := fmt.Sprintf("Payload-Oxum: %d.%d\n", p.Bytes, p.Files); !bytes.Contains(b.kept[bagInfo], []byte(want)) {
		return Proof{}, fmt.Errorf("%s states another size of the whole than the %d bytes in %d files that are there", bagInfo, p.Bytes, p.Files)
	}
	return p, b.agree(&p)
}

// bag is an archive as it was read.
type bag struct {
	files map[string]summed // below the one folder
	kept  map[string][]byte // contents of what is read
}

type summed struct {
	sha256 string
	size   int64
}

// open sums every file, and keeps what will be read. It unpacks nothing to
// the disk, and no more than the limits to memory.
func (l limits) open(ctx context.Context, z *zip.Reader) (*bag, error) {
	if len(z.File) > l.entries {
		return nil, fmt.Errorf("the archive lists %d files, more than the %d that are looked at", len(z.File), l.entries)
	}
	b := &bag{files: map[string]summed{}, kept: map[string][]byte{}}
	folder, lower := "", map[string]string{}
	var unpacked, kept int64
	for _, f := range z.File {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		top, name, err := l.placeOf(f)
		if err != nil {
			return nil, err
		}
		if folder == "" {
			folder = top
		}
		if top != folder {
			return nil, fmt.Errorf("the archive holds the folders %q and %q; a deposit has one", folder, top)
		}
		if other, twice := lower[strings.ToLower(name)]; twice {
			return nil, fmt.Errorf("the archive holds %q and %q, which are one file on some machines", other, name)
		}
		lower[strings.ToLower(name)] = name
		var keep *bytes.Buffer
		if isRead(name) {
			keep = &bytes.Buffer{}
		}
		s, err := sumEntry(f, keep, l.unpacked-unpacked, l.kept-kept)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		unpacked += s.size
		b.files[name] = s
		if keep != nil {
			b.kept[name] = keep.Bytes()
			kept += s.size
		}
	}
	return b, nil
}

// isRead tells which files are read: all but the report.
func isRead(name string) bool { return name != path.Join(payload, "report.html") }

// placeOf returns the folder and the rest of a name. Names that lead elsewhere
// and anything that is no ordinary file are refused.
func (l limits) placeOf(f *zip.File) (top, name string, err error) {
	top, name, ok := strings.Cut(f.Name, "/")
	switch {
	case len(f.Name) > l.name, !fs.ValidPath(f.Name), !ok, top == ".",
		strings.ContainsAny(f.Name, "\\:"), strings.ContainsFunc(f.Name, func(r rune) bool { return r < ' ' || r == 0x7f }):
		return "", "", fmt.Errorf("the archive holds a file named %.60q, a name that no deposit has; do not unpack it", f.Name)
	case !f.Mode().IsRegular():
		return "", "", fmt.Errorf("%.60q in the archive is no ordinary file; do not unpack it", f.Name)
	}
	return top, name, nil
}

var errTooLarge = errors.New("unpacked it is larger than anything a deposit holds; do not unpack the archive")

// sumEntry reads one file, at most room bytes, or keepRoom where it is kept. The
// size that the archive states is not believed.
func sumEntry(f *zip.File, keep *bytes.Buffer, room, keepRoom int64) (summed, error) {
	h := sha256.New()
	var w io.Writer = h
	if keep != nil {
		w = io.MultiWriter(h, keep)
		room = min(room, keepRoom)
	}
	r, err := f.Open()
	if err != nil {
		return summed{}, fmt.Errorf("it cannot be unpacked (%w); get the file again", err)
	}
	defer r.Close()
	n, err := io.Copy(w, io.LimitReader(r, room+1))
	if n > room {
		return summed{}, errTooLarge
	}
	if err != nil {
		return summed{}, fmt.Errorf("it is damaged (%w); get the file again", err)
	}
	return summed{hex.EncodeToString(h.Sum(nil)), n}, nil
}

// check holds the files that belong to a manifest against it.
func (b *bag) check(name string, belongs func(string) bool) error {
	text, ok := b.kept[name]
	if !ok {
		return fmt.Errorf("%s is missing; this is no deposit, or it was damaged", name)
	}
	listed := map[string]bool{}
	for i, line := range strings.Split(strings.TrimSuffix(string(text), "\n"), "\n") {
		want, file, ok := strings.Cut(line, "  ")
		file = nameDecoder.Replace(file)
		f, there := b.files[file]
		switch {
		case !ok || len(want) != 2*sha256.Size:
			return fmt.Errorf("line %d of %s is no checksum with a file", i+1, name)
		case !belongs(file):
			return fmt.Errorf("line %d of %s speaks of %q, which it should not", i+1, name, file)
		case listed[file]:
			return fmt.Errorf("%s lists %s twice", name, file)
		case !there:
			return fmt.Errorf("%s is missing from the archive; %s lists it", file, name)
		case !strings.EqualFold(want, f.sha256):
			return fmt.Errorf("%s is not the file that was deposited: its checksum is not that in %s", file, name)
		}
		listed[file] = true
	}
	for _, file := range slices.Sorted(maps.Keys(b.files)) {
		if belongs(file) && !listed[file] {
			return fmt.Errorf("%s was added to the archive: %s does not list it", file, name)
		}
	}
	return nil
}
