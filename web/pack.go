package web

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"net/http"
	"strconv"
	"strings"
	"sync"

	"jetwright/notice"
	"jetwright/report"
)

var packers = sync.Pool{New: func() any {
	w, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed) // the level is one of its own
	return w
}}

// packed writes a body, compressed where that pays and the browser reads it.
func packed(w http.ResponseWriter, r *http.Request, body []byte) {
	const worth = 200 << 10 // below, packing on one computer costs more than sending
	if len(body) >= worth && strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		var b bytes.Buffer
		z := packers.Get().(*gzip.Writer)
		z.Reset(&b)
		_, _ = z.Write(body) // a buffer takes everything
		_ = z.Close()
		packers.Put(z)
		w.Header().Set("Content-Encoding", "gzip")
		body = b.Bytes()
	}
	w.Header().Set("Content-Length", strconv.Itoa(len(body)))
	_, _ = w.Write(body) // the other side is gone if it fails
}

// noticesJSON is a list of notices as every answer has it.
func noticesJSON(l notice.List) json.RawMessage {
	b, err := report.NoticesJSON(l)
	if err != nil {
		return json.RawMessage("[]")
	}
	return b
}

// joined writes an object of ready pieces of JSON and texts.
type joined struct {
	b bytes.Buffer
}

func (j *joined) raw(name string, value []byte) {
	j.name(name)
	j.b.Write(bytes.TrimSpace(value))
}

func (j *joined) text(name, value string) {
	j.name(name)
	e := json.NewEncoder(&j.b)
	e.SetEscapeHTML(false)
	_ = e.Encode(value) // a text is always encoded
	j.b.Truncate(j.b.Len() - 1)
}

func (j *joined) name(name string) {
	if j.b.Len() == 0 {
		j.b.WriteByte('{')
	} else {
		j.b.WriteByte(',')
	}
	j.b.WriteByte('"')
	j.b.WriteString(name)
	j.b.WriteString(`":`)
}

func (j *joined) reply() reply {
	if j.b.Len() == 0 {
		j.b.WriteByte('{')
	}
	j.b.WriteByte('}')
	return reply{body: j.b.Bytes()}
}
