package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/report/notebook"
)

// TestOverrulesCanBePasted puts every line that check prints under "or:" into a
// notebook, which must take it, and reads the sheet again with it.
func TestOverrulesCanBePasted(t *testing.T) {
	files, err := filepath.Glob("../../testdata/sheets/hard/*")
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, file := range files {
		if ext := filepath.Ext(file); ext != ".xlsx" && ext != ".csv" {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		dir := t.TempDir()
		name := filepath.Base(file)
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
			t.Fatal(err)
		}
		for _, line := range strings.Split(checkText(t, dir), "\n") {
			setting, ok := strings.CutPrefix(line, overruleMark)
			if !ok {
				continue
			}
			lines++
			text := "---\ntitle: T\ndata: [" + name + "]\nsheets:\n  " + setting + "\n---\n"
			n, notices := notebook.Parse("notebook.md", []byte(text))
			if len(notices) > 0 || len(n.Config.Sheets) != 1 {
				t.Errorf("%s: %s: %v", name, setting, notices)
			}
			if err := os.WriteFile(filepath.Join(dir, "notebook.md"), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
			if got := checkText(t, dir); strings.Contains(got, "notebook.md") && strings.Contains(got, "speaks of") {
				t.Errorf("%s: %s reaches no sheet:\n%s", name, setting, got)
			}
			if err := os.Remove(filepath.Join(dir, "notebook.md")); err != nil {
				t.Fatal(err)
			}
		}
	}
	if lines < 20 {
		t.Errorf("only %d lines to paste", lines)
	}
}

func checkText(t *testing.T, dir string) string {
	t.Helper()
	var w strings.Builder
	found, err := inspect(context.Background(), dir, &w)
	if err != nil {
		t.Fatal(err)
	}
	if err := writeCheckText(&w, found); err != nil {
		t.Fatal(err)
	}
	return w.String()
}
