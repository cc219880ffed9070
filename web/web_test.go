package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/desk"
	"jetwright/report"
)

const host = "127.0.0.1:7070"

func sled(t testing.TB) string {
	t.Helper()
	return example(t, "rescue-sled")
}

func example(t testing.TB, name string) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), name)
	if err := desk.New(folder, name); err != nil {
		t.Fatal(err)
	}
	return folder
}

func opened(t testing.TB, o Options) (*Server, string) {
	t.Helper()
	folder := sled(t)
	if o.Hosts == nil {
		o.Hosts = []string{host}
	}
	s, err := New(folder, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s, folder
}

func ask(s *Server, method, path, body string, head ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, "http://"+host+path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(head); i += 2 {
		if head[i] == "Host" {
			r.Host = head[i+1]
			continue
		}
		r.Header.Set(head[i], head[i+1])
	}
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	return w
}

// What does not come from the page itself is refused, reads as well as writes.
func TestRefused(t *testing.T) {
	s, _ := opened(t, Options{})
	for _, c := range []struct {
		name, method, path, body string
		head                     []string
		want                     int
	}{
		{"the page", "GET", "/", "", nil, 200},
		{"a read", "GET", "/api/page", "", nil, 200},
		{"from the page", "GET", "/api/page", "", []string{"Sec-Fetch-Site", "same-origin"}, 200},
		{"a link from elsewhere", "GET", "/", "", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "navigate"}, 200},
		{"another name", "GET", "/api/page", "", []string{"Host", "evil.example:7070"}, 403},
		{"the right name with a dot", "GET", "/api/page", "", []string{"Host", host + "."}, 403},
		{"no port", "GET", "/api/page", "", []string{"Host", "127.0.0.1"}, 403},
		{"a read from elsewhere", "GET", "/api/page", "", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"a read from a neighbour port", "GET", "/api/page", "", []string{"Sec-Fetch-Site", "same-site"}, 403},
		{"a frame from elsewhere", "GET", "/", "", []string{"Sec-Fetch-Site", "cross-site", "Sec-Fetch-Mode", "no-cors"}, 403},
		{"another origin", "GET", "/api/page", "", []string{"Origin", "http://evil.example"}, 403},
		{"its own origin", "POST", "/api/act/undo", "{}", []string{"Origin", "http://" + host}, 200},
		{"no origin of its own", "POST", "/api/act/undo", "{}", []string{"Origin", "null"}, 403},
		{"a write from elsewhere", "POST", "/api/act/undo", "{}", []string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"a write from the address bar", "POST", "/api/act/undo", "{}", []string{"Sec-Fetch-Site", "none"}, 403},
		{"a form", "POST", "/api/act/undo", "x", []string{"Content-Type", "application/x-www-form-urlencoded"}, 403},
		{"text", "POST", "/api/act/undo", "{}", []string{"Content-Type", "text/plain"}, 403},
		{"another method", "DELETE", "/api/page", "", nil, 403},
		{"out of the folder", "GET", "/static/../../go.mod", "", nil, 307},
		{"out of the folder, dressed", "GET", "/static/..%2f..%2fgo.mod", "", nil, 404},
		{"nothing", "GET", "/drive.toml", "", nil, 404},
		{"a question too long", "POST", "/api/act/edit", `{"path":"` + strings.Repeat("x", mostQuestion) + `"}`, nil, 413},
		{"no question", "POST", "/api/act/edit", "hello", nil, 422},
		{"unknown words", "POST", "/api/act/edit", `{"file":"/etc/passwd"}`, nil, 422},
		{"two questions", "POST", "/api/act/undo", "{}{}", nil, 422},
	} {
		w := ask(s, c.method, c.path, c.body, c.head...)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d: %s", c.name, w.Code, c.want, strings.TrimSpace(w.Body.String()))
		}
		if csp := w.Header().Get("Content-Security-Policy"); !strings.Contains(csp, "default-src 'none'") || strings.Contains(csp, "unsafe") {
			t.Errorf("%s: the policy is %q", c.name, csp)
		}
	}
}

