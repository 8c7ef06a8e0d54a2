package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"smeltbook/assay"
	"smeltbook/assay/logratio"
	"smeltbook/report"
	"smeltbook/report/study"
)

func newReport(st streams) *cobra.Command {
	var out string
	var watch bool
	cmd := &cobra.Command{
		Use:   "report DIR",
		Short: "Write the notebook as one HTML file",
		Long: `report reads the campaign in DIR and writes its notebook, with every figure,
table and computed value, to one self-contained HTML file: report.html in the
campaign folder, or the file given with --out. The file needs no network. When
the data have errors nothing is written.

With --watch the report is built again whenever a file changes, and the page that
it prints the address of shows the newest one by itself. Only this machine can open
it. Ctrl-C ends it; the file that is left is the same as without --watch.`,
		Args: onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "" {
				out = filepath.Join(args[0], "report.html")
			}
			if watch {
				return watchReport(cmd.Context(), args[0], out, st)
			}
			return writeReport(cmd.Context(), args[0], out, st)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "file to write instead of DIR/report.html")
	cmd.Flags().BoolVar(&watch, "watch", false, "build again whenever a file changes, and show it")
	return cmd
}

func writeReport(ctx context.Context, dir, out string, st streams) error {
	s, o, err := openStudy(ctx, dir, st.err, true, func(c *assay.Campaign) error { return checkOutput(out, ".html", c) })
	if err != nil {
		return err
	}
	var page bytes.Buffer
	notices, err := report.Write(ctx, &page, s, o.notebook, report.Options{Version: version(), Notices: o.notices, Assets: report.Assets()})
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	if err := writeWhole(out, page.Bytes()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(st.out, out)
	return err
}

// openStudy reads a campaign and computes everything for it. Notices are
// printed; errors in the data end the command, and so does ready, which is
// asked before the computing begins.
func openStudy(ctx context.Context, dir string, progress io.Writer, needNotebook bool, ready func(*assay.Campaign) error) (*study.Study, opened, error) {
	o, err := openCampaign(ctx, dir, progress, needNotebook)
	if err != nil {
		return nil, o, err
	}
	if err := stopAtErrors(progress, o.notices); err != nil {
		return nil, o, err
	}
	if err := ready(o.campaign); err != nil {
		return nil, o, err
	}
	show := newProgress(progress)
	s, err := study.Compute(ctx, o.campaign, study.ConditionsOf(o.notebook.Seed, o.notebook.Draws), func(done, total int) {
		show.step("estimating", done, total)
	})
	show.clear()
	if err == nil {
		s.Compared = study.Compared{Parts: o.notebook.Likeness.Parts, Replacement: logratio.Replacement(o.notebook.Likeness.Replacement)}
	}
	return s, o, err
}
