package photo

import (
	"fmt"
	"io"
	"io/fs"
	"math"
	"path"
	"slices"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Folder is where a campaign keeps its photographs.
const Folder = "photos"

// Photograph is a photograph of a sample.
type Photograph struct {
	File    string // with slashes, relative to the campaign
	Sample  string // as the campaign writes its id
	Caption string
	Width   float64     // mm that the whole width of the picture shows; NaN where nobody says
	Pixel   float64     // mm that a pixel of it shows; NaN where nobody says
	At      source.Cell // of the sheet that tells of it; the file where none does
}

// Scale is how many millimetres a pixel of the picture shows, whose upright
// width is known; NaN where nobody says.
func (p Photograph) Scale(width int) float64 {
	if !math.IsNaN(p.Width) {
		return p.Width / float64(width)
	}
	return p.Pixel
}

var (
	fileFields    = []string{"photograph", "photo", "picture"}
	sampleFields  = []string{"sample", "sample id", "id", "shows"}
	captionFields = []string{"caption", "shows what", "view"}
)

// IsSheet reports whether a field sheet tells of photographs.
func IsSheet(t *sheet.Records) bool { return t.Has(fileFields...) }

// List finds the photographs in the campaign's folder of them: files named after
// a sample, and those that a sheet gives to one. resolve finds a sample's id as
// the campaign writes it. What cannot be used is told, each file once.
func List(files fs.FS, sheets []sheet.Records, ids []string, resolve func(string) (string, bool)) ([]Photograph, source.Notices) {
	var ns source.Notices
	told := map[string]Photograph{} // by file
	var order []string
	for i := range sheets {
		t := &sheets[i]
		if !IsSheet(t) {
			continue
		}
		for _, rec := range t.Rows {
			p, ok := read(t, rec, resolve, ids, &ns)
			if !ok {
				continue
			}
			if first, twice := told[p.File]; twice {
				ns.Add(source.Warning, "PHOTO_TWICE", p.At, "the photograph %s stands at %s already; the first row counts", path.Base(p.File), first.At)
				continue
			}
			told[p.File] = p
			order = append(order, p.File)
		}
	}
	there, err := fs.ReadDir(files, Folder)
	if err != nil {
		there = nil // no folder, no photographs
	}
	var out []Photograph
	var nobody, gone []string
	found := map[string]bool{}
	for _, d := range there {
		name := path.Join(Folder, d.Name())
		known, why := Known(name)
		if d.IsDir() || strings.HasPrefix(d.Name(), ".") || !known && why == "" {
			continue
		}
		found[name] = true
		p, listed := told[name]
		if !listed {
			p = Photograph{File: name, Width: math.NaN(), Pixel: math.NaN(), At: source.Cell{File: name}}
		}
		if p.Sample == "" {
			id, ok := sampleOf(strings.TrimSuffix(d.Name(), path.Ext(name)), ids)
			if !ok {
				nobody = append(nobody, d.Name())
				continue
			}
			p.Sample = id
		}
		if !known {
			ns.Add(source.Warning, "PHOTO_FORMAT", source.Cell{File: name}, "%s", why)
			continue
		}
		out = append(out, p)
	}
	if len(nobody) > 0 {
		near := ""
		for _, name := range nobody {
			if n := source.Nearest(strings.TrimSuffix(name, path.Ext(name)), ids); n != "" && near == "" {
				near = fmt.Sprintf("; is %s meant to be of %s?", name, n)
			}
		}
		ns.Add(source.Warning, "PHOTO_OF_NOBODY", source.Cell{File: Folder}, "named after no sample, and left out: %s; name a photograph after its sample, as in %s, or state the sample in a sheet with the columns Photograph and Sample%s", few(nobody), example(ids), near)
	}
	var at source.Cell
	for _, name := range order {
		if !found[name] {
			if gone = append(gone, name); len(gone) == 1 {
				at = told[name].At
			}
		}
	}
	if len(gone) > 0 {
		ns.Add(source.Warning, "PHOTO_MISSING", at, "there is no file %s; check the names, upper and lower case too", few(gone))
	}
	return out, ns
}

// few lists names, the first where they are many.
func few(names []string) string {
	if len(names) > 6 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:5], ", "), len(names)-5)
	}
	return strings.Join(names, ", ")
}

