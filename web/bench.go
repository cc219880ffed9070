package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"time"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// drops are logs that were dropped onto the page and wait to be adopted, each in a folder of its own below one
// that goes when the server does.
type drops struct {
	mu     sync.Mutex
	folder string
	files  map[string]string // by the id that the page knows
	next   int
}

func newDrops() *drops { return &drops{files: map[string]string{}} }

func (d *drops) close() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.folder != "" {
		_ = os.RemoveAll(d.folder) // copies only; what was dropped stands where it stood
	}
}

// plainName is the name of a file without any folder.
func plainName(name string) (string, error) {
	name = strings.TrimSpace(name)
	if name == "" || name != filepath.Base(name) || strings.HasPrefix(name, ".") || strings.ContainsAny(name, `/\:`+"\x00") || len(name) > 200 {
		return "", notice.List{{Kind: notice.Error, What: fmt.Sprintf("%q is no name for a log", name), Allowed: "a plain file name such as scale.csv"}}
	}
	return name, nil
}

// take keeps a log.
func (d *drops) take(name string, from io.Reader) (id, file string, err error) {
	d.mu.Lock()
	if d.folder == "" {
		if d.folder, err = os.MkdirTemp("", "jetwright-"); err != nil {
			d.mu.Unlock()
			return "", "", err
		}
	}
	d.next++
	id = strconv.Itoa(d.next)
	at := filepath.Join(d.folder, id)
	d.mu.Unlock()
	if err := os.Mkdir(at, 0o700); err != nil {
		return "", "", err
	}
	file = filepath.Join(at, name)
	out, err := os.OpenFile(file, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return "", "", err
	}
	if _, err = io.Copy(out, from); err != nil {
		_ = out.Close()
		_ = os.RemoveAll(at)
		return "", "", err
	}
	if err := out.Close(); err != nil {
		return "", "", err
	}
	long := time.Now().Add(-time.Hour) // the copy is new, the log is not
	if err := os.Chtimes(file, long, long); err != nil {
		return "", "", err
	}
	d.mu.Lock()
	d.files[id] = file
	d.mu.Unlock()
	return id, file, nil
}

func (d *drops) of(id string) (string, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	f, ok := d.files[id]
	return f, ok
}

func (d *drops) forget(id string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if f, ok := d.files[id]; ok {
		_ = os.RemoveAll(filepath.Dir(f))
		delete(d.files, id)
	}
}

// drop keeps a log and answers how it would be read.
func (s *Server) drop(r *http.Request) (reply, error) {
	name, err := plainName(r.URL.Query().Get("name"))
	if err != nil {
		return reply{}, err
	}
	id, file, err := s.drops.take(name, http.MaxBytesReader(nil, r.Body, mostLog))
	if err != nil {
		return reply{}, err
	}
	a, err := desk.Guess([]string{file})
	if err != nil {
		s.drops.forget(id)
		return reply{}, err
	}
	b, err := report.JSON(a, report.Style{})
	if err != nil {
		return reply{}, err
	}
	units, err := json.Marshal(desk.ChannelUnits())
	if err != nil {
		return reply{}, err
	}
	var out joined
	out.text("id", id)
	out.raw("guess", b)
	out.raw("channels", units)
	return out.reply(), nil
}

// adopt takes dropped logs into a run, with the builder's corrections.
func (s *Server) adopt(r *http.Request) (reply, error) {
	var q struct {
		Run         string   `json:"run"`
		Logs        []string `json:"logs"`
		Corrections []struct {
			File    string `json:"file"`
			Column  int    `json:"column"`
			Channel string `json:"channel"`
			Unit    string `json:"unit"`
			Words   bool   `json:"words"`
		} `json:"corrections"`
	}
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	var files []string
	for _, id := range q.Logs {
		f, ok := s.drops.of(id)
		if !ok {
			return reply{}, notice.List{{Kind: notice.Error, What: "a log that was dropped is gone", WayOut: "drop it again"}}
		}
		files = append(files, f)
	}
	if len(files) == 0 {
		return reply{}, notice.List{{Kind: notice.Error, What: "no log is named", WayOut: "drop one onto the page"}}
	}
	var list []desk.Correction
	for _, c := range q.Corrections {
		k := desk.Correction{File: c.File, Column: c.Column, Unit: c.Unit, Words: c.Words}
		k.Channel = desk.ChannelOf(c.Channel)
		list = append(list, k)
	}
	a, err := s.book.Adopt(q.Run, files, list)
	if err != nil {
		return reply{}, err
	}
	for _, id := range q.Logs {
		s.drops.forget(id)
	}
	s.changed()
	b, err := report.JSON(a, report.Style{})
	return reply{body: b}, err
}

