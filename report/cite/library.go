// Package cite reads a bibliography in CSL-JSON, the open format in which
// reference managers export, and sets references by author and year.
package cite

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"smeltbook/assay/source"
)

// Library is a bibliography: works by their keys.
type Library struct {
	works map[string]Work
	keys  []string // in the order of the file
}

// Read reads a bibliography. Works that cannot be cited are told in the notices;
// without a readable file they hold an error.
func Read(file string, data []byte) (Library, source.Notices) {
	l := Library{works: map[string]Work{}}
	var notices source.Notices
	at := source.Cell{File: file}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	var works []Work
	if err := json.Unmarshal(data, &works); err != nil {
		line := 1
		var syntax *json.SyntaxError
		if errors.As(err, &syntax) {
			line += bytes.Count(data[:min(int(syntax.Offset), len(data))], []byte("\n"))
		}
		notices.Add(source.Error, "BAD_BIBLIOGRAPHY", source.Line(file, line),
			"the bibliography is no CSL-JSON list of works; export it as \"CSL JSON\" from your reference manager (%v)", plainJSON(err))
		return l, notices
	}
	for i, w := range works {
		switch _, twice := l.works[string(w.ID)]; {
		case w.ID == "":
			notices.Add(source.Warning, "WORK_WITHOUT_KEY", at, "work %d (%.60q) has no id and cannot be cited", i+1, w.Title)
		case twice:
			notices.Add(source.Warning, "KEY_TWICE", at, "the key %q is given to two works; the first is taken", w.ID)
		default:
			l.works[string(w.ID)] = w
			l.keys = append(l.keys, string(w.ID))
		}
	}
	return l, notices
}

// plainJSON leaves out what the library says of Go.
func plainJSON(err error) error {
	var wrong *json.UnmarshalTypeError
	if errors.As(err, &wrong) {
		return fmt.Errorf("%s stands where %q belongs", wrong.Value, wrong.Field)
	}
	return err
}

// Work returns the work with a key.
func (l Library) Work(key string) (Work, bool) {
	w, ok := l.works[key]
	return w, ok
}

// Keys returns the keys in the order of the file.
func (l Library) Keys() []string { return slices.Clone(l.keys) }
