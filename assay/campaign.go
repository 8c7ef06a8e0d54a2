// Package assay holds what was measured: a campaign's samples with every
// analysis of them, each value with its unit, uncertainty and cell of origin.
// It reads spreadsheets through assay/sheet, joins samples across sheets by
// their id, and turns the analyses of a sample into one composition by a
// declared recipe. It knows nothing of what the numbers mean for the melt.
package assay

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"smeltbook/assay/dressing"
	"smeltbook/assay/firing"
	"smeltbook/assay/fragment"
	"smeltbook/assay/photo"
	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
)

// NotebookName is the file in a campaign folder that holds its prose and says
// which data to read.
const NotebookName = "notebook.md"

// Campaign is a season's data. When Notices.Failed() the campaign shows what
// was understood, but nothing should be computed from it.
type Campaign struct {
	Dir      string
	Config   Config
	Files    []File
	Tables   []sheet.Table   // laboratory tables
	Records  []sheet.Records // field sheets
	Readings []wetlab.Sheet  // sheets of readings from the bench
	Samples  []*Sample       // in the order of the field sheet
	Runs     []Run
	Dressing dressing.Log
	Firings  []firing.Firing     // logs of temperatures and events
	Pieces   []fragment.Fragment // of furnace walls
	Groups   []Group
	Notices  source.Notices

	Photographs []photo.Photograph // of samples, as far as their names tell

	Certificates []quality.Certificate // the user's own
	Controls     []Control             // rows of laboratory tables that are no samples
	Bridges      []Bridge              // from handheld readings to the laboratory, before any correction
}

// File is an input as it was read.
type File struct {
	Name   string // slashes, relative to the campaign
	Size   int64
	SHA256 string
}

// Load reads the campaign in a folder. Whatever is wrong with the data becomes
// a notice; the error is for a cancelled context only. progress, which may be
// nil, is called before each file.
func Load(ctx context.Context, dir string, cfg Config, progress func(file string, done, total int)) (*Campaign, error) {
	c := &Campaign{Dir: dir, Config: cfg}
	files := c.findFiles()
	for i, name := range files {
		if progress != nil {
			progress(name, i, len(files))
		}
		if err := c.read(ctx, name); err != nil {
			return nil, fmt.Errorf("reading %s: %w", name, err)
		}
	}
	for _, r := range c.Config.Sheets {
		if !slices.Contains(files, r.File) {
			c.Notices.Add(source.Warning, "UNUSED_RULE", source.Line(NotebookName, r.Line),
				"`sheets:` speaks of %q, which is none of the files that were read%s", r.File, source.DidYouMean(r.File, files))
		}
	}
	for _, r := range c.Config.Methods {
		if !slices.Contains(files, r.File) {
			c.Notices.Add(source.Warning, "UNUSED_RULE", source.Line(NotebookName, r.Line),
				"`methods:` speaks of %q, which is none of the files that were read%s", r.File, source.DidYouMean(r.File, files))
		}
	}
	c.readDeterminations()
	c.readSampleSheets()
	c.readRunSheets()
	c.readDressing()
	c.readFirings()
	c.readPieces()
	c.readCertificates()
	fieldSheet := len(c.Samples) > 0
	c.joinAssays(fieldSheet)
	c.joinDeterminations(fieldSheet)
	if fieldSheet {
		c.tellNamesOfControls()
	}
	c.readPhotographs()
	c.tellNotAnalysed()
	c.makeBridges()
	c.correctReadings()
	for _, s := range c.Samples {
		s.reduce(cfg, &c.Notices)
	}
	c.checkRecipe()
	c.tellIgnition()
	c.askForKinds()
	c.tellMethods()
	c.makeGroups(NotebookName)
	return c, nil
}

// readDressing takes the dressing of the ore out of the field sheets.
func (c *Campaign) readDressing() {
	log, ns := dressing.Read(c.Records)
	c.Dressing = log
	c.Notices = append(c.Notices, ns...)
}

// readFirings takes the logs of the firings out of the field sheets.
func (c *Campaign) readFirings() {
	var runs []string
	for _, r := range c.Runs {
		runs = append(runs, r.ID)
	}
	logs, ns := firing.Read(c.Records, runs)
	c.Firings = logs
	c.Notices = append(c.Notices, ns...)
}

