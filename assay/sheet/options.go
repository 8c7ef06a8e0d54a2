package sheet

import (
	"fmt"
)

// Options are the caller's wishes. The zero value reads everything that can
// be read without being told anything.
type Options struct {
	Limits Limits // zero fields take the value of DefaultLimits
	// Sheets holds readings by sheet name; "" stands for any sheet that has
	// none of its own, and for the only sheet of a text file.
	Sheets map[string]Reading
	// Charset names the eight-bit encoding of text files that are not
	// Unicode: "windows-1252" (the default) or "windows-1250".
	Charset string
}

// Reading says how one sheet is to be read where the sheet itself leaves it
// open, or where it was understood wrongly.
type Reading struct {
	HeaderRow   int               // 1-based row of the headings; 0 to look for it
	Orientation Orientation       // "" to find out
	Unit        string            // unit of columns that state none: "wt%", "ppm", …
	Columns     map[string]string // heading as printed -> analyte ID, or "" to leave the column out
	Decimal     string            // "," or "."; "" to find out
	// NegativeIsLimit takes a negative concentration as "below" its absolute
	// value, the habit of some laboratories. LOI keeps its sign.
	NegativeIsLimit bool
	// ErrorIsLimit takes the number beside "<LOD" in the error column as the
	// detection limit, as some handheld exports mean it.
	ErrorIsLimit bool
	Records      bool // read as records even where it looks like an assay table
	Skip         bool // leave the sheet out
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
		UnpackedBytes: 384 << 20,
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
	l := o.Limits
	if l.FileBytes < 0 || l.UnpackedBytes < 0 || l.Entries < 0 || l.Rows < 0 || l.Columns < 0 || l.Cells < 0 || l.NameLength < 0 {
		return fmt.Errorf("sheet: a limit is negative")
	}
	if _, err := charset(o.Charset); err != nil {
		return err
	}
	for name, r := range o.Sheets {
		if r.Decimal != "" && r.Decimal != "," && r.Decimal != "." {
			return fmt.Errorf("sheet %q: decimal mark %q; use \",\" or \".\"", name, r.Decimal)
		}
		if r.Orientation != "" && r.Orientation != SamplesInRows && r.Orientation != SamplesInColumns {
			return fmt.Errorf("sheet %q: orientation %q; use %q or %q", name, r.Orientation, SamplesInRows, SamplesInColumns)
		}
		if r.HeaderRow < 0 {
			return fmt.Errorf("sheet %q: heading row %d is negative", name, r.HeaderRow)
		}
		if r.Unit != "" {
			if u, ok := parseUnit(r.Unit); !ok || u.refuse != "" {
				return fmt.Errorf("sheet %q: %q is no unit of mass fraction; use wt%%, ppm, …", name, r.Unit)
			}
		}
		for heading, id := range r.Columns {
			if id != "" && !isAnalyte(id) {
				return fmt.Errorf("sheet %q: heading %q is to be read as %q, which is no known analyte", name, heading, id)
			}
		}
	}
	return nil
}
