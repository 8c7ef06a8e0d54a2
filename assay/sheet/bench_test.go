package sheet

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"

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

// BenchmarkXLSX compares reading a workbook into assay tables with its anchor,
// the bare row iterator of the library on raw values, which checks nothing and
// keeps nothing. B/op is what either allocates; peak-MB is the largest live
// heap met while it runs, above what was live before.
//
// The smaller book is one that is read a second time to compare; the larger is
// not (see secondOpinion).
func BenchmarkXLSX(b *testing.B) {
	for _, samples := range []int{2_000, 100_000} {
		data, cells := benchBook(b, samples)
		b.Run(fmt.Sprintf("rows=%d/read", samples), func(b *testing.B) {
			measure(b, cells, func() {
				book, err := readBytes(context.Background(), data, "b.xlsx", Options{})
				if err != nil || len(book.Tables) != 1 || book.Tables[0].Len() != samples {
					b.Fatalf("%v %v", err, book.Notices)
				}
			})
		})
		b.Run(fmt.Sprintf("rows=%d/bare", samples), func(b *testing.B) {
			measure(b, cells, func() {
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
			})
		})
	}
}

// measure runs work as a benchmark and reports cells a second, bytes allocated
// and the peak of the live heap.
func measure(b *testing.B, cells int, work func()) {
	b.ReportAllocs()
	for b.Loop() {
		work()
	}
	perSecond := float64(cells) * float64(b.N) / b.Elapsed().Seconds()
	peak := peakHeap(work)
	b.ReportMetric(perSecond, "cells/s")
	b.ReportMetric(float64(peak)/1e6, "peak-MB")
}

// peakHeap runs work once more with a collector that never lets garbage pile
// up, and returns the most that was live beyond what was live before.
func peakHeap(work func()) uint64 {
	defer debug.SetGCPercent(debug.SetGCPercent(5))
	live := func() uint64 {
		s := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(s)
		return s[0].Value.Uint64()
	}
	runtime.GC()
	before, most := live(), uint64(0)
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		for {
			select {
			case <-stop:
				return
			case <-time.After(2 * time.Millisecond):
				most = max(most, live())
			}
		}
	}()
	work()
	close(stop)
	<-done
	return most - min(before, most)
}
