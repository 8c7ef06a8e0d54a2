package assay

import (
	"os"
	"path/filepath"
	"testing"
)

// A file is an input when the notebook's patterns take it in, however the path to
// it is written; without patterns every spreadsheet below the folder is one.
func TestWouldRead(t *testing.T) {
	dir := t.TempDir()
	for _, d := range []string{"lab", "tables"} {
		if err := os.Mkdir(filepath.Join(dir, d), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	link := filepath.Join(t.TempDir(), "elsewhere")
	if err := os.Symlink(filepath.Join(dir, "lab"), link); err != nil {
		t.Skip("no links here")
	}
	c := &Campaign{Dir: dir, Files: []File{{Name: "lab/xrf.csv"}}}
	c.Config.Data = []string{"lab/*", "./field/runs.xlsx"}
	for path, want := range map[string]bool{
		filepath.Join(dir, "lab", "x.csv"): true, filepath.Join(dir, "tables", "..", "lab", "x.XLSX"): true, filepath.Join(link, "x.csv"): true,
		filepath.Join(dir, "field", "runs.xlsx"): true, filepath.Join(dir, "lab", "x.svg"): false, filepath.Join(dir, "lab", "x.json"): true, filepath.Join(dir, "lab", "~$x.xlsx"): false,
		filepath.Join(dir, "lab", "deep", "x.csv"): false, filepath.Join(dir, "tables", "x.csv"): false, filepath.Join(dir, "..", "x.csv"): false,
	} {
		if got := c.WouldRead(path); got != want {
			t.Errorf("%s: %t", path, got)
		}
	}
	if !c.HoldsInputs(link) || !c.HoldsInputs(filepath.Join(dir, "lab")) || !c.HoldsInputs(dir) || c.HoldsInputs(filepath.Join(dir, "..")) || c.HoldsInputs(filepath.Join(dir, "tables")) {
		t.Error("folders of inputs")
	}
	c.Config.Data = nil
	if !c.WouldRead(filepath.Join(dir, "tables", "x.csv")) || c.WouldRead(filepath.Join(dir, ".old", "x.csv")) {
		t.Error("without patterns")
	}
}