// readPieces takes fragments of furnace walls out of the field sheets.
func (c *Campaign) readPieces() {
	pieces, ns := fragment.Read(c.Records)
	c.Pieces = pieces
	c.Notices = append(c.Notices, ns...)
}

// readPhotographs finds the photographs of samples. Whether they can be shown is
// for those who open them.
func (c *Campaign) readPhotographs() {
	list, ns := photo.List(os.DirFS(c.Dir), c.Records, c.SampleIDs(), func(id string) (string, bool) {
		s, ok := c.Sample(id)
		if !ok {
			return "", false
		}
		return s.ID, true
	})
	c.Photographs = list
	c.Notices = append(c.Notices, ns...)
}

// findFiles expands the notebook's globs, or, where it names no data, takes
// every spreadsheet in the folder.
func (c *Campaign) findFiles() []string {
	root := os.DirFS(c.Dir)
	var files []string
	add := func(name string) {
		if !slices.Contains(files, name) {
			files = append(files, name)
		}
	}
	if len(c.Config.Data) == 0 {
		for _, name := range spreadsheetsBelow(root) {
			add(name)
		}
		if len(files) == 0 {
			c.Notices.Add(source.Error, "NO_DATA", source.Cell{File: c.Dir},
				"there is no spreadsheet (.xlsx or .csv) in this folder; put the laboratory's and the field sheets here, or begin with `smeltbook start`")
		}
		return files
	}
	var aside []string // what a pattern took in and holds no table
	for i, pattern := range c.Config.Data {
		at := lineOf(c.Config.DataLines, i)
		if !fs.ValidPath(path.Clean(pattern)) {
			c.Notices.Add(source.Error, "BAD_PATH", at, "data names %q; give a path below the campaign folder, with slashes", pattern)
			continue
		}
		matches, err := fs.Glob(root, path.Clean(pattern))
		if err != nil {
			c.Notices.Add(source.Error, "BAD_PATH", at, "data names %q, which is not a valid pattern; use * and ? only", pattern)
			continue
		}
		if file, _, ok := strings.Cut(pattern, "#"); ok && len(matches) == 0 {
			c.Notices.Add(source.Error, "MISSING_FILE", at, "data names %q, but data names whole files; write %q there, and under sheets: \"%s#…\": {skip: true} for each sheet that is not wanted", pattern, file, file)
			continue
		}
		if len(matches) == 0 {
			c.Notices.Add(source.Error, "MISSING_FILE", at, "data names %q, but there is no such file%s",
				pattern, source.DidYouMean(pattern, spreadsheetsBelow(root)))
		}
		for _, m := range matches {
			switch {
			case lockFile(m):
			case strings.ContainsAny(pattern, "*?") && noTable(root, m):
				aside = append(aside, m)
			default:
				add(m)
			}
		}
	}
	if len(aside) > 0 {
		c.Notices.Add(source.Warning, "LEFT_OUT", source.Cell{File: NotebookName},
			"data takes in files that hold no table of numbers, and they were left out: %s; where results stand in one of them, ask for the table as .xlsx or .csv", strings.Join(aside, ", "))
	}
	c.tellUnread(root, files)
	return files
}

// tellUnread tells of spreadsheets beside those that data names: a handheld's
// .csv is easily forgotten where data says *.xlsx. What lies in the campaign's
// own folder is left aside, since tables are written there.
func (c *Campaign) tellUnread(root fs.FS, files []string) {
	folders := map[string]bool{}
	for _, f := range files {
		folders[path.Dir(f)] = path.Dir(f) != "."
	}
	unread := slices.DeleteFunc(spreadsheetsBelow(root), func(name string) bool {
		return !folders[path.Dir(name)] || slices.Contains(files, name)
	})
	if len(unread) > 0 {
		c.Notices.Add(source.Note, "NOT_READ", source.Cell{File: NotebookName},
			"data does not name these spreadsheets, and they were not read: %s; add them to data if they belong to the campaign", strings.Join(unread, ", "))
	}
}

// noTable recognises what stands beside the tables in a laboratory's folder:
// letters, pictures and further folders.
func noTable(root fs.FS, name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".pdf", ".doc", ".docx", ".odt", ".rtf", ".md", ".html", ".png", ".jpg", ".jpeg", ".tif", ".tiff", ".svg", ".zip":
		return true
	}
	info, err := fs.Stat(root, name)
	return err == nil && info.IsDir()
}

