package sheet

import (
	"bytes"
	"context"
	"fmt"
	"testing"

	"github.com/xuri/excelize/v2"
)

// benchBook makes a workbook of the given number of samples and analytes.
func benchBook(b *testing.B, samples int) (data []byte, cells int) {
	b.Helper()
	analytes := []string{"SiO2", "TiO2", "Al2O3", "FeOT", "MnO", "MgO", "CaO", "Na2O", "K2O", "P2O5", "SO3", "Cu", "Zn", "Pb", "As", "Sb", "Ba", "Sr", "Zr"}
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		b.Fatal(err)
	}
	row := []any{"Sample"}
	for _, a := range analytes {
		row = append(row, a+" (wt%)")
	}
	for r := 1; r <= samples+1; r++ {
		if r > 1 {
			row = append(row[:0], fmt.Sprintf("KR-S%05d", r))
			for i := range analytes {
				row = append(row, float64((r*7+i*131)%5000)/100)
			}
		}
		if err := w.SetRow(fmt.Sprintf("A%d", r), row); err != nil {
			b.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		b.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		b.Fatal(err)
	}
	return buf.Bytes(), (samples + 1) * (len(analytes) + 1)
}

// BenchmarkXLSX compares reading a workbook into assay tables with the bare
// row iterator of the library on raw values, which checks nothing.
func BenchmarkXLSX(b *testing.B) {
	const samples = 20_000
	data, cells := benchBook(b, samples)
	b.Run("rows=20000/read", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			book, err := readBytes(context.Background(), data, "b.xlsx", Options{})
			if err != nil || len(book.Tables) != 1 || len(book.Tables[0].Rows) != samples {
				b.Fatalf("%v %v", err, book.Notices)
			}
		}
		b.ReportMetric(float64(cells)*float64(b.N)/b.Elapsed().Seconds(), "cells/s")
	})
	b.Run("rows=20000/bare", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f, err := excelize.OpenReader(bytes.NewReader(data), excelize.Options{RawCellValue: true})
			if err != nil {
				b.Fatal(err)
			}
			rows, err := f.Rows("Sheet1")
			if err != nil {
				b.Fatal(err)
			}
			n := 0
			for rows.Next() {
				c, err := rows.Columns()
				if err != nil {
					b.Fatal(err)
				}
				n += len(c)
			}
			if n != cells {
				b.Fatalf("%d cells, want %d", n, cells)
			}
			if err := f.Close(); err != nil {
				b.Fatal(err)
			}
		}
		b.ReportMetric(float64(cells)*float64(b.N)/b.Elapsed().Seconds(), "cells/s")
	})
}
