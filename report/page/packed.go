package page

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"slices"
)

// Bounds beyond which a page carries data for its script packed: a chart by
// itself, the notes of all cells together. Smaller ones stand in the open, notes
// as titles, which show without the script too.
const (
	openChart = 100_000 // bytes
	openNotes = 1_000_000
)

// pack returns data as the script unpacks it: base64 of gzip.
func pack(data []byte) (template.HTML, error) {
	var out bytes.Buffer
	text := base64.NewEncoder(base64.StdEncoding, &out)
	z, err := gzip.NewWriterLevel(text, gzip.DefaultCompression)
	if err != nil {
		return "", fmt.Errorf("packing: %w", err)
	}
	if _, err := z.Write(data); err != nil {
		return "", fmt.Errorf("packing: %w", err)
	}
	if err := z.Close(); err != nil {
		return "", fmt.Errorf("packing: %w", err)
	}
	if err := text.Close(); err != nil {
		return "", fmt.Errorf("packing: %w", err)
	}
	return template.HTML(out.String()), nil
}

// packNotes takes the notes of all tables and spreads out of the cells where
// they are many. Those of one are then a list, row by row, an empty text for a
// cell that has none.
func (v *view) packNotes() error {
	total := 0
	type noted struct {
		notes []string
		to    *template.HTML
	}
	var all []noted
	add := func(p partView) {
		switch {
		case p.Table != nil:
			all = append(all, noted{p.Table.notes(), &p.Table.Packed})
		case p.Spread != nil:
			all = append(all, noted{p.Spread.notes(), &p.Spread.Packed})
		}
	}
	for _, b := range v.Blocks {
		if b.Entry == nil {
			continue
		}
		if b.Entry.Opening != nil {
			add(*b.Entry.Opening)
		}
		for _, p := range append(b.Entry.Lead, b.Entry.Rest...) {
			add(p)
		}
	}
	for _, n := range all {
		for _, note := range n.notes {
			total += len(note)
		}
	}
	if total <= openNotes {
		return nil
	}
	v.Large = true
	for _, n := range all {
		if !slices.ContainsFunc(n.notes, func(s string) bool { return s != "" }) {
			continue
		}
		list, err := json.Marshal(n.notes)
		if err != nil {
			return fmt.Errorf("packing: %w", err)
		}
		if *n.to, err = pack(list); err != nil {
			return err
		}
	}
	return nil
}

// notes are those of all cells in the order in which they are written.
func (t *tableView) notes() (out []string) {
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			out = append(out, c.Note)
		}
	}
	return out
}

func (s *spreadView) notes() (out []string) {
	for _, r := range s.Rows {
		out = append(out, "") // of the name
		for _, c := range r.Left {
			out = append(out, c.Note)
		}
		out = append(out, r.Difference.Note)
		for _, c := range r.Right {
			out = append(out, c.Note)
		}
	}
	return out
}
