package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const watchedNotebook = "---\ntitle: T\ndata: [lab.csv, samples.csv]\ngroups: {fired: {kind: slag}}\ndraws: 50\n---\n\nFirst words.\n\n```indices\ngroups: [fired, fired]\n```\n"

// A report that is watched is built again after a change of the prose and after
// one of the data; what is left is the file that the plain command writes.
func TestWatchBuildsAgain(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("notebook.md", watchedNotebook)
	write("lab.csv", "Sample,SiO2,FeOT,CaO,Al2O3\n,wt%,wt%,wt%,wt%\nA-1,34,54,5,6\n")
	write("samples.csv", "id,kind\nA-1,slag\n")

	ctx, stop := context.WithTimeout(t.Context(), 3*time.Minute)
	defer stop()
	out, results := io.Pipe()
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"report", dir, "--watch"}, nil, results, io.Discard)
		results.Close()
	}()
	lines := bufio.NewScanner(out)
	lines.Scan()
	file := lines.Text()
	lines.Scan()
	address := lines.Text()
	go func() { _, _ = io.Copy(io.Discard, out) }()
	if !strings.HasPrefix(address, "http://127.0.0.1:") {
		t.Fatalf("file %q, address %q", file, address)
	}
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, address+"events", nil)
	if err != nil {
		t.Fatal(err)
	}
	res, err := http.DefaultClient.Do(request)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	events := bufio.NewScanner(res.Body)
	await := func(what string) {
		t.Helper()
		for events.Scan() {
			if strings.Contains(events.Text(), what) {
				return
			}
		}
		t.Fatalf("no event with %q", what)
	}
	await("data: 1")
	write("notebook.md", strings.Replace(watchedNotebook, "First", "Other", 1))
	await("data: 2")
	if page := read(t, file); !strings.Contains(page, "Other words.") || strings.Contains(page, "EventSource") {
		t.Error("the report was not built from the new prose alone")
	}
	write("notebook.md", watchedNotebook+"\n{{ value \"A-1\" \"SiO3\" }}\n")
	await("event: problem")
	await("notebook.md, line 14")
	write("notebook.md", watchedNotebook)
	await("data: 3")
	write("lab.csv", "Sample,SiO2,FeOT,CaO,Al2O3\n,wt%,wt%,wt%,wt%\nA-1,31,57,5,6\n")
	await("data: 4")
	stop()
	if got := <-code; got != exitOK {
		t.Errorf("exit code %d", got)
	}
	again := filepath.Join(t.TempDir(), "again.html")
	var told bytes.Buffer
	if got := run(t.Context(), []string{"report", dir, "--out", again}, nil, io.Discard, &told); got != exitOK {
		t.Fatal(told.String())
	}
	if read(t, again) != read(t, file) {
		t.Error("the file that is left is not that of the plain command")
	}
}

func read(t *testing.T, name string) string {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
