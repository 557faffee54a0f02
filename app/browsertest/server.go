//go:build !js

package browsertest

import (
	"compress/gzip"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"twoneedles/app/site"
)

// Server serves a folder under a path of a local address. It keeps its address
// over [Server.Stop] and [Server.Start].
type Server struct {
	URL string // with the path and its last slash

	t      testing.TB
	prefix string
	addr   string

	mu     sync.Mutex
	dir    string
	http   *http.Server
	fault  func(path string) Fault
	asked  []string
	gates  map[string]chan struct{}
	beside map[string]string // prefix → folder
	sent   int64
}

// Fault is what a server does to a request instead of answering it.
type Fault int

const (
	None     Fault = iota
	Missing        // 404
	Cut            // half of the bytes, then the connection breaks
	Stall          // half of the bytes, then nothing until the test ends
	Wrong          // the right length, one byte different
	Encoded        // fine, but a .br or .gz file is declared to be an encoding, as some hosts do
	Misnamed       // as it is, declared to be packed with gzip, which it is not
	Squeezed       // packed once more on its way, as hosts do that pack whatever they send
	Untyped        // with the type of plain text
	Stale          // to be kept for a day without asking again
)

// Serve serves the folder under the path prefix, which begins and ends with a
// slash, until the test ends.
func Serve(t testing.TB, dir, prefix string) *Server {
	t.Helper()
	s := &Server{t: t, dir: dir, prefix: prefix, addr: "127.0.0.1:0"}
	s.Start()
	s.URL = "http://" + s.addr + prefix
	t.Cleanup(s.Stop)
	return s
}

// Start serves again after Stop, at the same address.
func (s *Server) Start() {
	s.t.Helper()
	listener, err := net.Listen("tcp", s.addr)
	if err != nil {
		s.t.Fatalf("server: %v", err)
	}
	s.addr = listener.Addr().String()
	server := &http.Server{Handler: http.HandlerFunc(s.serve)}
	s.mu.Lock()
	s.http = server
	s.mu.Unlock()
	go server.Serve(listener)
}

// Stop takes the network away: open connections are broken, new ones refused.
func (s *Server) Stop() {
	s.mu.Lock()
	server := s.http
	s.http = nil
	s.mu.Unlock()
	if server != nil {
		server.Close()
	}
}

// Use serves another folder from now on: a new version was put on the host.
func (s *Server) Use(dir string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.dir = dir
}

// Beside serves another site under another path of the same host. Only the first
// site's requests are counted and broken.
func (s *Server) Beside(prefix, dir string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.beside == nil {
		s.beside = map[string]string{}
	}
	s.beside[prefix] = dir
}

// Break asks fault about every request from now on; the path has no prefix and no
// query. Nil mends everything.
func (s *Server) Break(fault func(path string) Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.fault = fault
}

// BreakFile lets requests for one file fail.
func (s *Server) BreakFile(name string, with Fault) {
	s.Break(func(path string) Fault {
		if path == name {
			return with
		}
		return None
	})
}

// Hold lets requests for one file wait until release is called, and only then be answered
// or broken.
func (s *Server) Hold(name string) (release func()) {
	gate := make(chan struct{})
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.gates == nil {
		s.gates = map[string]chan struct{}{}
	}
	s.gates[name] = gate
	return func() { close(gate) }
}

// Asked returns the paths asked for since the last call, in order.
func (s *Server) Asked() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	asked := s.asked
	s.asked = nil
	return asked
}

// Sent returns how many bytes of files went out since the last call.
func (s *Server) Sent() int64 {
	s.mu.Lock()
	defer s.mu.Unlock()
	sent := s.sent
	s.sent = 0
	return sent
}

func (s *Server) serve(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	for prefix, dir := range s.beside {
		if strings.HasPrefix(r.URL.Path, prefix) {
			s.mu.Unlock()
			strip(prefix, dir).ServeHTTP(w, r)
			return
		}
	}
	s.mu.Unlock()
	path, ok := strings.CutPrefix(r.URL.Path, s.prefix)
	if !ok { // another site on the same host; browsers ask for /favicon.ico
		http.NotFound(w, r)
		return
	}
	s.mu.Lock()
	s.asked = append(s.asked, path)
	if gate := s.gates[path]; gate != nil {
		s.mu.Unlock()
		select {
		case <-gate:
		case <-r.Context().Done():
		}
		s.mu.Lock()
	}
	fault := None
	if s.fault != nil {
		fault = s.fault(path)
	}
	handler := strip(s.prefix, s.dir)
	s.mu.Unlock()
	switch fault {
	case Missing:
		http.NotFound(w, r)
	case Encoded:
		encoding := map[string]string{".br": "br", ".gz": "gzip"}[filepath.Ext(path)]
		handler.ServeHTTP(&relabelled{&counter{w, s}, "Content-Encoding", encoding}, r)
	case Misnamed:
		handler.ServeHTTP(&relabelled{&counter{w, s}, "Content-Encoding", "gzip"}, r)
	case Untyped:
		handler.ServeHTTP(&relabelled{&counter{w, s}, "Content-Type", "text/plain"}, r)
	case Stale:
		handler.ServeHTTP(&relabelled{&counter{w, s}, "Cache-Control", "public, max-age=86400"}, r)
	case Cut, Stall, Wrong, Squeezed:
		spoil(w, r, handler, fault)
	default:
		handler.ServeHTTP(&counter{w, s}, r)
	}
}

func strip(prefix, dir string) http.Handler {
	return http.StripPrefix(strings.TrimSuffix(prefix, "/"), site.Handler(os.DirFS(dir)))
}

// counter counts the bytes of answers.
type counter struct {
	http.ResponseWriter
	s *Server
}

func (c *counter) Write(b []byte) (int, error) {
	n, err := c.ResponseWriter.Write(b)
	c.s.mu.Lock()
	c.s.sent += int64(n)
	c.s.mu.Unlock()
	return n, err
}

// relabelled says something else in one header.
type relabelled struct {
	http.ResponseWriter
	header, value string
}

func (l *relabelled) WriteHeader(status int) {
	l.Header().Set(l.header, l.value)
	l.ResponseWriter.WriteHeader(status)
}

// spoil answers with what the handler would have said, damaged.
func spoil(w http.ResponseWriter, r *http.Request, handler http.Handler, fault Fault) {
	held := &held{ResponseWriter: w, status: http.StatusOK}
	handler.ServeHTTP(held, r)
	if fault == Squeezed {
		w.Header().Set("Content-Encoding", "gzip")
		w.Header().Del("Content-Length")
	}
	w.WriteHeader(held.status)
	if fault == Squeezed {
		squeeze := gzip.NewWriter(w)
		squeeze.Write(held.body)
		squeeze.Close()
		return
	}
	if fault == Cut {
		w.Write(held.body[:len(held.body)/2])
		http.NewResponseController(w).Flush()
		panic(http.ErrAbortHandler) // breaks the connection
	}
	if fault == Stall {
		w.Write(held.body[:len(held.body)/2])
		http.NewResponseController(w).Flush()
		<-r.Context().Done()
		return
	}
	held.body[len(held.body)/2] ^= 1
	w.Write(held.body)
}

type held struct {
	http.ResponseWriter
	status int
	body   []byte
}

func (h *held) WriteHeader(status int) { h.status = status }

func (h *held) Write(b []byte) (int, error) {
	h.body = append(h.body, b...)
	return len(b), nil
}