// Beyond this computer every request shows the token.
func TestTokenAsked(t *testing.T) {
	token := Token()
	if other := Token(); other == token || len(token) < 32 {
		t.Fatalf("tokens %q, %q", token, other)
	}
	s, _ := opened(t, Options{Token: token})
	if w := ask(s, "GET", "/api/page", ""); w.Code != 403 {
		t.Errorf("without a token: %d", w.Code)
	}
	if w := ask(s, "GET", "/?token=wrong", ""); w.Code != 403 {
		t.Errorf("with a wrong token: %d", w.Code)
	}
	if w := ask(s, "GET", "/api/page?token="+token, ""); w.Code != 403 {
		t.Errorf("a token in an address that can be linked to: %d", w.Code)
	}
	w := ask(s, "GET", "/?token="+token, "")
	if w.Code != 200 || len(w.Result().Cookies()) != 1 {
		t.Fatalf("with the token: %d", w.Code)
	}
	c := w.Result().Cookies()[0]
	if c.Name != "jetwright-7070" {
		t.Errorf("the cookie %s is that of every folder on this host", c.Name)
	}
	if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
		t.Error("the cookie can be read or sent from elsewhere")
	}
	if w := ask(s, "GET", "/api/page", "", "Cookie", c.Name+"="+c.Value); w.Code != 200 {
		t.Errorf("with the cookie: %d", w.Code)
	}
}

// A dropped log has a plain name, and what is not a log says so.
func TestDropNames(t *testing.T) {
	s, folder := opened(t, Options{})
	before := files(t, folder)
	for _, name := range []string{"../x.csv", "a/b.csv", `a\b.csv`, "", ".hidden", "c:x.csv", "x%00.csv", "x%01.csv", strings.Repeat("n", 300) + ".csv"} {
		w := ask(s, "POST", "/api/drop?name="+strings.ReplaceAll(name, " ", "%20"), "t,power\n0,1\n1,2\n", "Content-Type", "application/octet-stream")
		if w.Code != 422 {
			t.Errorf("%q: %d", name, w.Code)
		}
	}
	if w := ask(s, "POST", "/api/drop?name=words.csv", "no numbers here\n", "Content-Type", "application/octet-stream"); w.Code != 422 || !strings.Contains(w.Body.String(), "two rows of numbers") {
		t.Errorf("words: %d %s", w.Code, w.Body)
	}
	for _, run := range []string{"../../up", "a/b", "..", `x\u0001`} {
		if w := ask(s, "POST", "/api/note", `{"run":"`+run+`","values":{"power":"1 kW","place":"battery","thrust":"90 N"}}`); w.Code != 422 || !strings.Contains(w.Body.String(), "no name for a run") {
			t.Errorf("a run %q: %d %.200s", run, w.Code, w.Body)
		}
	}
	if w := ask(s, "POST", "/api/adopt", `{"run":"../../up","logs":["9"]}`); w.Code != 422 {
		t.Errorf("a log that was never dropped: %d", w.Code)
	}
	if after := files(t, folder); after != before {
		t.Errorf("the folder changed:\n%s\n%s", before, after)
	}
}

