package live

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

// serving starts a server that ends with the test.
func serving(t *testing.T) (*Server, string) {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	s := NewServer()
	address, serve, err := s.Listen(ctx)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- serve() }()
	t.Cleanup(func() {
		stop()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	return s, address
}

func get(t *testing.T, r *http.Request) (int, string) {
	t.Helper()
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(body)
}

func request(t *testing.T, method, address string) *http.Request {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, address, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestOnlyThisMachineWithTheSecret(t *testing.T) {
	s, address := serving(t)
	s.Publish([]byte("<p>the report</p>"))
	if !strings.HasPrefix(address, "http://127.0.0.1:") || len(s.token) < 26 || NewServer().token == s.token {
		t.Errorf("address %s", address)
	}
	root := strings.TrimSuffix(address, s.token+"/")
	for path, want := range map[string]int{"": 404, "report.html": 404, "wrong/report.html": 404, s.token: 404, s.token + "/": 200,
		s.token + "/report.html": 200, s.token + "/notebook.md": 404} {
		if code, _ := get(t, request(t, http.MethodGet, root+path)); code != want {
			t.Errorf("%q: %d, want %d", path, code, want)
		}
	}
	if code, _ := get(t, request(t, http.MethodPost, address)); code != http.StatusMethodNotAllowed {
		t.Errorf("POST: %d", code)
	}
	elsewhere := request(t, http.MethodGet, address)
	elsewhere.Host = "example.org"
	if code, _ := get(t, elsewhere); code != http.StatusForbidden {
		t.Errorf("under another name: %d", code)
	}
	if _, body := get(t, request(t, http.MethodGet, address+"report.html")); body != "<p>the report</p>" {
		t.Errorf("the report is not served as it is: %q", body)
	}
	if _, frame := get(t, request(t, http.MethodGet, address)); strings.Contains(frame, "NONCE") || !strings.Contains(frame, "EventSource") {
		t.Errorf("frame: %q", frame)
	}
}

func TestNothingIsShownBeforeItIsBuilt(t *testing.T) {
	_, address := serving(t)
	if code, _ := get(t, request(t, http.MethodGet, address+"report.html")); code != http.StatusServiceUnavailable {
		t.Errorf("%d", code)
	}
}

func TestEventsTellOfEveryBuild(t *testing.T) {
	s, address := serving(t)
	s.Publish(nil)
	res, err := http.DefaultClient.Do(request(t, http.MethodGet, address+"events"))
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	lines := bufio.NewScanner(res.Body)
	next := func() string {
		var event []string
		for lines.Scan() && lines.Text() != "" {
			event = append(event, lines.Text())
		}
		return strings.Join(event, "|")
	}
	if got := next(); got != "event: built|data: 1" || res.Header.Get("Content-Type") != "text/event-stream" {
		t.Errorf("%q", got)
	}
	s.Problem("line 3:\nwrong\r\n\r\nevent: built")
	if got := next(); got != "event: problem|data: line 3: wrong event: built" {
		t.Errorf("%q", got)
	}
	s.Publish(nil)
	if got := next(); got != "event: built|data: 2" {
		t.Errorf("%q", got)
	}
}

func TestSnapshots(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		full := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(full), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(full, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"notebook.md", "lab/xrf.xlsx", "gone.csv", "report.html", ".hidden/a.csv", "lab/~$xrf.xlsx"} {
		write(name, "one")
	}
	before := Look(os.DirFS(dir))
	if len(before) != 3 {
		t.Errorf("snapshot %v", before)
	}
	write("notebook.md", "another")
	write("new.png", "x")
	write("report.html", "written by ourselves")
	if err := os.Remove(filepath.Join(dir, "gone.csv")); err != nil {
		t.Fatal(err)
	}
	if got := Look(os.DirFS(dir)).Since(before); !slices.Equal(got, []string{"gone.csv", "new.png", "notebook.md"}) {
		t.Errorf("changed: %v", got)
	}
}

func TestWatchTellsOfChanges(t *testing.T) {
	dir := t.TempDir()
	name := filepath.Join(dir, "notebook.md")
	if err := os.WriteFile(name, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	told := make(chan []string)
	ended := make(chan struct{})
	built := Look(os.DirFS(dir))
	go func() {
		defer close(ended)
		Watch(ctx, os.DirFS(dir), built, time.Millisecond, func(changed []string) { told <- changed })
	}()
	if err := os.WriteFile(name, []byte("another"), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := <-told; !slices.Equal(got, []string{"notebook.md"}) {
		t.Errorf("%v", got)
	}
	stop()
	select {
	case <-ended:
	case <-told: // a change seen before the end
		<-ended
	}
}
