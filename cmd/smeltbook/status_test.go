package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// call runs the program in this process.
func call(args ...string) (status int, out, messages string) {
	var stdout, stderr bytes.Buffer
	status = run(context.Background(), args, strings.NewReader(""), &stdout, &stderr)
	return status, stdout.String(), stderr.String()
}

func TestExitStatus(t *testing.T) {
	dir := t.TempDir()
	laos := "../../testdata/laos"
	for _, c := range []struct {
		args []string
		want int
	}{
		{[]string{}, exitOK},
		{[]string{"help"}, exitOK},
		{[]string{"melt", "SiO2=30 FeO=70"}, exitOK},
		{[]string{"check", laos}, exitOK},
		{[]string{"check", laos + "/lab/sem-eds.csv"}, exitOK},
		{[]string{"check", dir}, exitData},
		{[]string{"report", dir}, exitData},
		{[]string{"reprot"}, exitCall},
		{[]string{"report"}, exitCall},
		{[]string{"report", "nowhere"}, exitCall},
		{[]string{"report", laos, "--out", filepath.Join(dir, "no", "folder.html")}, exitCall},
		{[]string{"melt"}, exitCall},
		{[]string{"melt", "SiO2=30", "--at", "abc"}, exitCall},
		{[]string{"melt", "SiO2=30 FeO=70", "--at", "310"}, exitCall},
		{[]string{"melt", "SiO2=30 FeO=70", "--log-po2", "5"}, exitCall},
		{[]string{"melt", "FeX=30"}, exitCall},
		{[]string{"melt", "--from", "nowhere.csv"}, exitCall},
		{[]string{"table", laos, "--as", "pdf"}, exitCall},
	} {
		got, _, messages := call(c.args...)
		if got != c.want {
			t.Errorf("%q ends with %d, want %d: %s", c.args, got, c.want, messages)
		}
		if got != exitOK && strings.Contains(messages, "strconv") {
			t.Errorf("%q speaks of the program's insides: %s", c.args, messages)
		}
	}
}

// TestOutputNeverDestroysInput tries to write over what must stay.
func TestOutputNeverDestroysInput(t *testing.T) {
	dir := t.TempDir()
	if status, _, messages := call("start", filepath.Join(dir, "c")); status != exitOK {
		t.Fatal(messages)
	}
	c := filepath.Join(dir, "c")
	link := filepath.Join(dir, "link.html")
	if err := os.Symlink(filepath.Join(c, "notebook.md"), link); err != nil {
		t.Skip(err)
	}
	for _, target := range []string{
		filepath.Join(c, "lab", "xrf.xlsx"), filepath.Join(c, "notebook.md"), filepath.Join(c, "field", "samples.xlsx"), link, c,
	} {
		before, _ := os.ReadFile(target)
		for _, args := range [][]string{{"report", c, "--out", target}, {"table", c, "--as", "csv", "--out", target}, {"table", c, "--as", "xlsx", "--out", target}} {
			if status, _, messages := call(args...); status != exitCall {
				t.Errorf("%q ends with %d: %s", args, status, messages)
			}
		}
		after, _ := os.ReadFile(target)
		if !bytes.Equal(before, after) {
			t.Fatalf("%s was changed", target)
		}
	}
	// A report may be written again over itself.
	for range 2 {
		if status, _, messages := call("report", c); status != exitOK {
			t.Fatal(messages)
		}
	}
}
