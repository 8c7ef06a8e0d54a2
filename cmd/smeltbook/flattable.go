package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"

	"github.com/xuri/excelize/v2"

	"smeltbook/assay"
	"smeltbook/report/study"
	"smeltbook/report/tables"
)

var flatWriters = map[string]func(io.Writer, *study.Study) error{
	"csv":  writeTableCSV,
	"xlsx": writeTableXLSX,
	"json": writeTableJSON,
}

// writeFlat writes everything computed, one row a sample, to a file, or where
// none is named to standard output.
func writeFlat(ctx context.Context, dir, as, out string, st streams) error {
	s, _, err := openStudy(ctx, dir, st.err, false, func(c *assay.Campaign) error {
		if out == "" {
			return nil
		}
		return checkOutput(out, "."+as, c)
	})
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := flatWriters[as](&b, s); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return deliver(out, b.Bytes(), st)
}

func writeTableJSON(w io.Writer, s *study.Study) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	return enc.Encode(s.Records())
}

func writeTableCSV(w io.Writer, s *study.Study) error { return s.Table().WriteCSV(w) }

func writeTableXLSX(w io.Writer, s *study.Study) (err error) {
	t := s.Table()
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	if err := tables.MarkBook(f); err != nil {
		return err
	}
	const name = "samples"
	if err := f.SetSheetName("Sheet1", name); err != nil {
		return err
	}
	sw, err := f.NewStreamWriter(name)
	if err != nil {
		return err
	}
	header := make([]any, 0, len(t.Columns))
	units := make([]any, 0, len(t.Columns))
	for _, c := range t.Columns {
		header, units = append(header, c.Key), append(units, c.Unit)
	}
	if err := sw.SetRow("A1", header); err != nil {
		return err
	}
	if err := sw.SetRow("A2", units); err != nil {
		return err
	}
	for i, row := range t.Rows {
		ref, err := excelize.CoordinatesToCellName(1, i+3)
		if err != nil {
			return err
		}
		if err := sw.SetRow(ref, row); err != nil {
			return err
		}
	}
	if err := sw.Flush(); err != nil {
		return err
	}
	_, err = f.WriteTo(w)
	return err
}
