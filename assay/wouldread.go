package assay

import (
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"smeltbook/assay/photo"
)

// WouldRead tells whether a file at a path would be taken for data when the
// campaign is read again: a table of results must not become an input.
func (c *Campaign) WouldRead(file string) bool {
	name, ok := c.below(file)
	if !ok || lockFile(name) {
		return false
	}
	if len(c.Config.Data) == 0 {
		return spreadsheet(name) && !strings.HasPrefix(name, ".") && !strings.Contains(name, "/.")
	}
	return slices.ContainsFunc(c.Config.Data, func(pattern string) bool {
		match, err := path.Match(path.Clean(pattern), name)
		return err == nil && match && !(strings.ContainsAny(pattern, "*?") && noTable(os.DirFS(c.Dir), name))
	})
}

// HoldsInputs tells whether inputs of the campaign, photographs among them, lie in a folder itself, and not
// only in folders of it. The campaign's own holds the notebook.
func (c *Campaign) HoldsInputs(folder string) bool {
	name, ok := c.below(folder)
	return ok && (name == "." ||
		slices.ContainsFunc(c.Files, func(f File) bool { return path.Dir(f.Name) == name }) ||
		slices.ContainsFunc(c.Photographs, func(f photo.Photograph) bool { return path.Dir(f.File) == name }))
}

// HoldsNotebook tells whether a folder is the campaign's own.
func (c *Campaign) HoldsNotebook(folder string) bool {
	name, ok := c.below(folder)
	return ok && name == "."
}

// below returns the name that a path has in the campaign, with slashes; ok is
// false where it lies outside. Links are followed as far as the path is there.
func (c *Campaign) below(file string) (name string, ok bool) {
	rel, err := filepath.Rel(followed(c.Dir), followed(file))
	if err != nil || rel == ".." || strings.HasPrefix(rel, ".."+string(filepath.Separator)) {
		return "", false
	}
	return filepath.ToSlash(rel), true
}

// followed makes a path absolute and follows its links; what is not there yet
// stays as it is.
func followed(file string) string {
	abs, err := filepath.Abs(file)
	if err != nil {
		return file
	}
	if real, err := filepath.EvalSymlinks(abs); err == nil {
		return real
	}
	if dir := filepath.Dir(abs); dir != abs {
		return filepath.Join(followed(dir), filepath.Base(abs))
	}
	return abs
}
