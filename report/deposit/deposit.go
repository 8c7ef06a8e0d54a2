// Package deposit packs a campaign for a repository of research data: the
// report, every input with its checksum, the values and all that was computed
// as tables whose columns are described, the recipe with every assumption, and
// who made it and on which terms it may be used. It also proves such an archive.
//
// The archive is a zip file with one folder, a bag after RFC 8493 (BagIt). Its
// tables are described by datapackage.json (Frictionless Data Package), the
// whole by datacite.json (DataCite Metadata Schema 4). The same campaign and the
// same program give the same bytes.
package deposit

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"path"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// Input is what goes into a deposit.
type Input struct {
	Study    *study.Study
	Notebook *notebook.Notebook
	Document page.Document // the report as plain data, for what its entries assumed
	Report   []byte        // the report as HTML
	Program  Program
	Notices  source.Notices // of the campaign and of the report
	// Inputs are all files that the report was made from, the notebook among
	// them, by their names relative to the campaign.
	Inputs map[string][]byte
	// Placeless are the pictures among them that told where they were taken, and
	// Unread those that were left out because nobody can tell what they tell.
	Placeless, Unread []string
}

// Program is what computed the report.
type Program struct {
	Name     string   `json:"name"`
	Version  string   `json:"version"`
	Revision string   `json:"revision,omitempty"`
	Go       string   `json:"go"`
	Modules  []Module `json:"modules"`
}

// Module is a library that the program was built with.
type Module struct {
	Path    string `json:"path"`
	Version string `json:"version"`
	Sum     string `json:"sum,omitempty"`
}

// Folders and files of the archive, below its one folder.
const (
	payload  = "data"
	campaign = "campaign" // below payload
	readme   = "README.md"
)

// Write writes the archive. When the front matter lacks what a deposit needs the
// notices hold errors, and nothing has been written; notes among them say what
// was left out.
func Write(w io.Writer, in Input) (source.Notices, error) {
	about, notices := describe(in)
	if notices.Failed() {
		return notices, nil
	}
	for _, f := range in.Study.Campaign.Files {
		if data, ok := in.Inputs[f.Name]; !ok || sum(data) != f.SHA256 {
			notices.Add(source.Error, "INPUT_CHANGED", source.Cell{File: f.Name}, "the file changed while the report was made; run the command again")
		}
	}
	if notices.Failed() {
		return notices, nil
	}
	if len(in.Placeless) > 0 {
		notices.Add(source.Note, "PLACE_TAKEN_OUT", source.Cell{}, "the archive has these pictures without what the camera wrote beside them, because they told where they were taken: %s", strings.Join(in.Placeless, ", "))
	}
	if len(in.Unread) > 0 {
		notices.Add(source.Note, "PICTURE_LEFT_OUT", source.Cell{}, "the archive has no %s, which cannot be read as a picture, so that it may tell where it was taken", strings.Join(in.Unread, ", "))
	}
	tables := tablesOf(in.Study)
	files := map[string][]byte{"report.html": in.Report, "LICENCE.txt": licenceText(about)}
	for _, t := range tables {
		data, err := t.csv()
		if err != nil {
			return notices, fmt.Errorf("writing %s: %w", t.path, err)
		}
		files[t.path] = data
	}
	m := methodOf(in)
	files["method.txt"] = m.text()
	for name, v := range map[string]any{"method.json": m, "datacite.json": dataciteOf(about), "datapackage.json": packageOf(about, tables, files)} {
		data, err := indented(v)
		if err != nil {
			return notices, fmt.Errorf("writing %s: %w", name, err)
		}
		files[name] = data
	}
	for name, data := range in.Inputs {
		files[path.Join(campaign, name)] = data
	}
	return notices, writeBag(w, about, files, readmeText(about, tables, in))
}

// indented is JSON for people and programs, with a line end.
func indented(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	err := enc.Encode(v)
	return b.Bytes(), err
}
