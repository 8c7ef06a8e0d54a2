package assay

import (
	"os"
	"path/filepath"
	"testing"
)

// Photographs are inputs as sheets are.
func TestFolderOfPhotographsHoldsInputs(t *testing.T) {
	c := load(t, map[string]string{"lab/xrf.csv": xrf, "field/samples.csv": field, "photos/KR-S01.jpg": "picture", "photos/more/note.txt": "x"}, Config{Data: []string{"lab/*", "field/*"}})
	for folder, want := range map[string]bool{"photos": true, "photos/more": false, "lab": true, ".": true} {
		if got := c.HoldsInputs(filepath.Join(c.Dir, filepath.FromSlash(folder))); got != want {
			t.Errorf("%s: %t", folder, got)
		}
	}
	if !c.HoldsNotebook(c.Dir) || c.HoldsNotebook(filepath.Join(c.Dir, "lab")) || c.HoldsNotebook(os.TempDir()) {
		t.Error("the notebook's folder is not known")
	}
}
