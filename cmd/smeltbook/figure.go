package main

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/figure"
)

// captionsName is the file with the captions beside the figures.
const captionsName = "captions.txt"

// figureCall is what a call of the command asks for.
type figureCall struct {
	formats []figure.Format
	entry   string  // number or kind; all where empty
	width   float64 // mm; as it suits each figure where 0
	folder  string
}

func newFigure(st streams) *cobra.Command {
	var as string
	var call figureCall
	cmd := &cobra.Command{
		Use:   "figure DIR",
		Short: "Write the report's figures for a journal: svg, pdf or png",
		Long: `figure reads the campaign in DIR and writes the figures of its notebook, each
to a file of its own, and their captions to ` + captionsName + `. Figures on facing pages
are 190 mm wide, others 90 or 140 mm where they fit; lettering is 7 to 8 pt at
any width. The files need no fonts of the machine; png has 600 dots an inch.
When the data have errors nothing is written.`,
		Args: onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := call.read(as, cmd.Flags().Changed("width")); err != nil {
				return callError{err}
			}
			if call.folder == "" {
				call.folder = filepath.Join(args[0], "figures")
			}
			return call.write(cmd.Context(), args[0], st)
		},
	}
	cmd.Flags().StringVar(&as, "as", "svg", "svg, pdf or png, or several with commas between")
	cmd.Flags().StringVar(&call.folder, "out", "", "folder to write to instead of DIR/figures")
	cmd.Flags().StringVar(&call.entry, "entry", "", "only the figures of this entry: its number or its kind")
	cmd.Flags().Float64Var(&call.width, "width", 0, "width of all figures in mm, for example 90, 140 or 190")
	return cmd
}

func (c *figureCall) read(as string, width bool) error {
	for _, word := range strings.Split(as, ",") {
		format := figure.Format(strings.TrimSpace(word))
		if !slices.Contains(figure.Formats, format) {
			return fmt.Errorf("--as %s: use svg, pdf or png", as)
		}
		if !slices.Contains(c.formats, format) {
			c.formats = append(c.formats, format)
		}
	}
	if width && !(c.width >= figure.MinWidthMM && c.width <= figure.MaxWidthMM) {
		return fmt.Errorf("--width %v: give mm from %d to %d; the lettering keeps its size and needs that room", c.width, figure.MinWidthMM, figure.MaxWidthMM)
	}
	return nil
}

func (c *figureCall) write(ctx context.Context, dir string, st streams) error {
	s, o, err := openStudy(ctx, dir, st.err, true, func(a *assay.Campaign) error { return readyFolder(c.folder, a) })
	if err != nil {
		return err
	}
	all, notices, err := report.Figures(ctx, s, o.notebook)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	chosen, err := chooseEntry(all, c.entry, "figures")
	if err != nil {
		return err
	}
	captions := filepath.Join(c.folder, captionsName)
	outputs := []string{captions}
	for _, d := range chosen {
		for _, format := range c.formats {
			outputs = append(outputs, c.path(d, format))
		}
	}
	for _, path := range outputs {
		if err := checkOutput(path, filepath.Ext(path), o.campaign); err != nil {
			return err
		}
	}
	show := newProgress(st.err)
	defer show.clear()
	for i, d := range chosen {
		show.step("drawing "+d.Name(), i+1, len(chosen))
		if err := c.draw(ctx, d, st); err != nil {
			return err
		}
	}
	if err := writeWhole(captions, []byte(report.Captions(o.notebook.Title, all))); err != nil {
		return err
	}
	_, err = fmt.Fprintln(st.out, captions)
	return err
}

func (c *figureCall) path(d report.Drawn, format figure.Format) string {
	return filepath.Join(c.folder, d.Name()+"."+string(format))
}

// draw writes one figure in every format asked for.
func (c *figureCall) draw(ctx context.Context, d report.Drawn, st streams) (err error) {
	width := c.width
	if width == 0 {
		if width, err = d.Figure.PrintWidth(); err != nil {
			return err
		}
	}
	for _, format := range c.formats {
		if err := ctx.Err(); err != nil {
			return err
		}
		file, err := d.Figure.Export(format, width)
		if err != nil {
			return fmt.Errorf("drawing %s: %w", d.Name(), err)
		}
		path := c.path(d, format)
		if err := writeWhole(path, file); err != nil {
			return err
		}
		if _, err := fmt.Fprintf(st.out, "%s\t%v mm\n", path, width); err != nil {
			return err
		}
	}
	return nil
}
