package sheet

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
)

// Options are the caller's wishes. The zero value reads everything that can
// be read without being told anything.
type Options struct {
	Limits Limits // zero fields take the value of DefaultLimits
	// Sheets holds readings by sheet name; "" stands for any sheet that has
	// none of its own, and for the only sheet of a text file.
	Sheets map[string]Reading
}

// Reading says how one sheet is to be read where the sheet itself leaves it
// open, or where it was understood wrongly.
type Reading struct {
	HeaderRow   int               // 1-based row of the headings, or their column where samples stand in columns; 0 to look for it
	Orientation Orientation       // "" to find out
	Columns     map[string]string // heading as printed, or its cell -> analyte ID, or "name", "note", "unit", "uncertainty", "limit", "ignore"
	Unit        string            // unit of columns that state none themselves: "wt%", "ppm", …
	Units       map[string]string // heading as printed, or its cell -> unit, whatever the sheet says
	Basis       string            // of all results: "dry", "ignited", …; "" to find out
	Decimal     string            // "," or "."; "" to find out
	// Nd says what "n.d." means: "not detected" or "not analysed".
	Nd string
	// K is the number of standard deviations in an uncertainty whose
	// coverage is not stated; 0 takes it for one and says so.
	K float64
	// NegativeIsLimit takes a negative concentration as "below" its absolute
	// value, the habit of some laboratories. LOI keeps its sign.
	NegativeIsLimit bool
	// ErrorIsLimit takes the number beside "<LOD" in the error column as the
	// detection limit, as some handheld exports mean it.
	ErrorIsLimit  bool
	Samples       []string // names that are samples, whatever they look like
	Controls      []string // names that are blanks or reference materials
	DistinctNames bool     // KR-1a is no repeat of KR-1
	Hidden        bool     // read hidden rows and columns, and the sheet where it is hidden
	Records       bool     // read as records even where it looks like an assay table
	Skip          bool     // leave the sheet out
	Charset       string   // of a text file that is not Unicode: "windows-1252", "windows-1250" or "macintosh"
	Delimiter     string   // between the fields of a text file: ",", ";", "|" or "tab"
}

// Orientation says where the samples of a table stand.
type Orientation string

const (
	SamplesInRows    Orientation = "rows"
	SamplesInColumns Orientation = "columns"
)

// Limits bound what a file may ask of the machine.
type Limits struct {
	FileBytes     int64 // size of the file
	UnpackedBytes int64 // size of a workbook after unpacking, all parts
	Entries       int   // parts in a workbook
	Rows          int   // rows of a sheet
	Columns       int   // columns of a sheet
	Cells         int   // non-empty cells of a file
	NameLength    int   // characters of a sample name or a heading
}

// DefaultLimits returns limits far above any assay table met in practice:
// 200,000 rows of 20 cells. A file within them is read in less than 512 MiB.
func DefaultLimits() Limits {
	return Limits{
		FileBytes:     64 << 20,
		UnpackedBytes: 256 << 20,
		Entries:       1000,
		Rows:          200_000,
		Columns:       512,
		Cells:         4_000_000,
		NameLength:    1000,
	}
}

// textBytes bounds the texts of all cells, 24 bytes for each on the average:
// a number takes 17 digits at most.
func (l Limits) textBytes() int { return 24 * l.Cells }

func (o Options) limits() Limits {
	l, d := o.Limits, DefaultLimits()
	set := func(p *int, v int) {
		if *p == 0 {
			*p = v
		}
	}
	if l.FileBytes == 0 {
		l.FileBytes = d.FileBytes
	}
	if l.UnpackedBytes == 0 {
		l.UnpackedBytes = d.UnpackedBytes
	}
	set(&l.Entries, d.Entries)
	set(&l.Rows, d.Rows)
	set(&l.Columns, d.Columns)
	set(&l.Cells, d.Cells)
	set(&l.NameLength, d.NameLength)
	return l
}

// reading returns the reading for a sheet; one for the sheet itself replaces
// the one for any sheet.
func (o Options) reading(sheet string) Reading {
	if r, ok := o.Sheets[sheet]; ok {
		return r
	}
	return o.Sheets[""]
}

func (o Options) check() error {
	if err := o.Limits.Check(); err != nil {
		return err
	}
	for name, r := range o.Sheets {
		if err := r.Check(); err != nil {
			return fmt.Errorf("sheet %q: %w", name, err)
		}
	}
	return nil
}

// Check reports a limit that is no limit.
func (l Limits) Check() error {
	if l.FileBytes < 0 || l.UnpackedBytes < 0 || l.Entries < 0 || l.Rows < 0 || l.Columns < 0 || l.Cells < 0 || l.NameLength < 0 {
		return errors.New("a limit is negative; use a whole number above zero")
	}
	return nil
}

// Check reports the first wish that nothing can be made of, in a sentence for
// the user.
func (r Reading) Check() error {
	switch {
	case r.Decimal != "" && r.Decimal != "," && r.Decimal != ".":
		return fmt.Errorf("the decimal mark is %q; use \",\" or \".\"", r.Decimal)
	case r.Orientation != "" && r.Orientation != SamplesInRows && r.Orientation != SamplesInColumns:
		return fmt.Errorf("the orientation is %q; use %s or %s", r.Orientation, SamplesInRows, SamplesInColumns)
	case r.HeaderRow < 0:
		return fmt.Errorf("the heading row is %d; rows count from 1", r.HeaderRow)
	case r.K < 0 || math.IsNaN(r.K) || math.IsInf(r.K, 0):
		return fmt.Errorf("k is %v; use 1, 2 or another number above zero", r.K)
	case r.Nd != "" && ndClass(r.Nd) == "":
		return fmt.Errorf("nd is %q; use \"not detected\" or \"not analysed\"", r.Nd)
	case r.Delimiter != "" && delimiterOf(r.Delimiter) == 0:
		return fmt.Errorf("the delimiter is %q; use \",\", \";\", \"|\" or tab", r.Delimiter)
	}
	if _, err := charset(r.Charset); err != nil {
		return err
	}
	if _, ok := basisOf(r.Basis); r.Basis != "" && !ok {
		return fmt.Errorf("the basis is %q; use dry, ignited, loi-free, normalised or as received", r.Basis)
	}
	for _, heading := range slices.Sorted(maps.Keys(r.Columns)) {
		if id := r.Columns[heading]; !isMeaning(id) && !isAnalyte(id) {
			return fmt.Errorf("the heading %q is to be read as %q, which is no known analyte; write one such as SiO2, or name, note, unit, uncertainty, limit or ignore", heading, id)
		}
	}
	units := slices.Sorted(maps.Values(r.Units))
	if r.Unit != "" {
		units = append(units, r.Unit)
	}
	for _, s := range units {
		if u, ok := parseUnit(s); !ok || u.refuse != "" {
			return fmt.Errorf("%q is no unit of mass fraction; use wt%%, ppm, …", s)
		}
	}
	return nil
}
