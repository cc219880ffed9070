package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"net/http"
	"strconv"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// drop keeps a log and answers how it would be read.
func (s *Server) drop(r *http.Request) (reply, error) {
	id, file, err := s.drops.Take(r.URL.Query().Get("name"), http.MaxBytesReader(nil, r.Body, mostLog))
	if err != nil {
		return reply{}, err
	}
	a, err := desk.Guess([]string{file})
	if err != nil {
		s.drops.Forget(id)
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
		f, ok := s.drops.Of(id)
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
		s.drops.Forget(id)
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
func (s *Server) traces(r *http.Request, st report.Style) (reply, error) {
	q := r.URL.Query()
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
	if !(from < to) || math.IsInf(to-from, 0) {
		return reply{}, notice.List{{Kind: notice.Error, What: "the window ends before it begins, or has no end"}}
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

// standPage is the plan of a bench day, to be printed.
func (s *Server) standPage(r *http.Request, st report.Style) (reply, error) {
	return s.whole(r, st, "stand", func(b *bytes.Buffer, a any) error {
		return report.StandHTML(b, a.(*desk.StandAnswer), st)
	})
}

// reportPage is the report as one page that needs nothing but itself.
func (s *Server) reportPage(r *http.Request, st report.Style) (reply, error) {
	return s.whole(r, st, "report", func(b *bytes.Buffer, a any) error {
		return report.HTML(b, a.(*desk.ReportAnswer), st)
	})
}

// whole answers a page of its own, as a file: it brings its style with it, which this page's rules would not let
// in.
func (s *Server) whole(r *http.Request, st report.Style, question string, write func(*bytes.Buffer, any) error) (reply, error) {
	a, err := s.ask(question, r)
	if err != nil {
		return reply{}, err
	}
	var b bytes.Buffer
	if err := write(&b, a); err != nil {
		return reply{}, err
	}
	return reply{kind: "text/html; charset=utf-8", name: question + ".html", body: b.Bytes()}, nil
}