// lockFile recognises what spreadsheet programs leave beside an open workbook.
func lockFile(name string) bool {
	base := path.Base(name)
	return strings.HasPrefix(base, "~$") || strings.HasPrefix(base, ".")
}

func spreadsheet(name string) bool {
	ext := strings.ToLower(path.Ext(name))
	return ext == ".xlsx" || ext == ".csv"
}

func spreadsheetsBelow(root fs.FS) []string {
	var names []string
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return fs.SkipDir
		}
		if d.IsDir() && name != "." && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		if !d.IsDir() && spreadsheet(name) && !lockFile(name) {
			names = append(names, name)
		}
		return nil
	})
	if err != nil {
		return nil
	}
	return names
}

// read takes one file into the campaign and records its checksum.
func (c *Campaign) read(ctx context.Context, name string) error {
	full := filepath.Join(c.Dir, filepath.FromSlash(name))
	book, err := sheet.Read(ctx, full, name, sheet.Options{Limits: c.Config.Limits, Sheets: c.Config.readingFor(name)})
	if err != nil {
		return err
	}
	if book.Output {
		c.Notices.Add(source.Note, "OWN_OUTPUT", source.Cell{File: name}, "this workbook was written by smeltbook and is not read as data; copy what you measured to a workbook of your own")
		return nil
	}
	c.checkRules(book)
	c.Notices = append(c.Notices, c.Config.Recipe.judgeCells(book.Notices)...)
	c.Tables = append(c.Tables, book.Tables...)
	c.Records = append(c.Records, book.Records...)
	if f, err := fingerprint(full, name); err == nil {
		if i := slices.IndexFunc(c.Files, func(g File) bool { return g.SHA256 == f.SHA256 }); i >= 0 {
			c.Notices.Add(source.Warning, "FILE_TWICE", source.Cell{File: name}, "this file is the same as %s, so everything in it counts twice, as repeated measurements; take one of the two out of the folder", c.Files[i].Name)
		}
		c.Files = append(c.Files, f)
	}
	return nil
}

// checkRules warns of rules for sheets that the file does not have.
func (c *Campaign) checkRules(book *sheet.Book) {
	for _, r := range c.Config.Sheets {
		if r.File == book.File && r.Sheet != "" && len(book.Sheets) > 0 && !slices.Contains(book.Sheets, r.Sheet) {
			c.Notices.Add(source.Warning, "UNUSED_RULE", source.Line(NotebookName, r.Line),
				"`sheets:` speaks of the sheet %q of %s, which has no such sheet%s", r.Sheet, r.File, source.DidYouMean(r.Sheet, book.Sheets))
		}
	}
}

// judgeCells makes an error of every cell that should hold a number and does
// not, unless the notebook says to go on without them.
func (r Recipe) judgeCells(ns source.Notices) source.Notices {
	out := slices.Clone(ns)
	for i, n := range out {
		if (n.Code == "CELL_ERROR" || n.Code == "DATE_IN_NUMBER") && n.Severity == source.Warning && !r.UnreadableAsMissing {
			out[i].Severity = source.Error
			out[i].Message += "; to go on without such cells write `unreadable: missing` under `recipe:` in the notebook"
		}
	}
	return out
}

func fingerprint(full, name string) (File, error) {
	f, err := os.Open(full)
	if err != nil {
		return File{}, err
	}
	defer f.Close()
	h := sha256.New()
	n, err := io.Copy(h, f)
	if err != nil {
		return File{}, err
	}
	return File{Name: name, Size: n, SHA256: hex.EncodeToString(h.Sum(nil))}, nil
}

func (c Config) readingFor(file string) map[string]sheet.Reading {
	m := map[string]sheet.Reading{}
	for _, r := range c.Sheets {
		if r.File == file {
			m[r.Sheet] = r.Reading
		}
	}
	return m
}

// methodFor returns the method the notebook states for a table, or "".
func (c Config) methodFor(t sheet.Table) string {
	stated := ""
	for _, r := range c.Methods {
		if r.File == t.File && (r.Sheet == t.Sheet || (r.Sheet == "" && stated == "")) {
			stated = r.Method
		}
	}
	return stated
}
