package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"smeltbook/assay"
)

// checkOutput refuses a target that would destroy something: an input of the
// campaign, its notebook or any spreadsheet in it, a folder, or anything that
// is no ordinary file; and one where it would be read as data. wanted is the ending
// of the kind of file to be written.
func checkOutput(out, wanted string, c *assay.Campaign) error {
	info, err := os.Lstat(out)
	switch {
	case errors.Is(err, fs.ErrNotExist) && wanted != ".xlsx" && c.WouldRead(out): // workbooks of ours bear a mark
		return callError{fmt.Errorf("%s would be read as data of the campaign; name a file elsewhere", out)}
	case errors.Is(err, fs.ErrNotExist) && wanted != ".xlsx" && c.HoldsInputs(filepath.Dir(out)) && !c.HoldsNotebook(filepath.Dir(out)):
		return callError{fmt.Errorf("%s would stand among the inputs of the campaign; name a file elsewhere", out)}
	case errors.Is(err, fs.ErrNotExist):
		return checkFolder(out)
	case err != nil:
		return callError{fmt.Errorf("%s cannot be written: %w", out, err)}
	case info.IsDir():
		return callError{fmt.Errorf("%s is a folder; name a file in it", out)}
	case !info.Mode().IsRegular():
		return callError{fmt.Errorf("%s is no ordinary file, so it is left alone; name another", out)}
	}
	inputs := []string{filepath.Join(c.Dir, assay.NotebookName)}
	for _, f := range c.Files {
		inputs = append(inputs, filepath.Join(c.Dir, filepath.FromSlash(f.Name)))
	}
	for _, in := range inputs {
		if i, err := os.Stat(in); err == nil && os.SameFile(i, info) {
			return callError{fmt.Errorf("%s is an input of the campaign, and inputs are never changed; name another file", out)}
		}
	}
	if ext := strings.ToLower(filepath.Ext(out)); ext != wanted && ext != ".htm" {
		return callError{fmt.Errorf("%s is there already and is not a %s file; name another, or remove it first", out, wanted)}
	}
	return nil
}

// readyFolder makes the folder that files are to be written to, where there is
// none yet. A folder that the campaign's inputs lie in is refused, and one in
// which tables would be taken for inputs.
func readyFolder(dir string, c *assay.Campaign) error {
	switch {
	case c.HoldsInputs(dir):
		return callError{fmt.Errorf("%s holds inputs of the campaign, and what is written there might be read as data; name another folder, for example one in it", dir)}
	case c.WouldRead(filepath.Join(dir, "table.csv")):
		return callError{fmt.Errorf("spreadsheets in %s are read as data; name a folder outside the campaign, or let the notebook say under data: which files to read", dir)}
	}
	info, err := os.Stat(dir)
	switch {
	case err == nil && info.IsDir():
		return nil
	case err == nil:
		return callError{fmt.Errorf("%s is a file; name a folder", dir)}
	case !errors.Is(err, fs.ErrNotExist):
		return callError{fmt.Errorf("%s cannot be used: %w", dir, reason(err))}
	}
	if err := os.Mkdir(dir, 0o755); err != nil {
		return callError{fmt.Errorf("the folder %s cannot be made: %w", dir, reason(err))}
	}
	return nil
}

func checkFolder(out string) error {
	dir := filepath.Dir(out)
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return callError{fmt.Errorf("%s cannot be written: there is no folder %s", out, dir)}
	}
	return nil
}

// writeWhole writes a file beside its target and renames it, so that the
// target is never half written.
func writeWhole(path string, data []byte) error {
	return writeAllWhole([]output{{path, data}})
}

// output is a file to be written.
type output struct {
	path string
	data []byte
}

// writeAllWhole writes all files beside their targets before it renames the first,
// so that a full disk leaves none of them.
func writeAllWhole(files []output) error {
	temps := make([]string, 0, len(files))
	defer func() {
		for _, t := range temps {
			os.Remove(t)
		}
	}()
	for _, f := range files {
		temp, err := os.CreateTemp(filepath.Dir(f.path), ".smeltbook-*")
		if err != nil {
			return fmt.Errorf("%s cannot be written: the folder %s takes no new files (%w)", f.path, filepath.Dir(f.path), reason(err))
		}
		temps = append(temps, temp.Name())
		_, err = temp.Write(f.data)
		if e := temp.Close(); err == nil {
			err = e
		}
		if err == nil {
			err = os.Chmod(temp.Name(), 0o644)
		}
		if err != nil {
			return fmt.Errorf("%s cannot be written: %w", f.path, reason(err))
		}
	}
	for i, f := range files {
		if err := os.Rename(temps[i], f.path); err != nil {
			return fmt.Errorf("%s cannot be written: %w", f.path, reason(err))
		}
	}
	return nil
}

// reason strips the name of the passing file from an error.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
