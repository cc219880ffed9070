package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http"
	"strconv"
	"sync"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// at is a condition as typed beside the drawing; empty words leave what the design point says.
type at struct {
	Power      string `json:"power"`
	Place      string `json:"place"`
	Thrust     string `json:"thrust"`
	RotorSpeed string `json:"rotor_speed"`
	Throttle   string `json:"throttle"`
	Speed      string `json:"speed"`
}

func one(text string) []string {
	if text == "" {
		return nil
	}
	return []string{text}
}

func (a at) flags() desk.PredictFlags {
	place := a.Place
	if place == "" {
		place = "battery"
	}
	return desk.PredictFlags{Power: one(a.Power), Thrust: one(a.Thrust), RotorSpeed: one(a.RotorSpeed), Throttle: one(a.Throttle), Speed: one(a.Speed), Place: place, Page: true}
}

// change is a value that is tried or typed: a text, a number of steps, or a place to move to (SI).
type change struct {
	Path  string   `json:"path"`
	Text  *string  `json:"text"`
	Steps *float64 `json:"steps"`
	By    *float64 `json:"by"`
}

type stateQuestion struct {
	Nominal bool              `json:"nominal"`
	At      at                `json:"at"`
	Water   map[string]string `json:"water"` // set beside the drawing, not in the design
	Try     *change           `json:"try"`
	Units   string            `json:"units"`
	Drawing bool              `json:"drawing"` // the section is wanted too
	Curve   bool              `json:"curve"`   // and the thrust over power
	Against string            `json:"against"` // revision that it is compared with; empty for what is saved
}

func style(units string) (report.Style, error) {
	switch units {
	case "", "metric":
		return report.Style{}, nil
	case "inch":
		return report.Style{Inch: true}, nil
	}
	return report.Style{}, notice.List{{Kind: notice.Error, What: fmt.Sprintf("units %q", units), Allowed: "metric or inch"}}
}

// textOf is what a change says, and of which key.
func (s *Server) textOf(c *change) (key, text string, err error) {
	p, _, err := s.book.Project()
	if err != nil {
		return "", "", err
	}
	switch {
	case c.Text != nil:
		return c.Path, *c.Text, nil
	case c.Steps != nil:
		return desk.NudgedBy(p, c.Path, *c.Steps)
	case c.By != nil:
		return desk.MovedBy(p, c.Path, *c.By)
	}
	return "", "", notice.List{{Kind: notice.Error, Path: c.Path, What: "nothing says what to change it to"}}
}

// state answers the drive at a condition: the same JSON as the command line's limits, with its drawings.
func (s *Server) state(r *http.Request) (reply, error) {
	var q stateQuestion
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	return s.stateOf(r.Context(), q)
}

// charts answers how the drive follows the dimensions of a part.
func (s *Server) charts(r *http.Request) (reply, error) {
	var q struct {
		stateQuestion
		Sections []string `json:"sections"`
	}
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	st, err := style(q.Units)
	if err != nil {
		return reply{}, err
	}
	p, _, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	p, c, err := desk.Conditioned(p, q.Water, q.At.flags())
	if err != nil {
		return reply{}, err
	}
	a, err := desk.Bends(r.Context(), p, c, q.Sections)
	if err != nil {
		return reply{}, err
	}
	return fragments(report.BendFragments(a, st)), nil
}

func (s *Server) stateOf(ctx context.Context, q stateQuestion) (reply, error) {
	st, err := style(q.Units)
	if err != nil {
		return reply{}, err
	}
	p, version, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	var out joined
	out.raw("version", []byte(strconv.Itoa(version)))
	if q.Try != nil {
		key, text, err := s.textOf(q.Try)
		if err != nil {
			return reply{}, err
		}
		if p, err = s.book.Try(key, text); err != nil {
			return reply{}, err
		}
		out.text("text", text)
	}
	p, c, err := desk.Conditioned(p, q.Water, q.At.flags())
	if err != nil {
		return reply{}, err
	}
	o := desk.Options{Nominal: q.Nominal}
	a, err := desk.LimitsAt(p, c, o)
	if err != nil {
		if q.Drawing && q.Try == nil {
			// what was drawn stays on the page; why nothing stands behind it is said beside
			drawn, places := report.DrivePicture(desk.DriveOf(p), desk.Untyped(p), st)
			out.text("section", drawn)
			if b, err := report.JSON(&places, st); err == nil {
				out.raw("places", b)
			}
			out.raw("faults", noticesJSON(desk.NoticesOf(err)))
			return out.reply(), nil
		}
		return reply{}, err
	}
	b, err := report.JSON(a, st)
	if err != nil {
		return reply{}, err
	}
	out.raw("limits", b)
	if b, err = report.TextsJSON(a, st); err != nil {
		return reply{}, err
	}
	out.raw("texts", b)
	if q.Drawing {
		section, ledger, places := report.DutyPictures(a, st)
		if b, err = report.JSON(&places, st); err != nil {
			return reply{}, err
		}
		out.text("section", section)
		out.raw("places", b)
		out.text("ledger", ledger)
		out.text("condition", desk.Describe(a.Condition))
	}
	if q.Curve {
		if curve, err := desk.PowerCurve(p, a.Condition, desk.Options{Nominal: q.Nominal, Draws: curveDraws(q.Nominal)}); err == nil {
			out.text("curve", report.PredictSVG(curve, st))
		}
	}
	if was := s.before(ctx, q); was != nil {
		b, err := report.DifferencesJSON(a, was, st)
		if err != nil {
			return reply{}, err
		}
		out.raw("differences", b)
	}
	return out.reply(), nil
}

