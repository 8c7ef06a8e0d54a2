package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"

	"github.com/spf13/cobra"

	"smeltbook/assay"
	"smeltbook/assay/photo"
	"smeltbook/assay/source"
	"smeltbook/report"
	"smeltbook/report/deposit"
	"smeltbook/report/page"
)

func newDeposit(st streams) *cobra.Command {
	var out, verify string
	cmd := &cobra.Command{
		Use:   "deposit DIR --out FILE.zip",
		Short: "Pack report, inputs and tidy data for a repository, or prove such an archive",
		Long: `deposit packs the campaign in DIR for a repository of research data: the report,
every input, the values and all that was computed as tables whose columns are
described, recipe and assumptions, and who made it on which terms. The notebook's
first lines have to name authors, date and licence. The same campaign gives the
same bytes.

deposit --verify FILE.zip proves an archive: every file is what it was, nothing is
missing or added, and the tables agree with their description and the sheets.`,
		Args: func(_ *cobra.Command, args []string) error {
			if verify != "" {
				if len(args) > 0 || out != "" {
					return fmt.Errorf("--verify takes the archive and nothing besides")
				}
				return nil
			}
			if err := onePath("the campaign's folder")(nil, args); err != nil {
				return err
			}
			if out == "" {
				return fmt.Errorf("name the archive to write: add --out FILE.zip")
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if verify != "" {
				return verifyDeposit(cmd.Context(), verify, st)
			}
			return writeDeposit(cmd.Context(), args[0], out, st)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "archive to write")
	cmd.Flags().StringVar(&verify, "verify", "", "archive to prove")
	return cmd
}

func writeDeposit(ctx context.Context, dir, out string, st streams) error {
	s, o, err := openStudy(ctx, dir, st.err, true, func(c *assay.Campaign) error { return checkOutput(out, ".zip", c) })
	if err != nil {
		return err
	}
	options := report.Options{Version: version(), Notices: o.notices, Assets: report.Assets()}
	doc, notices, err := report.Document(ctx, s, o.notebook, options)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	in := deposit.Input{Study: s, Notebook: o.notebook, Document: doc, Program: program(), Notices: append(o.notices[:len(o.notices):len(o.notices)], notices...)}
	var html, archive bytes.Buffer
	if err := page.Render(&html, doc, options.Assets); err != nil {
		return fmt.Errorf("writing the page: %w", err)
	}
	in.Report = html.Bytes()
	if in.Inputs, err = readInputs(o); err != nil {
		return err
	}
	addPhotographs(&in, o.campaign)
	notices, err = deposit.Write(&archive, in)
	if err != nil {
		return err
	}
	printNotices(st.err, notices.Of(source.Note), source.Note) // what was left out should be read as well
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	if _, err := deposit.Verify(ctx, bytes.NewReader(archive.Bytes()), int64(archive.Len())); err != nil {
		return fmt.Errorf("%s was not written, for the archive would not prove: %w", out, err)
	}
	if err := writeWhole(out, archive.Bytes()); err != nil {
		return err
	}
	_, err = fmt.Fprintln(st.out, out)
	return err
}

// readInputs reads every file behind a report.
func readInputs(o opened) (map[string][]byte, error) {
	files := map[string][]byte{assay.NotebookName: o.text}
	names := o.notebook.Pictures()
	if b := o.notebook.Bibliography; b != "" {
		names = append(names, b)
	}
	for _, f := range o.campaign.Files {
		names = append(names, f.Name)
	}
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(o.campaign.Dir, filepath.FromSlash(name)))
		if err != nil {
			return nil, fmt.Errorf("%s cannot be read, so nothing was written: %w", name, reason(err))
		}
		files[name] = data
	}
	return files, nil
}

// addPhotographs puts the photographs of samples among the inputs, and takes the
// place out of every picture that tells where it was taken: sites are robbed.
func addPhotographs(in *deposit.Input, c *assay.Campaign) {
	for _, p := range c.Photographs {
		if data, err := photo.Read(os.DirFS(c.Dir), p.File); err == nil {
			in.Inputs[p.File] = data
		}
	}
	for _, name := range slices.Sorted(maps.Keys(in.Inputs)) {
		if ok, _ := photo.Known(name); !ok {
			continue
		}
		info, err := photo.Inspect(in.Inputs[name])
		if err == nil && !info.Located {
			continue
		}
		if stripped, err := photo.Strip(in.Inputs[name]); err == nil {
			in.Inputs[name], in.Placeless = stripped, append(in.Placeless, name)
			continue
		}
		delete(in.Inputs, name) // what it tells beside the picture cannot be known
		in.Unread = append(in.Unread, name)
	}
}

// program tells how this program was built.
func program() deposit.Program {
	p := deposit.Program{Name: "smeltbook", Version: version(), Modules: []deposit.Module{}}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return p
	}
	p.Go = info.GoVersion
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			p.Revision = s.Value
		}
	}
	for _, m := range info.Deps {
		if m.Replace != nil {
			m = m.Replace
		}
		p.Modules = append(p.Modules, deposit.Module{Path: m.Path, Version: m.Version, Sum: m.Sum})
	}
	return p
}

func verifyDeposit(ctx context.Context, file string, st streams) error {
	f, err := os.Open(file)
	if err != nil {
		return callError{fmt.Errorf("%s: there is no such file, or it cannot be read", file)}
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil || !info.Mode().IsRegular() {
		return callError{fmt.Errorf("%s is no ordinary file; name the archive", file)}
	}
	proof, err := deposit.Verify(ctx, f, info.Size())
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return fmt.Errorf("%s: %w", file, err)
	}
	if err := readAgain(ctx, proof); err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	_, err = fmt.Fprintf(st.out, "%s is whole: %d files, %d bytes, as their checksums say; %d tables with %d rows agree with their description and with the sheets\n",
		file, proof.Files, proof.Bytes, proof.Tables, proof.Rows)
	return err
}

// readAgain reads the archived sheets and holds them against the archived table
// of values.
func readAgain(ctx context.Context, proof deposit.Proof) error {
	dir, err := os.MkdirTemp("", "smeltbook-verify-")
	if err != nil {
		return fmt.Errorf("no room to read the sheets again: %w", reason(err))
	}
	defer os.RemoveAll(dir)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return fmt.Errorf("no room to read the sheets again: %w", reason(err))
	}
	defer root.Close()
	for name, data := range proof.Campaign {
		local := filepath.FromSlash(name)
		if err := root.MkdirAll(filepath.Dir(local), 0o700); err != nil {
			return fmt.Errorf("reading the sheets again: %w", reason(err))
		}
		if err := root.WriteFile(local, data, 0o600); err != nil {
			return fmt.Errorf("reading the sheets again: %w", reason(err))
		}
	}
	o, err := openCampaign(ctx, dir, io.Discard, true)
	if err != nil {
		return err
	}
	values, err := deposit.Values(o.campaign)
	switch {
	case err != nil:
		return fmt.Errorf("reading the sheets again: %w", err)
	case bytes.Equal(values, proof.Values):
		return nil
	case proof.Version != version():
		return fmt.Errorf("every checksum is right, but this version reads the sheets differently from the version %s that made the archive; use that to compare the values", proof.Version)
	}
	return fmt.Errorf("the table of values is not what the archived sheets say, although every checksum is right: somebody changed one of them and the checksums with it")
}
