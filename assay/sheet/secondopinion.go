package sheet

import (
	"archive/zip"
	"bytes"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay/source"
)

// secondOpinionBytes is the unpacked size up to which a workbook is read a
// second time. Every assay workbook met in practice is far smaller.
const secondOpinionBytes = 16 << 20

// secondOpinion reads the sheets again through the spreadsheet library, with
// raw values, and refuses the workbook where the two readings disagree: a
// wrong number is worse than a missing one.
func (r *reader) secondOpinion(data []byte, z *zip.Reader, plan *workbookParts, scans []*sheetScan) *refusal {
	total, usual := uint64(0), len(plan.sharedTexts) == 0
	for _, f := range z.File {
		total += f.UncompressedSize64
		usual = usual || partName(f) == "xl/sharedStrings.xml" // the library looks nowhere else
	}
	if total > secondOpinionBytes || !usual {
		return nil
	}
	f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{
		RawCellValue:      true,
		UnzipSizeLimit:    secondOpinionBytes,
		UnzipXMLSizeLimit: secondOpinionBytes,
	})
	if err != nil {
		r.note(source.Note, "READ_ONCE", source.Cell{File: r.book.File}, "the workbook is written in an unusual way, so it could not be read a second time to compare (%s)", clip(err.Error()))
		return nil
	}
	defer f.Close()
	known := f.GetSheetList()
	for i, p := range plan.sheets {
		if r.ctx.Err() != nil {
			return nil
		}
		if !slices.Contains(known, p.name) {
			continue
		}
		if bad := compare(f, p.name, scans[i], plan.date1904); bad != nil {
			return bad
		}
	}
	return nil
}

// compare holds the cells of one sheet against those of the library's row
// iterator.
func compare(f *excelize.File, sheet string, s *sheetScan, date1904 bool) *refusal {
	rows, err := f.Rows(sheet)
	if err != nil {
		return nil // a name or a path that the library does not take
	}
	defer rows.Close()
	at := -1
	for _, row := range s.rows {
		if row.index-at > strayRowGap {
			return nil // stray cells: the iterator would walk through every row between
		}
		for at < row.index {
			if !rows.Next() {
				return damaged(sheet, refOf(row.index, 0))
			}
			if at++; at < row.index {
				if texts, err := rows.Columns(); err != nil || strings.Join(texts, "") != "" {
					return damaged(sheet, refOf(at, 0))
				}
			}
		}
		texts, err := rows.Columns()
		if err != nil {
			return damaged(sheet, refOf(row.index, 0))
		}
		next := 0
		for _, c := range row.cells {
			for ; next < int(c.col); next++ {
				if next < len(texts) && texts[next] != "" {
					return damaged(sheet, refOf(row.index, next))
				}
			}
			text := ""
			if next < len(texts) {
				text = texts[next]
			}
			if !agrees(c, text, date1904) {
				return damaged(sheet, refOf(row.index, next))
			}
			next++
		}
	}
	return nil
}

// agrees compares a cell with the raw text of the library.
func agrees(c cell, raw string, date1904 bool) bool {
	if c.kind == kindBool {
		return boolTexts[isTrue(raw)] == c.text
	}
	if c.kind == kindDate {
		x, ok := parseStored(strings.TrimSpace(raw))
		return raw == c.text || ok && isoDate(x, date1904) == c.text
	}
	if raw == c.text || c.kind == kindNumber && strings.TrimSpace(raw) == c.text {
		return true
	}
	a, _ := foldSpaces(raw)
	b, _ := foldSpaces(c.text)
	return a == b
}

// damaged refuses a sheet whose two readings disagree.
func damaged(sheet, ref string) *refusal {
	bad := refuse(codeMalformed, "the sheet is damaged (two ways of reading it do not agree at this cell); nothing was read; save the workbook again")
	bad.sheet, bad.ref = sheet, ref
	return bad
}
