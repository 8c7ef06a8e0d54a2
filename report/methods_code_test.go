package report_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// codeOfMethods is the text of the files that write methods.
func codeOfMethods(t *testing.T) string {
	t.Helper()
	names, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out.Write(text)
	}
	return out.String()
}

func sampleNotebook(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("../samples/orrin-vale/notebook.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
