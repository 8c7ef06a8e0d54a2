package report_test

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestTablesSetInLaTeX sets every table of the sample campaign with pdflatex and
// none but the usual packages; without pdflatex it is skipped.
func TestTablesSetInLaTeX(t *testing.T) {
	latex, err := exec.LookPath("pdflatex")
	if err != nil {
		t.Skip("there is no pdflatex here")
	}
	if testing.Short() {
		t.Skip("setting all tables takes a while")
	}
	dir := t.TempDir()
	var paper strings.Builder
	paper.WriteString("\\documentclass{article}\n\\usepackage[a4paper,margin=20mm]{geometry}\n\\usepackage{array,booktabs,longtable,rotating,lscape}\n\\begin{document}\n")
	for _, l := range sampleTables(t) {
		var b strings.Builder
		if err := l.Table.WriteLaTeX(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, l.Name()+".tex"), []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&paper, "\\input{%s}\\clearpage\n", l.Name())
	}
	paper.WriteString("\\end{document}\n")
	if err := os.WriteFile(filepath.Join(dir, "paper.tex"), []byte(paper.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	for range 2 { // columns of long tables settle in the second run
		cmd := exec.Command(latex, "-interaction=nonstopmode", "-halt-on-error", "-no-shell-escape", "paper.tex")
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		if err != nil {
			text := string(out)
			t.Fatalf("%v\n%s", err, text[max(0, len(text)-2000):])
		}
	}
	log, err := os.ReadFile(filepath.Join(dir, "paper.log"))
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(log), "Overfull \\hbox"); n > 0 {
		t.Errorf("%d rows run over the page", n)
	}
}