func files(t testing.TB, folder string) string {
	t.Helper()
	var out strings.Builder
	err := filepath.Walk(folder, func(path string, info os.FileInfo, err error) error {
		if err == nil && !info.IsDir() {
			fmt.Fprintln(&out, path, info.Size())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// Logs are dropped, a guess is corrected, they are adopted and reduced.
func TestDropAdopt(t *testing.T) {
	s, folder := opened(t, Options{})
	var log strings.Builder
	log.WriteString("zeit;leistung W;zug kgf;x1\n")
	for i := range 240 {
		p, f := 0, 0.0
		if i >= 40 && i < 120 {
			p, f = 900, 12
		}
		if i >= 120 && i < 200 {
			p, f = 1400, 16.5
		}
		fmt.Fprintf(&log, "%d;%d;%.2f;%d\n", i, p+i%2, f+0.02*float64(i%3), 2200+i%2)
	}
	w := ask(s, "POST", "/api/drop?name=day.csv", log.String(), "Content-Type", "application/octet-stream")
	if w.Code != 200 {
		t.Fatal(w.Body)
	}
	var g struct {
		ID    string `json:"id"`
		Guess struct {
			Logs []struct {
				Columns []struct{ Name, Channel, Unit string }
				Rows    int
				First   [][]string `json:"first_rows"`
			}
		}
		Channels []struct{ Name string }
	}
	if err := json.Unmarshal(w.Body.Bytes(), &g); err != nil {
		t.Fatal(err)
	}
	l := g.Guess.Logs[0]
	if l.Rows != 240 || len(l.First) == 0 || len(l.Columns) != 4 || l.Columns[3].Channel != "" || len(g.Channels) < 8 {
		t.Fatalf("guessed: %+v", g)
	}
	bad := fmt.Sprintf(`{"run":"2026-06-01","logs":[%q],"corrections":[{"file":"day.csv","column":3,"channel":"rotor speed","unit":"kg","words":false}]}`, g.ID)
	if w := ask(s, "POST", "/api/adopt", bad); w.Code != 422 || !strings.Contains(w.Body.String(), "does not come in kg") {
		t.Fatalf("nonsense was taken: %d %s", w.Code, w.Body)
	}
	if _, err := os.Stat(filepath.Join(folder, "runs", "2026-06-01")); err == nil {
		t.Fatal("a run was begun with a correction that cannot be")
	}
	fix := fmt.Sprintf(`{"run":"2026-06-01","logs":[%q],"corrections":[{"file":"day.csv","column":3,"channel":"rotor speed","unit":"rpm","words":false}]}`, g.ID)
	if w := ask(s, "POST", "/api/adopt", fix); w.Code != 200 {
		t.Fatal(w.Body)
	}
	w = ask(s, "GET", "/api/ask/reduce?run=2026-06-01", "")
	if w.Code != 200 || !strings.Contains(w.Body.String(), "rotor speed") {
		t.Fatalf("reduced: %d %.300s", w.Code, w.Body)
	}
	if data, err := os.ReadFile(filepath.Join(folder, "runs", "2026-06-01", "day.csv")); err != nil || string(data) != log.String() {
		t.Error("the log is not what was dropped", err)
	}
	w = ask(s, "GET", "/api/traces?run=2026-06-01&from=50&to=90&width=800", "")
	if w.Code != 200 || !strings.Contains(w.Body.String(), "<svg") {
		t.Errorf("traces: %d", w.Code)
	}
	for _, window := range []string{"from=-Inf&to=Inf", "from=NaN", "from=9&to=3", "from=-1e308&to=1e308"} {
		if w := ask(s, "GET", "/api/traces?run=2026-06-01&"+window, ""); w.Code != 422 || !json.Valid(w.Body.Bytes()) {
			t.Errorf("a window %s: %d %.80s", window, w.Code, w.Body)
		}
	}
	w = ask(s, "GET", "/api/room/budget?run=2026-06-01&plateau=1", "")
	if w.Code != 200 || !strings.Contains(w.Body.String(), "html") {
		t.Errorf("budget: %d %.200s", w.Code, w.Body)
	}
}

// The page shows the same bytes as the command line's JSON.
func TestSameBytes(t *testing.T) {
	s, folder := opened(t, Options{})
	for _, units := range []string{"metric", "inch"} {
		st := report.Style{Inch: units == "inch"}
		a, err := desk.LimitsIn(folder, desk.Options{})
		if err != nil {
			t.Fatal(err)
		}
		want, err := report.JSON(a, st)
		if err != nil {
			t.Fatal(err)
		}
		if w := ask(s, "GET", "/api/ask/limits?units="+units, ""); !bytes.Equal(w.Body.Bytes(), want) {
			t.Errorf("limits in %s differ", units)
		}
		w := ask(s, "POST", "/api/state", fmt.Sprintf(`{"units":%q,"drawing":true}`, units))
		if !bytes.Contains(w.Body.Bytes(), bytes.TrimSpace(want)) {
			t.Errorf("the state's limits in %s differ", units)
		}
		var answer struct{ Texts map[string]string }
		if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
			t.Fatal(err)
		}
		if n := len(answer.Texts); n < 50 {
			t.Errorf("%d texts", n)
		}
		for path, text := range answer.Texts {
			if !bytes.Contains(want, mustJSON(t, text)) {
				t.Errorf("%s: %q is not in the command line's JSON", path, text)
			}
		}
	}
	w := ask(s, "POST", "/api/state", `{"nominal":true,"at":{"power":"2 kW","place":"shaft","speed":"3 m/s"}}`)
	a, err := desk.LimitsAtIn(folder, desk.PredictFlags{Power: []string{"2 kW"}, Place: "shaft", Speed: []string{"3 m/s"}}, desk.Options{Nominal: true})
	if err != nil {
		t.Fatal(err)
	}
	want, err := report.JSON(a, report.Style{})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(w.Body.Bytes(), bytes.TrimSpace(want)) {
		t.Error("a condition differs from the command line's")
	}
}

func mustJSON(t testing.TB, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(text); err != nil {
		t.Fatal(err)
	}
	return bytes.TrimSpace(b.Bytes())
}

// Nothing from a design or a log is taken for HTML.
func TestHostileNames(t *testing.T) {
	s, folder := opened(t, Options{})
	const evil = `<img src=x onerror=alert(1)>`
	text, err := os.ReadFile(filepath.Join(folder, "drive.toml"))
	if err != nil {
		t.Fatal(err)
	}
	hostile := strings.Replace(string(text), `from       = "simulation"`, `from       = "simulation"`+"\nnote       = '"+evil+"'", 1)
	if err := os.WriteFile(filepath.Join(folder, "drive.toml"), []byte(hostile), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(folder, "runs", evil), 0o755); err != nil {
		t.Skip("the file system does not take such names")
	}
	run := "note = '" + evil + "'\nparts = '" + evil + "'\n[[reading]]\npower = \"600 W\"\nplace = \"battery\"\nthrust = \"90 N\"\n"
	if err := os.WriteFile(filepath.Join(folder, "runs", evil, "run.toml"), []byte(run), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := s.book.Look(); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/api/room/bench", "/api/room/reckoning", "/api/room/stand", "/api/report.html", "/api/stand.html"} {
		w := ask(s, "GET", path, "")
		if w.Code != 200 {
			t.Errorf("%s: %d %.200s", path, w.Code, w.Body)
			continue
		}
		body := w.Body.String()
		if strings.HasPrefix(path, "/api/room/") {
			var list []struct{ HTML string }
			if err := json.Unmarshal([]byte(body), &list); err != nil {
				t.Fatal(err)
			}
			body = ""
			for _, p := range list {
				body += p.HTML
			}
		}
		if strings.Contains(body, "<img") {
			t.Errorf("%s: what was typed is taken for HTML", path)
		}
	}
}

// The events tell a page of a change.
func TestEvents(t *testing.T) {
	s, _ := opened(t, Options{})
	web := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		r.Host = host
		s.ServeHTTP(w, r)
	}))
	defer web.Close()
	r, err := http.Get(web.URL + "/api/events")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	line := make([]byte, 64)
	n, err := r.Body.Read(line)
	if err != nil || !strings.HasPrefix(string(line[:n]), "data: ") {
		t.Fatalf("%q %v", line[:n], err)
	}
	first := string(line[:n])
	if w := ask(s, "POST", "/api/act/edit", `{"path":"nozzle.diameter","text":"61 mm"}`); w.Code != 200 {
		t.Fatal(w.Body)
	}
	m, err := r.Body.Read(line)
	if err != nil || string(line[:m]) == first {
		t.Fatalf("no news: %q %v", line[:m], err)
	}
	s.Close()
	if _, err := io.ReadAll(r.Body); err != nil {
		t.Error(err)
	}
}

// A drag's tick: the nominal state with its drawings.
func BenchmarkTick(b *testing.B) {
	s, _ := opened(b, Options{})
	for i := 0; b.Loop(); i++ {
		w := ask(s, "POST", "/api/state", fmt.Sprintf(`{"nominal":true,"drawing":true,"curve":true,"try":{"path":"nozzle.diameter","by":%g}}`, 1e-5*float64(i%100)))
		if w.Code != 200 {
			b.Fatal(w.Body)
		}
	}
}
