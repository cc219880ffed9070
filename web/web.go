// Package web is the page: a local server that answers the desk's questions as JSON, with drawings by the
// report's pencil, and holds the bench book that is open in the browser. It knows no physics and does no
// arithmetic on units.
package web

import (
	"crypto/rand"
	"crypto/subtle"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log"
	"mime"
	"net"
	"net/http"
	"net/netip"
	"path"
	"runtime/debug"
	"strings"
	"sync"
	"time"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

//go:embed static
var static embed.FS

// Sizes beyond which a request is refused, bytes.
const (
	mostQuestion = 1 << 20
	mostLog      = 1 << 30
)

// Options of a server.
type Options struct {
	// Token has to be shown by every request where it is set; it is for listening beyond this computer.
	Token string
	// Hosts are the names and addresses, with port, that requests may be addressed to.
	Hosts []string
}

// Server is the page of one folder. It is an http.Handler.
type Server struct {
	book    *desk.Book
	options Options
	mux     *http.ServeMux
	events  *events
	drops   *desk.Drops

	keptMu sync.Mutex
	kept   map[string]*kept
}

// New opens the page of a folder.
func New(folder string, o Options) (*Server, error) {
	book, err := desk.OpenBook(folder)
	if err != nil {
		return nil, err
	}
	s := &Server{book: book, options: o, mux: http.NewServeMux(), events: newEvents(), drops: &desk.Drops{}, kept: map[string]*kept{}}
	s.routes()
	return s, nil
}

// Close ends what the server holds open.
func (s *Server) Close() {
	s.events.close()
	s.drops.Close()
}

// Token makes a token that nobody guesses.
func Token() string {
	b := make([]byte, 16)
	_, _ = rand.Read(b) // never fails, by its documentation
	return hex.EncodeToString(b)
}

// HostsOf are the names by which a listener on an address is reached: on the loopback every name of it, else
// the address alone.
func HostsOf(a net.Addr) []string {
	host, port, err := net.SplitHostPort(a.String())
	if err != nil {
		return nil
	}
	ip, err := netip.ParseAddr(host)
	if err == nil && ip.IsLoopback() {
		return []string{"127.0.0.1:" + port, "localhost:" + port, "[::1]:" + port}
	}
	return []string{net.JoinHostPort(host, port)}
}

// ServeHTTP refuses what does not come from the page itself, and answers the rest.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
	if why := s.refused(w, r); why != "" {
		http.Error(w, why, http.StatusForbidden)
		return
	}
	s.mux.ServeHTTP(w, r)
}

// cookieOf names the token's cookie: browsers keep cookies by host alone, and a host may serve several folders.
func cookieOf(r *http.Request) string {
	_, port, _ := net.SplitHostPort(r.Host) // the host is one of those that are served
	return "jetwright-" + port
}

// refused says why a request is not answered; reads are held to the same rules as writes, since what they
// tell is the builder's own.
func (s *Server) refused(w http.ResponseWriter, r *http.Request) string {
	known := false
	for _, h := range s.options.Hosts {
		known = known || r.Host == h
	}
	if !known {
		return "this page is not to be reached by that name"
	}
	if o := r.Header.Get("Origin"); o != "" && o != "http://"+r.Host {
		return "this request comes from another page"
	}
	switch site := r.Header.Get("Sec-Fetch-Site"); site {
	case "", "same-origin":
	case "none": // typed into the address bar
		if r.Method != http.MethodGet {
			return "this request does not come from the page"
		}
	default:
		// a link from elsewhere may open the page itself, which shows nothing before it asks
		if r.Method != http.MethodGet || r.URL.Path != "/" || r.Header.Get("Sec-Fetch-Mode") != "navigate" {
			return "this request comes from another page"
		}
	}
	switch r.Method {
	case http.MethodGet, http.MethodHead:
	case http.MethodPost:
		kind, _, _ := mime.ParseMediaType(r.Header.Get("Content-Type"))
		if kind != "application/json" && kind != "application/octet-stream" {
			return "a form cannot be sent here"
		}
	default:
		return "it takes GET and POST"
	}
	if s.options.Token == "" {
		return ""
	}
	same := func(t string) bool {
		return subtle.ConstantTimeCompare([]byte(t), []byte(s.options.Token)) == 1
	}
	if c, err := r.Cookie(cookieOf(r)); err == nil && same(c.Value) {
		return ""
	}
	if t := r.URL.Query().Get("token"); r.URL.Path == "/" && same(t) {
		http.SetCookie(w, &http.Cookie{Name: cookieOf(r), Value: t, Path: "/", HttpOnly: true, SameSite: http.SameSiteStrictMode})
		return ""
	}
	return "the token is missing or wrong: open the address that serve printed"
}

