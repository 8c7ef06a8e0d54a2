package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/tables"
)

// tableCaptionsName is the file with captions and notes beside the tables.
const tableCaptionsName = "table-captions.txt"

func newTable(st streams) *cobra.Command {
	var call tableCall
	cmd := &cobra.Command{
		Use:   "table DIR",
		Short: "Print everything computed, one row a sample, or write the report's tables: csv, xlsx or latex",
		Long: `table reads the campaign in DIR and prints everything computed, one row a sample,
as csv or json; with --out FILE.csv, FILE.xlsx or FILE.json to that file.

With --entry, or a folder behind --out, it writes the tables of the notebook
instead, each to a file of its own, and their captions and notes to
` + tableCaptionsName + `: --entry takes the number or the kind of an entry, without it all
are written; the folder is DIR/tables unless --out names one. csv holds what the
page shows, uncertainties and notes in columns of their own; xlsx has the numbers
with all their digits, notes and the file, sheet and cell of each on further
sheets; latex is for a paper and needs array, booktabs and longtable.
When the data have errors nothing is written.`,
		Args: onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			call.asked = cmd.Flags().Changed("entry")
			if call.ofNotebook() {
				return call.write(cmd.Context(), args[0], st)
			}
			if _, ok := flatWriters[call.as]; !ok {
				return callError{fmt.Errorf("--as %s: use csv, xlsx or json; or csv, xlsx or latex for the tables of the notebook", call.as)}
			}
			if call.as == "xlsx" && call.out == "" {
				return callError{fmt.Errorf("a workbook needs a file: add --out FILE.xlsx, or a folder for the tables of the notebook")}
			}
			return writeFlat(cmd.Context(), args[0], call.as, call.out, st)
		},
	}
	cmd.Flags().StringVar(&call.as, "as", "csv", "csv, xlsx, json or latex")
	cmd.Flags().StringVar(&call.out, "out", "", "file instead of standard output, or folder for the tables of the notebook")
	cmd.Flags().StringVar(&call.entry, "entry", "", "the tables of this entry: its number or its kind")
	return cmd
}

// tableCall is what a call of the command asks for.
type tableCall struct {
	as    string
	out   string
	entry string
	asked bool // for an entry
}

// tableFormat writes a table of the notebook.
type tableFormat struct {
	ending string
	write  func(tables.Table, io.Writer) error
}

var tableFormats = map[string]tableFormat{
	"csv":   {".csv", tables.Table.WriteCSV},
	"xlsx":  {".xlsx", tables.Table.WriteXLSX},
	"latex": {".tex", tables.Table.WriteLaTeX},
}

// ofNotebook tells whether the tables of the notebook are asked for. What --out
// names is a file where it ends as one does.
func (c tableCall) ofNotebook() bool {
	if c.asked || c.as == "latex" {
		return true
	}
	ending := strings.ToLower(filepath.Ext(c.out))
	_, file := flatWriters[strings.TrimPrefix(ending, ".")]
	return c.out != "" && !file && ending != "."+c.as
}

func (c tableCall) write(ctx context.Context, dir string, st streams) error {
	format, ok := tableFormats[c.as]
	if !ok {
		return callError{fmt.Errorf("--as %s: use csv, xlsx or latex for the tables of the notebook", c.as)}
	}
	if c.out == "" {
		c.out = filepath.Join(dir, "tables")
	}
	s, o, err := openStudy(ctx, dir, st.err, true, func(a *assay.Campaign) error { return readyFolder(c.out, a) })
	if err != nil {
		return err
	}
	all, notices, err := report.Tables(ctx, s, o.notebook)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	chosen, err := chooseEntry(all, c.entry, "tables")
	if err != nil {
		return err
	}
	captions := output{filepath.Join(c.out, tableCaptionsName), []byte(report.TableCaptions(o.notebook.Title, all))}
	var files []output
	for _, l := range chosen {
		var b bytes.Buffer
		if err := format.write(l.Table, &b); err != nil {
			return fmt.Errorf("writing %s: %w", l.Name(), err)
		}
		files = append(files, output{filepath.Join(c.out, l.Name()+format.ending), b.Bytes()})
	}
	files = append(files, captions)
	for _, f := range files {
		if err := checkOutput(f.path, filepath.Ext(f.path), o.campaign); err != nil {
			return err
		}
	}
	if err := writeAllWhole(files); err != nil {
		return err
	}
	for _, f := range files {
		if _, err := fmt.Fprintln(st.out, f.path); err != nil {
			return err
		}
	}
	return nil
}
