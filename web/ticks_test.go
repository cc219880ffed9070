package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/coder/websocket"
)

// Over the line that stays open stands what a request answers, to the byte; what is wrong is said and the line goes on; another origin, a
// wrong name, a missing token and a question that is too long are refused.
func TestTicks(t *testing.T) {
	s, _ := opened(t, Options{Token: "secret"})
	server := httptest.NewServer(s)
	defer server.Close()
	name := strings.TrimPrefix(server.URL, "http://")
	s.options.Hosts = []string{name}
	cookie := cookieOf(&http.Request{Host: name})
	dial := func(head ...string) (*websocket.Conn, *http.Response, error) {
		h := http.Header{"Origin": {server.URL}, "Cookie": {cookie + "=secret"}}
		for i := 0; i < len(head); i += 2 {
			h.Set(head[i], head[i+1])
		}
		return websocket.Dial(t.Context(), "ws://"+name+"/api/ticks", &websocket.DialOptions{HTTPHeader: h})
	}
	for _, head := range [][]string{{"Origin", "http://evil.example"}, {"Sec-Fetch-Site", "cross-site"}, {"Cookie", cookie + "=guess"}} {
		if _, r, err := dial(head...); err == nil || r == nil || r.StatusCode != http.StatusForbidden {
			t.Errorf("%v is not refused: %v", head, err)
		}
	}
	line, _, err := dial()
	if err != nil {
		t.Fatal(err)
	}
	say := func(text string) (string, string) {
		t.Helper()
		if err := line.Write(t.Context(), websocket.MessageText, []byte(text)); err != nil {
			t.Fatal(err)
		}
		_, answer, err := line.Read(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		code, body, _ := strings.Cut(string(answer), "\n")
		return code, body
	}
	line.SetReadLimit(1 << 22)
	for _, q := range []string{
		`{"nominal":true,"drawing":true,"curve":true,"try":{"path":"nozzle.diameter","steps":3}}`,
		`{"nominal":true,"at":{"power":"2 kW"},"units":"inch"}`,
		`{"nominal":true,"try":{"path":"nozzle.diameter","text":"60 kg"}}`,
		`{"nominal":true,"nonsense":1}`,
		`{"nominal"`,
		`{"nominal":true}`,
	} {
		r := httptest.NewRequest("POST", server.URL+"/api/state", strings.NewReader(q))
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Cookie", cookie+"=secret")
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		code, body := say(q)
		if code != fmt.Sprint(w.Code) || body != w.Body.String() {
			t.Errorf("%s: %s %.80q, as a request %d %.80q", q, code, body, w.Code, w.Body)
		}
	}
	if err := line.Write(t.Context(), websocket.MessageText, []byte(strings.Repeat(" ", mostQuestion+1))); err == nil {
		if _, _, err = line.Read(t.Context()); err == nil {
			t.Error("a question that is too long is answered")
		}
	}
}