func (s *Server) routes() {
	s.mux.HandleFunc("GET /{$}", s.file("index.html"))
	s.mux.HandleFunc("GET /static/{name}", func(w http.ResponseWriter, r *http.Request) { s.file(r.PathValue("name"))(w, r) })
	s.mux.HandleFunc("GET /api/events", s.watch)
	s.mux.HandleFunc("GET /api/page", s.answer(s.page))
	s.mux.HandleFunc("GET /api/sheet", s.answer(styled(s.sheet)))
	s.mux.HandleFunc("GET /api/ask/{question}", s.answer(styled(s.question)))
	s.mux.HandleFunc("GET /api/room/{room}", s.answer(styled(s.room)))
	s.mux.HandleFunc("GET /api/fitted", s.answer(styled(s.fitted)))
	s.mux.HandleFunc("GET /api/explain", s.answer(styled(s.explain)))
	s.mux.HandleFunc("GET /api/stand.html", s.answer(styled(s.standPage)))
	s.mux.HandleFunc("GET /api/report.html", s.answer(styled(s.reportPage)))
	s.mux.HandleFunc("POST /api/state", s.answer(s.state))
	s.mux.HandleFunc("POST /api/charts", s.answer(s.charts))
	s.mux.HandleFunc("GET /api/ticks", s.ticks)
	s.mux.HandleFunc("POST /api/act/{act}", s.answer(s.act))
	s.mux.HandleFunc("POST /api/note", s.answer(s.note))
	s.mux.HandleFunc("POST /api/freeze", s.answer(s.freeze))
	s.mux.HandleFunc("POST /api/drop", s.answer(s.drop))
	s.mux.HandleFunc("POST /api/adopt", s.answer(s.adopt))
	s.mux.HandleFunc("GET /api/solids", s.answer(s.solids))
	s.mux.HandleFunc("GET /api/solid/{part}", s.answer(s.solid))
	s.mux.HandleFunc("POST /api/export", s.answer(s.export))
	s.mux.HandleFunc("GET /api/traces", s.answer(styled(s.traces)))
}

var kinds = map[string]string{
	".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml",
}

// file answers an embedded file.
func (s *Server) file(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		data, err := static.ReadFile("static/" + name)
		if err != nil {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", kinds[path.Ext(name)])
		packed(w, r, data)
	}
}

// reply is what an answer is made of.
type reply struct {
	kind string // media type; JSON if empty
	body []byte
	name string // to be saved under
}

// fault is an answer that says what is wrong.
type fault struct {
	Faults json.RawMessage `json:"faults"`
}

// answer turns a question into a handler. What the builder got wrong is 422, with notices.
func (s *Server) answer(ask func(*http.Request) (reply, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && !strings.HasPrefix(r.URL.Path, "/api/drop") {
			r.Body = http.MaxBytesReader(w, r.Body, mostQuestion)
		}
		a, err := safely(ask, r)
		if err != nil {
			s.complain(w, r, err)
			return
		}
		if a.kind == "" {
			a.kind = "application/json; charset=utf-8"
		}
		w.Header().Set("Content-Type", a.kind)
		if a.name != "" {
			w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": a.name}))
		}
		packed(w, r, a.body)
	}
}

// styled reads the units that an answer is wanted in.
func styled(ask func(*http.Request, report.Style) (reply, error)) func(*http.Request) (reply, error) {
	return func(r *http.Request) (reply, error) {
		st, err := style(r.URL.Query().Get("units"))
		if err != nil {
			return reply{}, err
		}
		return ask(r, st)
	}
}

// safely asks a question; what the program does wrong is told as well, and the page goes on.
func safely(ask func(*http.Request) (reply, error), r *http.Request) (a reply, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			log.Printf("fault in %s: %v\n%s", r.URL.Path, fault, debug.Stack())
			err = notice.List{{
				Kind: notice.Error, What: fmt.Sprintf("a fault of this program: %v", fault), WayOut: "nothing was written; the folder is as it was. The terminal in which serve runs says more",
			}}
		}
	}()
	return ask(r)
}

func (s *Server) complain(w http.ResponseWriter, _ *http.Request, err error) {
	code, body, jsonErr := faulty(err)
	if jsonErr != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(body) // the other side is gone if it fails
}

// faulty is the status and the answer of what went wrong.
func faulty(err error) (code int, body []byte, jsonErr error) {
	code = http.StatusUnprocessableEntity
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		code = http.StatusRequestEntityTooLarge
		err = notice.List{{Kind: notice.Error, What: fmt.Sprintf("it is larger than %d MB", large.Limit>>20), WayOut: "adopt it with: jetwright run add"}}
	}
	var list notice.List
	var one notice.Notice
	switch {
	case errors.As(err, &list):
	case errors.As(err, &one):
		list = notice.List{one}
	default:
		list = notice.List{{Kind: notice.Error, What: err.Error()}}
	}
	body, jsonErr = json.Marshal(fault{noticesJSON(list)})
	return code, body, jsonErr
}

// body reads a question in JSON; unknown words are refused.
func body(r *http.Request, into any) error { return decoded(r.Body, into) }

func decoded(text io.Reader, into any) error {
	d := json.NewDecoder(text)
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			return err
		}
		return notice.List{{Kind: notice.Error, What: "the question cannot be read: " + err.Error()}}
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return notice.List{{Kind: notice.Error, What: "more than one question was sent"}}
	}
	return nil
}

// Serve answers on a listener until it is closed.
func Serve(l net.Listener, s *Server) error {
	stop := make(chan struct{})
	defer close(stop)
	go s.look(stop)
	server := &http.Server{Handler: s, ReadHeaderTimeout: 10 * time.Second, MaxHeaderBytes: 1 << 16}
	err := server.Serve(l)
	if errors.Is(err, net.ErrClosed) || errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}
