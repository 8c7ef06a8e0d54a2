package main

import (
	"embed"
	"encoding/csv"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/xuri/excelize/v2"
)

// The template's sheets are kept as text so that they can be read and
// reviewed; the user gets workbooks.
//
//go:embed template
var templateFiles embed.FS

func newStart(st streams) *cobra.Command {
	return &cobra.Command{
		Use:   "start DIR",
		Short: "Begin a new campaign from a template, with an example in it",
		Long: `start makes a folder with a notebook, a laboratory workbook and field sheets
that hold a small invented example, ready for "smeltbook report". It never
writes into a folder that holds anything.`,
		Args: onePath("the folder to make"),
		RunE: func(_ *cobra.Command, args []string) error {
			dir := args[0]
			if err := startCampaign(dir); err != nil {
				return err
			}
			_, err := fmt.Fprintf(st.out, "%s\nnext: smeltbook report %s\n", dir, dir)
			return err
		},
	}
}

// startCampaign writes the template beside the target and renames it, so that
// the folder is there whole or not at all.
func startCampaign(dir string) error {
	if entries, err := os.ReadDir(dir); err == nil && len(entries) > 0 {
		return callError{fmt.Errorf("%s is not empty; name a new folder", dir)}
	} else if info, err := os.Stat(dir); err == nil && !info.IsDir() {
		return callError{fmt.Errorf("%s is a file; name a new folder", dir)}
	}
	clean := filepath.Clean(dir)
	absolute, err := filepath.Abs(clean) // "." has its parent elsewhere
	if err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	parent := filepath.Dir(absolute)
	if err := os.MkdirAll(parent, 0o755); err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	temp, err := os.MkdirTemp(parent, ".smeltbook-start-")
	if err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	defer os.RemoveAll(temp)
	if err := os.Chmod(temp, 0o755); err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	if err := writeTemplate(temp); err != nil {
		return fmt.Errorf("writing the template: %w", err)
	}
	if info, err := os.Stat(clean); err == nil && info.IsDir() {
		return moveInto(temp, clean)
	}
	if err := os.Rename(temp, clean); err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	return nil
}

// moveInto fills a folder that is there and empty.
func moveInto(from, to string) error {
	entries, err := os.ReadDir(from)
	if err != nil {
		return fmt.Errorf("filling the folder: %w", err)
	}
	for _, e := range entries {
		if err := os.Rename(filepath.Join(from, e.Name()), filepath.Join(to, e.Name())); err != nil {
			return fmt.Errorf("filling the folder: %w", err)
		}
	}
	return nil
}

func writeTemplate(dir string) error {
	root, err := fs.Sub(templateFiles, "template")
	if err != nil {
		return err
	}
	return fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || name == "." {
			return err
		}
		target := filepath.Join(dir, filepath.FromSlash(name))
		if d.IsDir() {
			return os.Mkdir(target, 0o755)
		}
		data, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		if strings.HasSuffix(name, ".csv") {
			return writeWorkbook(strings.TrimSuffix(target, ".csv")+".xlsx", string(data))
		}
		return os.WriteFile(target, data, 0o644)
	})
}

// writeWorkbook turns comma-separated text into a workbook of one sheet,
// numbers as numbers.
func writeWorkbook(path, text string) (err error) {
	r := csv.NewReader(strings.NewReader(text))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		return err
	}
	f := excelize.NewFile()
	defer func() {
		if e := f.Close(); err == nil {
			err = e
		}
	}()
	const sheetName = "Sheet1"
	for i, row := range rows {
		for j, field := range row {
			ref, err := excelize.CoordinatesToCellName(j+1, i+1)
			if err != nil {
				return err
			}
			var value any = field
			if x, err := strconv.ParseFloat(field, 64); err == nil {
				value = x
			}
			if field == "" {
				continue
			}
			if err := f.SetCellValue(sheetName, ref, value); err != nil {
				return err
			}
		}
	}
	if err := f.SaveAs(path); err != nil {
		return err
	}
	return os.Chmod(path, 0o644) // the library's files may be run as programs
}
