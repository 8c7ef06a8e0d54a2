package figure

import (
	"bytes"
	"fmt"
	"regexp"

	"codeberg.org/go-pdf/fpdf"
)

// pdf writes the figure as the one page of a document.
func (f Figure) pdf(d drawing) ([]byte, error) {
	doc := fpdf.NewCustom(&fpdf.InitType{
		UnitStr: "pt",
		Size:    fpdf.SizeType{Wd: d.width.Points(), Ht: d.height.Points()},
	})
	doc.SetMargins(0, 0, 0)
	doc.SetAutoPageBreak(false, 0)
	doc.SetCatalogSort(true)
	doc.SetProducer("smeltbook", true)
	if f.Caption != "" {
		doc.SetTitle(clean(f.Caption), true)
	}
	doc.AddPage()
	canvas := newPDFCanvas(doc, d.height)
	d.on(canvas)
	var b bytes.Buffer
	if err := doc.Output(&b); err != nil {
		return nil, fmt.Errorf("figure %q: %w", f.ID, err)
	}
	return undated(b.Bytes()), nil
}

var pdfDate = regexp.MustCompile(`/(?:CreationDate|ModDate) \(D:[0-9]{14}\)`)

// undated takes out the dates of a document, which need not have any, without
// moving what stands behind them.
func undated(file []byte) []byte {
	return pdfDate.ReplaceAllFunc(file, func(date []byte) []byte {
		return bytes.Repeat([]byte(" "), len(date))
	})
}
