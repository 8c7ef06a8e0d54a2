package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
)

// opened is a campaign with its notebook.
type opened struct {
	campaign *assay.Campaign
	notebook *notebook.Notebook
	text     []byte         // of the notebook
	notices  source.Notices // of both
}

// openCampaign reads a folder's notebook and the data it names. Without a
// notebook it takes every spreadsheet in the folder, unless one is needed.
func openCampaign(ctx context.Context, dir string, progress io.Writer, needNotebook bool) (opened, error) {
	info, err := os.Stat(dir)
	if err != nil {
		return opened{}, callError{fmt.Errorf("%s: there is no such folder", dir)}
	}
	if !info.IsDir() {
		return opened{}, callError{fmt.Errorf("%s is a file; give the campaign's folder", dir)}
	}
	var o opened
	text, err := os.ReadFile(filepath.Join(dir, assay.NotebookName))
	switch {
	case err == nil:
		o.text = text
		o.notebook, o.notices = notebook.Parse(assay.NotebookName, text)
	case errors.Is(err, fs.ErrNotExist) && !needNotebook:
		o.notebook = &notebook.Notebook{}
	case errors.Is(err, fs.ErrNotExist):
		o.notices.Add(source.Error, "NO_NOTEBOOK", source.Cell{File: dir},
			"there is no %s in this folder; write one, or begin with `smeltbook start`", assay.NotebookName)
		o.campaign = &assay.Campaign{Dir: dir}
		return o, nil
	default:
		return opened{}, fmt.Errorf("reading the notebook: %w", err)
	}
	show := newProgress(progress)
	o.campaign, err = assay.Load(ctx, dir, o.notebook.Config, func(file string, done, total int) {
		show.step("reading "+file, done, total)
	})
	show.clear()
	if err != nil {
		return opened{}, err
	}
	o.notices = append(o.notices, o.campaign.Notices...)
	return o, nil
}