// before answers the drive as it was saved last, or as a revision has it, nominal, at the same condition; nil where
// nothing differs.
func (s *Server) before(ctx context.Context, q stateQuestion) *desk.DutyAnswer {
	p, version := s.book.Saved()
	if q.Against == "" && (p == nil || q.Try == nil && len(s.book.Page().Unsaved) == 0) {
		return nil
	}
	a, err := s.keep("before").of(ctx, fmt.Sprint(version, q.At, q.Water, q.Against), func() (any, error) {
		if q.Against != "" {
			var err error
			if p, err = s.book.Frozen(q.Against); err != nil {
				return nil, err
			}
		}
		p, c, err := desk.Conditioned(p, q.Water, q.At.flags())
		if err != nil {
			return nil, err
		}
		return desk.LimitsAt(p, c, desk.Options{Nominal: true})
	})
	if err != nil {
		return nil // what was saved has no state to compare with
	}
	return a.(*desk.DutyAnswer)
}

func curveDraws(nominal bool) int {
	if nominal {
		return 0
	}
	return 64
}

// kept is an answer that holds while the book does not change.
type kept struct {
	mu    sync.Mutex
	key   string
	value any
}

// of returns the answer kept under a key, or works it out; others wait meanwhile, since they want the same. Who
// has left meanwhile gets none.
func (k *kept) of(ctx context.Context, key string, work func() (any, error)) (any, error) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if k.key == key && k.value != nil {
		return k.value, nil
	}
	v, err := work()
	if err != nil {
		return nil, err
	}
	k.key, k.value = key, v
	return v, nil
}

// page answers how the book stands.
func (s *Server) page(*http.Request) (reply, error) {
	p := s.book.Page()
	b, err := report.JSON(&p, report.Style{})
	return reply{body: b}, err
}

// sheet answers every number of the design.
func (s *Server) sheet(r *http.Request, st report.Style) (reply, error) {
	p, _, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	b, err := report.JSON(desk.Sheet(p), st)
	return reply{body: b}, err
}

// question answers what the command of the same name prints with --json.
func (s *Server) question(r *http.Request, st report.Style) (reply, error) {
	name := r.PathValue("question")
	if name == "rooms" || name == bladesRoom {
		return reply{}, notice.List{{Kind: notice.Error, What: "there is no question " + name}}
	}
	a, err := s.ask(name, r)
	if err != nil {
		return reply{}, err
	}
	b, err := report.JSON(a, st)
	return reply{body: b}, err
}

// ask answers a question by the name of its command.
func (s *Server) ask(name string, r *http.Request) (any, error) {
	p, version, err := s.book.Project()
	if err != nil {
		return nil, err
	}
	q := r.URL.Query()
	o := desk.Options{Nominal: q.Get("nominal") == "true"}
	key := fmt.Sprint(version, " ", name, " ", o.Nominal, " ", q.Get("run"), " ", q.Get("aim"))
	work := map[string]func() (any, error){
		"limits":    func() (any, error) { return desk.Limits(p, o) },
		"predict":   func() (any, error) { return desk.Predict(p, desk.PredictAt{Place: "battery"}, o) },
		"audit":     func() (any, error) { return desk.Audit(p, o) },
		"reckon":    func() (any, error) { return desk.Reckon(p, o) },
		"report":    func() (any, error) { return desk.Report(p, o) },
		"rooms":     func() (any, error) { return desk.Reckoned(p, o) },
		"reduce":    func() (any, error) { return desk.Reduce(p, q.Get("run")) },
		"stand":     func() (any, error) { return desk.Stand(p, o) },
		"heat":      func() (any, error) { return desk.Heat(p, desk.HeatFlags{}, o) },
		"ride":      func() (any, error) { return desk.OnWater(p, desk.RideFlags{}, o) },
		"motor":     func() (any, error) { return desk.Motor(p, o) },
		"battery":   func() (any, error) { return desk.Battery(p, o) },
		"rank":      func() (any, error) { return desk.Rank(p, q.Get("aim"), o) },
		"tonight":   func() (any, error) { return desk.Tonight(p, o) },
		"revisions": func() (any, error) { return desk.Revisions(p, o) },
		"coolant":   func() (any, error) { return desk.Coolant(p, o) },
		"blades":    func() (any, error) { return desk.Blades(p, o) },
		"export":    func() (any, error) { return desk.Export(p, desk.ExportFlags{Plan: true}) },
		bladesRoom:  func() (any, error) { return desk.BladesRoom(p, o) },
	}[name]
	if work == nil {
		return nil, notice.List{{Kind: notice.Error, What: "there is no question " + name}}
	}
	return s.keep(name).of(r.Context(), key, work)
}

