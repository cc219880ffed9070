package web

import (
	"bytes"
	"fmt"
	"net/http"

	"github.com/coder/websocket"
)

// ticks answers the questions of /api/state one after another over a line that stays open: while a hand drags, opening a
// request each time costs more than its answer. A message is the status, a line end, and what /api/state answers.
func (s *Server) ticks(w http.ResponseWriter, r *http.Request) {
	line, err := websocket.Accept(w, r, nil) // it refuses other origins as well, and has answered
	if err != nil {
		return
	}
	defer func() { _ = line.CloseNow() }() // gone already where the page has left
	line.SetReadLimit(mostQuestion)
	for {
		_, text, err := line.Read(r.Context())
		if err != nil {
			return
		}
		code := http.StatusOK
		a, err := safely(func(*http.Request) (reply, error) {
			var q stateQuestion
			if err := decoded(bytes.NewReader(text), &q); err != nil {
				return reply{}, err
			}
			return s.stateOf(r.Context(), q)
		}, r)
		if err != nil {
			if code, a.body, err = faulty(err); err != nil {
				code, a.body = http.StatusInternalServerError, []byte(err.Error())
			}
		}
		message := append(fmt.Appendf(make([]byte, 0, len(a.body)+8), "%d\n", code), a.body...)
		if line.Write(r.Context(), websocket.MessageText, message) != nil {
			return
		}
	}
}
