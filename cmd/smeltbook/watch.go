package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/report"
	"smeltbook/report/live"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// lookEvery is how often the campaign's files are looked at.
const lookEvery = 150 * time.Millisecond

// watched is a report that is built again whenever something behind it changes.
type watched struct {
	dir, out string
	st       streams
	assets   report.Options
	draft    report.Draft
	study    *study.Study // of the last data that had no errors
	opened   opened       // with it
}

// watchReport builds the report, serves it to this machine alone and builds it
// again whenever a file changes, until the context ends.
func watchReport(ctx context.Context, dir, out string, st streams) error {
	w := &watched{dir: dir, out: out, st: st, assets: report.Options{Version: version(), Assets: report.Assets()}}
	server := live.NewServer()
	build := func(changed []string) error {
		page, err := w.build(ctx, changed)
		if err != nil {
			server.Problem(err.Error())
			return err
		}
		server.Publish(page)
		return nil
	}
	before := live.Look(os.DirFS(dir))
	var call callError
	if err := build(nil); errors.As(err, &call) || ctx.Err() != nil {
		return err
	}
	address, serve, err := server.Listen(ctx)
	if err != nil {
		return err
	}
	fmt.Fprintf(st.out, "%s\n%s\n", out, address)
	fmt.Fprintln(st.err, "open the address in a browser on this machine; Ctrl-C ends it")
	go live.Watch(ctx, os.DirFS(dir), before, lookEvery, func(changed []string) {
		started := time.Now()
		if err := build(changed); err == nil {
			fmt.Fprintf(st.err, "built again in %.1f s, for %s changed\n", time.Since(started).Seconds(), strings.Join(changed, ", "))
		} else if ctx.Err() == nil {
			fmt.Fprintln(st.err, "the last report stays")
		}
	})
	return serve()
}

// build writes the report and returns it. The study is used again where neither
// data nor the notebook's first lines changed; the error is a sentence.
func (w *watched) build(ctx context.Context, changed []string) ([]byte, error) {
	o, again := w.proseOnly(changed)
	if !again {
		s, opened, err := openStudy(ctx, w.dir, w.st.err, true, func(c *assay.Campaign) error { return checkOutput(w.out, ".html", c) })
		if err != nil {
			w.study = nil
			return nil, firstError(opened.notices, err)
		}
		w.study, w.opened, o = s, opened, opened
	}
	options := w.assets
	options.Notices = o.notices
	var page bytes.Buffer
	notices, err := w.draft.Write(ctx, &page, w.study, o.notebook, options)
	if err != nil {
		return nil, err
	}
	if err := stopAtErrors(w.st.err, notices); err != nil {
		return nil, firstError(notices, err)
	}
	if err := writeWhole(w.out, page.Bytes()); err != nil {
		return nil, err
	}
	return page.Bytes(), nil
}

// proseOnly returns the campaign with its new notebook where nothing else
// changed that the study rests on.
func (w *watched) proseOnly(changed []string) (opened, bool) {
	isData := func(name string) bool {
		return slices.Contains([]string{".xlsx", ".csv"}, strings.ToLower(path.Ext(name)))
	}
	if w.study == nil || slices.ContainsFunc(changed, isData) {
		return opened{}, false
	}
	text, err := os.ReadFile(filepath.Join(w.dir, assay.NotebookName))
	if err != nil {
		return opened{}, false
	}
	n, notices := notebook.Parse(assay.NotebookName, text)
	if notices.Failed() || n.Front != w.opened.notebook.Front {
		return opened{}, false
	}
	o := w.opened
	o.notebook, o.text, o.notices = n, text, append(notices, w.opened.campaign.Notices...)
	return o, true
}

// firstError is the first error that was told, with how many more there are; err
// where none was.
func firstError(ns source.Notices, err error) error {
	bad := ns.Of(source.Error)
	switch len(bad) {
	case 0:
		return err
	case 1:
		return bad[0]
	}
	return fmt.Errorf("%w (and %d more)", bad[0], len(bad)-1)
}
