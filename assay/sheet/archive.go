package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"strings"
)

const (
	denseBytes = 10 << 20 // a part above this size …
	denseRatio = 100      // … must not be packed tighter than this
	otherBytes = 48 << 20 // of styles, drawings, comments and whatever else is no sheet
)

// openArchive opens the container of a workbook and refuses what is too
// large, too tightly packed or no workbook.
func openArchive(data []byte, limits Limits) (*zip.Reader, *refusal) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, refuse(codeMalformed, "the workbook is damaged (%v); ask for it again or save it again", plainZipError(err))
	}
	if len(z.File) > limits.Entries {
		return nil, refuse(codeTooLarge, "the workbook has %d parts, more than the limit of %d; keep the assay tables in a file of their own", len(z.File), limits.Entries)
	}
	var total, packed, other uint64
	types := false
	for i, f := range z.File {
		total += f.UncompressedSize64
		if total > uint64(limits.UnpackedBytes) || f.UncompressedSize64 > uint64(limits.UnpackedBytes) {
			return nil, tooMuch(limits)
		}
		if f.UncompressedSize64 > denseBytes && f.UncompressedSize64 > denseRatio*max(f.CompressedSize64, 1) {
			return nil, refuse(codeTooLarge, "a part of the workbook (%s) unpacks to more than %d times its size, which no table of numbers does; nothing was read; save the sheet again as .csv", clip(f.Name), denseRatio)
		}
		if i == 0 && f.Name == "mimetype" {
			return nil, refuse(codeForm, "this is an OpenDocument file, not .xlsx; save it as .xlsx or .csv")
		}
		packed += f.CompressedSize64
		if total > 4*denseBytes && total > denseRatio*max(packed, 1) {
			return nil, refuse(codeTooLarge, "the workbook unpacks to more than %d times its size, which no table of numbers does; nothing was read; save the sheet again as .csv", denseRatio)
		}
		if name := partName(f); isXML(name) && !strings.HasPrefix(name, "xl/worksheets/sheet") && name != "xl/sharedStrings.xml" {
			if other += f.UncompressedSize64; other > otherBytes {
				return nil, refuse(codeTooLarge, "the workbook holds more than %s beside its sheets; nothing was read; keep the assay tables in a file of their own", megabytes(otherBytes))
			}
		}
		types = types || f.Name == "[Content_Types].xml"
	}
	if !types {
		return nil, refuse(codeForm, "this is a zip archive, but no workbook; unpack it, or save the spreadsheet as .xlsx or .csv")
	}
	return z, nil
}

// partName is the name of a part as the workbook's relations spell it.
func partName(f *zip.File) string {
	return strings.TrimPrefix(strings.ReplaceAll(f.Name, "\\", "/"), "/")
}

func isXML(name string) bool {
	return strings.HasSuffix(name, ".xml") || strings.HasSuffix(name, ".rels")
}

func tooMuch(limits Limits) *refusal {
	return refuse(codeTooLarge, "the workbook unpacks to more than %s; nothing was read; keep the assay tables in a file of their own, save them as .csv, or raise `unpacked_bytes` under `limits:` in the notebook", megabytes(limits.UnpackedBytes))
}

func megabytes(n int64) string {
	if n < 1<<20 {
		return fmt.Sprintf("%d bytes", n)
	}
	return fmt.Sprintf("%d MiB", n>>20)
}

func plainZipError(err error) string {
	return strings.TrimPrefix(err.Error(), "zip: ")
}

// budget hands out unpacked bytes until the limit is reached.
type budget struct{ left int64 }

// open returns the content of a part, counted against the budget while it is
// read: the declared sizes are not believed.
func (b *budget) open(f *zip.File) (io.ReadCloser, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	return &counted{ReadCloser: r, budget: b}, nil
}

type counted struct {
	io.ReadCloser
	budget *budget
}

type overBudgetError struct{}

func (overBudgetError) Error() string { return "unpacked size over the limit" }

func (c *counted) Read(p []byte) (int, error) {
	if c.budget.left <= 0 {
		var one [1]byte
		n, err := c.ReadCloser.Read(one[:])
		if n > 0 {
			return 0, overBudgetError{}
		}
		return 0, err
	}
	if int64(len(p)) > c.budget.left {
		p = p[:c.budget.left]
	}
	n, err := c.ReadCloser.Read(p)
	c.budget.left -= int64(n)
	return n, err
}
