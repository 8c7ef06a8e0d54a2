package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"smeltbook/assay"
	"smeltbook/assay/audit"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
	"smeltbook/report"
)

func newCheck(st streams) *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check PATH",
		Short: "Say what was read, how each column was understood, and what is wrong and where",
		Long: `check reads a campaign folder, or a single spreadsheet, computes nothing and
changes nothing. It tells how every table and column was understood and lists
warnings and errors with file, sheet and cell. It ends with status 1 when there
are errors.`,
		Args: onePath("the campaign's folder or a spreadsheet"),
		RunE: func(cmd *cobra.Command, args []string) error {
			found, err := inspect(cmd.Context(), args[0], st.err)
			if err != nil {
				return err
			}
			if asJSON {
				err = writeCheckJSON(st.out, found)
			} else {
				err = writeCheckText(st.out, found)
			}
			if err != nil {
				return err
			}
			if found.notices.Failed() {
				return errData
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object for programs")
	return cmd
}

// inspection is what check found out about a campaign or a spreadsheet.
type inspection struct {
	tables   []sheet.Table
	records  []sheet.Records
	readings []wetlab.Sheet
	campaign *assay.Campaign // nil for a single spreadsheet
	notices  source.Notices
}

func inspect(ctx context.Context, path string, progress io.Writer) (inspection, error) {
	info, err := os.Stat(path)
	if err != nil {
		return inspection{}, callError{fmt.Errorf("%s: there is no such file or folder", path)}
	}
	if !info.IsDir() {
		if filepath.Base(path) == assay.NotebookName {
			return inspect(ctx, filepath.Dir(path), progress)
		}
		book, err := sheet.Read(ctx, path, filepath.Base(path), sheet.Options{})
		if err != nil {
			return inspection{}, err
		}
		return withReadings(book), nil
	}
	opened, err := openCampaign(ctx, path, progress, false)
	if err != nil {
		return inspection{}, err
	}
	c := opened.campaign
	_, works := report.ReadBibliography(os.DirFS(path), opened.notebook)
	notices := slices.Concat(opened.notices, audit.Of(c).Notices(), photoNotices(c), works)
	return inspection{tables: c.Tables, records: c.Records, readings: c.Readings, campaign: c, notices: notices}, nil
}

type valueJSON struct {
	WtPct      *float64 `json:"wt_pct"`
	Class      string   `json:"class"`
	LimitWtPct *float64 `json:"limit_wt_pct"`
	Cell       string   `json:"cell"`
	Raw        string   `json:"raw"`
	Unit       string   `json:"unit"`
}

type sampleJSON struct {
	Name   string               `json:"name"`
	Values map[string]valueJSON `json:"values"`
}

type tableJSON struct {
	File    string       `json:"file"`
	Sheet   string       `json:"sheet"`
	Samples []sampleJSON `json:"samples"`
}

type noticeJSON struct {
	Code    string `json:"code"`
	Message string `json:"message"`
	File    string `json:"file"`
	Sheet   string `json:"sheet"`
	Cell    string `json:"cell"`
}

func noticesJSON(ns source.Notices) []noticeJSON {
	out := make([]noticeJSON, 0, len(ns))
	for _, n := range ns {
		out = append(out, noticeJSON{Code: n.Code, Message: n.Message, File: n.At.File, Sheet: n.At.Sheet, Cell: n.At.Ref})
	}
	return out
}

func writeCheckJSON(w io.Writer, found inspection) error {
	answer := struct {
		Tables   []tableJSON    `json:"tables"`
		Readings []readingsJSON `json:"determinations"`
		Warnings []noticeJSON   `json:"warnings"`
		Errors   []noticeJSON   `json:"errors"`
	}{Tables: []tableJSON{}, Readings: determinationsJSON(found.readings), Errors: noticesJSON(found.notices.Of(source.Error))}
	// A program that reads this wants to hear of everything that was assumed.
	answer.Warnings = append(noticesJSON(found.notices.Of(source.Warning)), noticesJSON(found.notices.Of(source.Note))...)
	for _, t := range found.tables {
		tj := tableJSON{File: t.File, Sheet: t.Sheet, Samples: []sampleJSON{}}
		for r := range t.Rows() { // controls and blanks too: check tells all that was read
			sj := sampleJSON{Name: r.Name, Values: map[string]valueJSON{}}
			for _, v := range r.Values {
				vj := valueJSON{WtPct: quantity.OrNull(v.Value), Class: string(v.Class), LimitWtPct: quantity.OrNull(v.Limit), Raw: v.Raw, Unit: v.Unit}
				if len(v.From) > 0 {
					vj.Cell = v.From[0].Ref
				}
				if !v.Known() {
					vj.WtPct = nil
				}
				if _, twice := sj.Values[v.Analyte]; !twice {
					sj.Values[v.Analyte] = vj
				}
			}
			tj.Samples = append(tj.Samples, sj)
		}
		answer.Tables = append(answer.Tables, tj)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", " ")
	return enc.Encode(answer)
}