// explain answers one number.
func (s *Server) explain(r *http.Request, st report.Style) (reply, error) {
	p, _, err := s.book.Project()
	if err != nil {
		return reply{}, err
	}
	a, err := desk.Explain(p, r.URL.Query().Get("path"), desk.Options{})
	if err != nil {
		return reply{}, err
	}
	list, err := report.Fragments(a, st)
	if err != nil {
		return reply{}, err
	}
	return fragments(list), nil
}

// fragments sends pieces of a page.
func fragments(list []report.Fragment) reply {
	var b bytes.Buffer
	b.WriteByte('[')
	for i, f := range list {
		if i > 0 {
			b.WriteByte(',')
		}
		var j joined
		j.text("id", f.ID)
		j.text("title", f.Title)
		j.text("html", f.HTML)
		b.Write(j.reply().body)
	}
	b.WriteByte(']')
	return reply{body: b.Bytes()}
}

// rooms are the parts of the report that each room of the page shows, in their order.
var rooms = map[string][]string{
	"bench":     {"days", "ladder"},
	"reckoning": {"short", "thrust", "claims", "taught", "next", "changes"},
}

// bladesRoom is what the room of the blades asks: their command answers of own blades alone.
const bladesRoom = "blades-room"

// room answers the pieces of a room.
func (s *Server) room(r *http.Request, st report.Style) (reply, error) {
	name := r.PathValue("room")
	if name == "budget" {
		return s.budget(r, st)
	}
	ids, ok := rooms[name]
	if !ok {
		if name == "blades" {
			name = bladesRoom
		}
		a, err := s.ask(name, r)
		if err != nil {
			return reply{}, err
		}
		list, err := report.Pictured(a, st)
		if err != nil {
			return reply{}, err
		}
		return fragments(list), nil
	}
	a, err := s.ask("rooms", r)
	if err != nil {
		return reply{}, err
	}
	all, err := s.keep("fragments "+r.URL.Query().Get("units")).of(r.Context(), fmt.Sprintf("%p", a), func() (any, error) {
		return report.ReportFragments(a.(*desk.ReportAnswer), st), nil
	})
	if err != nil {
		return reply{}, err
	}
	var list []report.Fragment
	for _, id := range ids {
		for _, f := range all.([]report.Fragment) {
			if f.ID == id {
				list = append(list, f)
			}
		}
	}
	return fragments(list), nil
}

// fitted answers the numbers of which the runs said something, by their paths.
func (s *Server) fitted(r *http.Request, st report.Style) (reply, error) {
	a, err := s.ask("rooms", r)
	if err != nil {
		return reply{}, err
	}
	var j joined
	for _, f := range report.Fitted(a.(*desk.ReportAnswer), st) {
		j.text(f.Path, f.Text)
	}
	return j.reply(), nil
}

// budget answers what the uncertainty of a plateau's figures is made of.
func (s *Server) budget(r *http.Request, st report.Style) (reply, error) {
	n, err := strconv.Atoi(r.URL.Query().Get("plateau"))
	if err != nil {
		return reply{}, notice.List{{Kind: notice.Error, What: "a plateau has to be named by its number"}}
	}
	a, err := s.ask("reduce", r)
	if err != nil {
		return reply{}, err
	}
	b, err := a.(*desk.ReduceAnswer).Budget(n)
	if err != nil {
		return reply{}, err
	}
	list, err := report.Fragments(b, st)
	if err != nil {
		return reply{}, err
	}
	return fragments(list), nil
}

// keep returns the place of an answer.
func (s *Server) keep(name string) *kept {
	s.keptMu.Lock()
	defer s.keptMu.Unlock()
	k := s.kept[name]
	if k == nil {
		k = &kept{}
		s.kept[name] = k
	}
	return k
}

// act changes the book.
func (s *Server) act(r *http.Request) (reply, error) {
	var q struct {
		change
		Own bool `json:"own"`
	}
	if err := body(r, &q); err != nil {
		return reply{}, err
	}
	var err error
	switch r.PathValue("act") {
	case "edit":
		var key, text string
		if key, text, err = s.textOf(&q.change); err == nil {
			err = s.book.Edit(key, text)
		}
	case "clear":
		err = s.book.Clear(q.Path)
	case "undo":
		_, err = s.book.Undo()
	case "redo":
		_, err = s.book.Redo()
	case "save":
		err = s.book.Save()
	case "settle":
		err = s.book.Settle(q.Path, q.Own)
	default:
		err = notice.List{{Kind: notice.Error, What: "there is no act " + r.PathValue("act")}}
	}
	if err != nil {
		return reply{}, err
	}
	s.changed()
	return s.page(r)
}
