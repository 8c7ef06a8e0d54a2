// Package sheet reads the spreadsheets that laboratories and field teams
// keep, .xlsx workbooks and delimited text, into tables in which every value
// still knows its file, sheet and cell.
//
// The package believes that a wrong number is worse than a missing one. It
// never guesses in silence: what it understood and what it could not use
// travels with the result as notices. Units come from the sheet or from the
// caller, never from the size of a number; formulas are never evaluated;
// values below a limit stay below it; a damaged file gives no table at all
// rather than half of one. Files are only read, never changed.
package sheet

import (
	"context"
	"fmt"
	"io"

	"smeltbook/assay/source"
)

// Book is one file as it was understood.
type Book struct {
	File    string   // the name given to Read
	Sheets  []string // names of all sheets, hidden and empty ones too; none of a text file
	Tables  []Table
	Records []Records
	Output  bool // whether it is a workbook that this program wrote, by its mark
	Notices source.Notices
}

// Read reads one spreadsheet. path says where the file is; name is what it is
// called in addresses and messages. Whatever is wrong with the file itself
// becomes a Notice of severity Error; the error returned is for a cancelled
// context or a wrong call.
func Read(ctx context.Context, path, name string, opt Options) (*Book, error) {
	if err := opt.check(); err != nil {
		return nil, err
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if name == "" {
		name = path
	}
	data, refusal := load(path, opt.limits())
	if refusal != nil {
		return refused(name, refusal), nil
	}
	return readBytes(ctx, data, name, opt)
}

// ReadFrom reads one spreadsheet from a stream, as Read reads a file; name is what
// it is called in addresses and messages.
func ReadFrom(ctx context.Context, in io.Reader, name string, opt Options) (*Book, error) {
	if err := opt.check(); err != nil {
		return nil, err
	}
	data, refusal := loadFrom(in, opt.limits())
	if refusal != nil {
		return refused(name, refusal), nil
	}
	return readBytes(ctx, data, name, opt)
}

// readBytes reads a file that is already in memory.
func readBytes(ctx context.Context, data []byte, name string, opt Options) (*Book, error) {
	r := &reader{ctx: ctx, opt: opt, limits: opt.limits(), book: &Book{File: name}}
	var (
		grids []*grid
		bad   *refusal
	)
	switch form, why := sniff(data); {
	case why != nil:
		bad = why
	case form == formWorkbook:
		grids, bad = r.workbook(data)
	default:
		grids, bad = r.text(data)
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	if bad != nil {
		return refused(name, bad), nil
	}
	r.decideDecimals(grids)
	for _, g := range grids {
		if err := ctx.Err(); err != nil {
			return nil, fmt.Errorf("reading %s: %w", name, err)
		}
		r.sheet(g)
	}
	return r.book, nil
}

// reader carries what one call of Read needs.
type reader struct {
	ctx    context.Context
	opt    Options
	limits Limits
	book   *Book
}

func (r *reader) note(s source.Severity, code string, at source.Cell, format string, args ...any) {
	r.book.Notices.Add(s, code, at, format, args...)
	if general, ok := overruledBy[code]; ok {
		r.overrule(general)
	}
}

// overrule says what overrules the guess that was noted last.
func (r *reader) overrule(s ...setting) {
	if n := len(r.book.Notices); n > 0 && len(s) > 0 {
		r.book.Notices[n-1].Setting = settingsText(s)
	}
}

// cellAt returns an address in the file being read.
func (r *reader) cellAt(sheet, ref string) source.Cell {
	return source.Cell{File: r.book.File, Sheet: sheet, Ref: ref}
}

// refusal says why a file, or a sheet of it, is not read.
type refusal struct {
	code, sheet, ref, message string
}

func refuse(code, format string, args ...any) *refusal {
	return &refusal{code: code, message: fmt.Sprintf(format, args...)}
}

func refused(name string, why *refusal) *Book {
	b := &Book{File: name}
	b.Notices.Add(source.Error, why.code, source.Cell{File: name, Sheet: why.sheet, Ref: why.ref}, "%s", why.message)
	return b
}

// sheet reads the tables, or else the records, of one grid.
func (r *reader) sheet(g *grid) {
	reading := r.opt.reading(g.sheet)
	if reading.Skip {
		return
	}
	v := g.visible()
	if v.rows == nil || v.cols == nil {
		return
	}
	if !reading.Records && !listed(v) && r.tables(v, reading) {
		return
	}
	if !r.records(v, reading) && reading.HeaderRow > 0 {
		r.note(source.Error, "HEADER_ROW", r.cellAt(g.sheet, ""), "the notebook says that the headings stand in row %d, but no headings were found there; correct header_row", reading.HeaderRow)
	}
}
