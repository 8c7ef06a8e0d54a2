// Package live shows a report in the browser while it is being written: it
// watches the campaign's files, and a page on this machine loads the report anew
// whenever it was built. The report itself is served as it was saved; what
// reloads it is a page around it.
package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	_ "embed"
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync"
	"time"
)

//go:embed frame.html
var frameHTML string

// Server serves the newest report to browsers on this machine that know its
// address, which holds a secret.
type Server struct {
	token string
	host  string // address and port that a request has to name

	mu      sync.Mutex
	page    []byte
	version int
	problem string
	changed chan struct{} // closed and replaced at every change
}

// NewServer returns a server with a new secret.
func NewServer() *Server {
	return &Server{token: strings.ToLower(rand.Text()), changed: make(chan struct{})}
}

// Publish makes page the report that is shown.
func (s *Server) Publish(page []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.page, s.problem = page, ""
	s.version++
	s.tell()
}

// Problem shows why there is no newer report; the last one stays.
func (s *Server) Problem(text string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.problem = text
	s.tell()
}

func (s *Server) tell() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// Listen opens a port of the loopback device, never of a network, and returns the
// address to open and a function that serves until the context ends.
func (s *Server) Listen(ctx context.Context) (address string, serve func() error, err error) {
	l, err := (&net.ListenConfig{}).Listen(ctx, "tcp", "127.0.0.1:0")
	if err != nil {
		return "", nil, fmt.Errorf("opening a port of this machine: %w", err)
	}
	s.host = l.Addr().String()
	h := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second, BaseContext: func(net.Listener) context.Context { return ctx }}
	return "http://" + s.host + "/" + s.token + "/", func() error {
		stop := context.AfterFunc(ctx, func() { _ = h.Close() })
		defer stop()
		if err := h.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			return fmt.Errorf("serving the report: %w", err)
		}
		return nil
	}, nil
}

// ServeHTTP answers for the frame, the report in it and the events.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	// A page elsewhere can make a browser ask here under another name.
	if r.Host != s.host {
		http.Error(w, "not here", http.StatusForbidden)
		return
	}
	if r.Method != http.MethodGet {
		http.Error(w, "only to read", http.StatusMethodNotAllowed)
		return
	}
	token, name, ok := strings.Cut(strings.TrimPrefix(r.URL.Path, "/"), "/")
	if !ok || subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1 {
		http.NotFound(w, r)
		return
	}
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	switch name {
	case "":
		h.Set("Content-Security-Policy", "default-src 'none'; script-src 'nonce-"+s.token+"'; style-src 'nonce-"+s.token+"'; connect-src 'self'; frame-src 'self'; frame-ancestors 'none'")
		h.Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write([]byte(strings.ReplaceAll(frameHTML, "NONCE", s.token)))
	case "report.html":
		s.mu.Lock()
		page := s.page
		s.mu.Unlock()
		if page == nil {
			http.Error(w, "The report has not been built yet.", http.StatusServiceUnavailable)
			return
		}
		h.Set("Content-Security-Policy", "frame-ancestors 'self'")
		h.Set("Content-Type", "text/html; charset=utf-8")
		_, _ = w.Write(page)
	case "events":
		s.events(w, r)
	default:
		http.NotFound(w, r)
	}
}

// events sends the state, and again whenever it changes, as server-sent events.
func (s *Server) events(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	flush := http.NewResponseController(w)
	for {
		s.mu.Lock()
		version, problem, changed := s.version, s.problem, s.changed
		s.mu.Unlock()
		text := fmt.Sprintf("event: built\ndata: %d\n\n", version)
		if problem != "" {
			text = "event: problem\ndata: " + strings.Join(strings.Fields(problem), " ") + "\n\n"
		}
		if _, err := w.Write([]byte(text)); err != nil || flush.Flush() != nil {
			return
		}
		select {
		case <-changed:
		case <-r.Context().Done():
			return
		}
	}
}
