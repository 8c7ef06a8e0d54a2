package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"github.com/spf13/cobra"
	"github.com/xuri/excelize/v2"

	"smeltbook/assay"
	"smeltbook/report/study"
)

func newTable(st streams) *cobra.Command {
	var as, out string
	cmd := &cobra.Command{
		Use:   "table DIR",
		Short: "Print everything computed, one row a sample: csv, xlsx or json",
		Args:  onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			write, ok := tableWriters[as]
			if !ok {
				return callError{fmt.Errorf("--as %s: use csv, xlsx or json", as)}
			}
			if as == "xlsx" && out == "" {
				return callError{fmt.Errorf("a workbook needs a file: add --out FILE.xlsx")}
			}
			s, _, err := openStudy(cmd.Context(), args[0], st.err, false, func(c *assay.Campaign) error {
				if out == "" {
					return nil
				}
				return checkOutput(out, "."+as, c)
			})
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := write(&b, s); err != nil {
				return fmt.Errorf("writing the table: %w", err)
			}
			if out == "" {
				_, err = st.out.Write(b.Bytes())
				return err
			}
			if err := writeWhole(out, b.Bytes()); err != nil {
				return err
			}
			_, err = fmt.Fprintln(st.out, out)
			return err
		},
	}
	cmd.Flags().StringVar(&as, "as", "csv", "csv, xlsx or json")
	cmd.Flags().StringVar(&out, "out", "", "file to write instead of standard output")
	return cmd
}

var tableWriters = map[string]func(io.Writer, *study.Study) error{
	"csv":  writeTableCSV,
	"xlsx": writeTableXLSX,
	"json": writeTableJSON,
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