// note types a reading in.
func (s *Server) note(r *http.Request) (reply, error) {
	var q struct {
		Run    string            `json:"run"`
		Values map[string]string `json:"values"`
	}
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	var typed []desk.Typed
	for _, f := range desk.ReadingFields() {
		if v := q.Values[f.Key]; v != "" {
			typed = append(typed, desk.Typed{Key: f.Key, Value: v})
		}
	}
	a, err := s.book.Note(q.Run, typed)
	if err != nil {
		return reply{}, err
	}
	s.changed()
	b, err := report.JSON(a, report.Style{})
	return reply{body: b}, err
}

// freeze keeps the design as it was saved as a revision.
func (s *Server) freeze(r *http.Request) (reply, error) {
	var q struct {
		Note string `json:"note"`
	}
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	a, err := s.book.Freeze(q.Note)
	if err != nil {
		return reply{}, err
	}
	s.changed()
	b, err := report.JSON(a, report.Style{})
	return reply{body: b}, err
}

// traces answers the samples of a run in a window, drawn.
func (s *Server) traces(r *http.Request) (reply, error) {
	q := r.URL.Query()
	st, err := style(q.Get("units"))
	if err != nil {
		return reply{}, err
	}
	p, version, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	run := q.Get("run")
	v, err := s.keep("traces "+run).of(r.Context(), fmt.Sprint(version), func() (any, error) { return desk.Traces(p, run) })
	if err != nil {
		return reply{}, err
	}
	a := v.(*desk.TracesAnswer)
	from, to, width := a.Span.From, a.Span.To, 900.0
	for _, k := range []struct {
		name string
		into *float64
	}{{"from", &from}, {"to", &to}, {"width", &width}} {
		if text := q.Get(k.name); text != "" {
			if *k.into, err = strconv.ParseFloat(text, 64); err != nil {
				return reply{}, notice.List{{Kind: notice.Error, What: fmt.Sprintf("%s is %q", k.name, text), Allowed: "a number"}}
			}
		}
	}
	if !(from < to) {
		return reply{}, notice.List{{Kind: notice.Error, What: "the window ends before it begins"}}
	}
	num := func(x float64) []byte { return strconv.AppendFloat(nil, x, 'g', -1, 64) }
	var out joined
	out.raw("from", num(from))
	out.raw("to", num(to))
	out.raw("first", num(a.Span.From))
	out.raw("last", num(a.Span.To))
	out.raw("plateaus", strconv.AppendInt(nil, int64(len(a.Day.Plateaus)), 10))
	out.text("svg", report.TracesSVG(a, from, to, width, st))
	return out.reply(), nil
}

// picture answers a drawing as a file.
func (s *Server) picture(r *http.Request) (reply, error) {
	st, err := style(r.URL.Query().Get("units"))
	if err != nil {
		return reply{}, err
	}
	if r.PathValue("name") != "drive.svg" {
		return reply{}, notice.List{{Kind: notice.Error, What: "there is no picture " + r.PathValue("name")}}
	}
	a, err := s.ask("limits", r)
	if err != nil {
		return reply{}, err
	}
	return reply{kind: "image/svg+xml", name: "drive.svg", body: []byte(report.DutySVG(a.(*desk.DutyAnswer), st))}, nil
}

// standPage is the plan of a bench day, to be printed.
func (s *Server) standPage(r *http.Request) (reply, error) {
	return s.whole(r, "stand", func(b *bytes.Buffer, a any, st report.Style) error {
		return report.StandHTML(b, a.(*desk.StandAnswer), st)
	})
}

// reportPage is the report as one page that needs nothing but itself.
func (s *Server) reportPage(r *http.Request) (reply, error) {
	return s.whole(r, "report", func(b *bytes.Buffer, a any, st report.Style) error {
		return report.HTML(b, a.(*desk.ReportAnswer), st)
	})
}

// whole answers a page of its own, as a file: it brings its style with it, which this page's rules would not let
// in.
func (s *Server) whole(r *http.Request, question string, write func(*bytes.Buffer, any, report.Style) error) (reply, error) {
	st, err := style(r.URL.Query().Get("units"))
	if err != nil {
		return reply{}, err
	}
	a, err := s.ask(question, r)
	if err != nil {
		return reply{}, err
	}
	var b bytes.Buffer
	if err := write(&b, a, st); err != nil {
		return reply{}, err
	}
	return reply{kind: "text/html; charset=utf-8", name: question + ".html", body: b.Bytes()}, nil
}