// read takes a row of a sheet; ok is false where it speaks of no photograph.
func read(t *sheet.Records, rec sheet.Record, resolve func(string) (string, bool), ids []string, ns *source.Notices) (p Photograph, ok bool) {
	name, at := t.Text(rec, fileFields...)
	if path.Ext(name) == "" { // "yes" or a number of a film: no file
		return p, false
	}
	p = Photograph{File: path.Join(Folder, strings.TrimPrefix(path.Clean("/"+strings.ReplaceAll(name, "\\", "/")), "/"+Folder+"/")), At: at}
	p.Caption, _ = t.Text(rec, captionFields...)
	p.Width = length(t, rec, []string{"width", "width of the picture", "picture width"}, map[string]float64{"mm": 1, "cm": 10}, ns)
	p.Pixel = length(t, rec, []string{"scale"}, map[string]float64{"mm/pixel": 1, "mm/px": 1, "mm per pixel": 1, "µm/pixel": 1e-3, "µm/px": 1e-3}, ns)
	if !math.IsNaN(p.Width) && !math.IsNaN(p.Pixel) {
		ns.Add(source.Warning, "PHOTO_SCALE", at, "width and scale are both given for %s; the width counts", path.Base(p.File))
	}
	id, at := t.Text(rec, sampleFields...)
	if id == "" {
		return p, true
	}
	if p.Sample, ok = resolve(id); !ok {
		ns.Add(source.Warning, "UNKNOWN_SAMPLE", at, "the photograph %s is said to show %q, which is no sample%s", path.Base(p.File), id, source.DidYouMean(id, ids))
		return p, false
	}
	return p, true
}

// length reads a number above zero in one of the units; NaN where there is none.
func length(t *sheet.Records, rec sheet.Record, names []string, units map[string]float64, ns *source.Notices) float64 {
	i := t.Index(names...)
	if i < 0 || i >= len(rec.Cells) || rec.Cells[i].Empty() || rec.Cells[i].Class == quantity.Missing {
		return math.NaN()
	}
	f, c := t.Fields[i], rec.Cells[i]
	factor, ok := units[strings.ToLower(strings.TrimSpace(f.Unit))]
	switch {
	case !ok:
		known := make([]string, 0, len(units))
		for u := range units {
			known = append(known, u)
		}
		slices.Sort(known)
		ns.AddNew(source.Notices{{Severity: source.Warning, Code: "PHOTO_SCALE", At: source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref},
			Message: fmt.Sprintf("the column %s does not say its unit, so no scale is taken from it; write it in the heading, as in %s (%s)", f.Name, f.Name, known[0])}})
		return math.NaN()
	case c.Class != quantity.Measured || !(c.Value > 0) || math.IsInf(c.Value, 0):
		ns.Add(source.Warning, "PHOTO_SCALE", c.At, "%q is no length above zero, so the photograph has no scale", c.Text)
		return math.NaN()
	}
	return c.Value * factor
}

// sampleOf is the sample that a file is named after: its id, with more behind a
// space, an underscore or a bracket where a sample has several photographs.
func sampleOf(stem string, ids []string) (string, bool) {
	best := ""
	for _, id := range ids {
		if len(id) <= len(best) || len(stem) < len(id) || !strings.EqualFold(stem[:len(id)], id) {
			continue
		}
		if rest := stem[len(id):]; rest == "" || strings.ContainsRune(" _(", rune(rest[0])) {
			best = id
		}
	}
	return best, best != ""
}

func example(ids []string) string {
	if len(ids) == 0 {
		return "KR-S01.jpg"
	}
	return ids[0] + ".jpg"
}

// Read reads a photograph of bearable size. The error is half a sentence, as
// that of Inspect.
func Read(files fs.FS, name string) ([]byte, error) {
	f, err := files.Open(name)
	if err != nil {
		return nil, fmt.Errorf("it cannot be opened; check that it is there and may be read")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("it cannot be read; copy it again")
	}
	return data, nil
}
