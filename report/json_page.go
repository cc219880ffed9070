package report

import (
	"bytes"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"time"

	"jetwright/desk"
	"jetwright/notice"
)

// sheetObject is every number of a design with where it comes from.
func (s Style) sheetObject(a *desk.SheetAnswer) object {
	fields := make([]object, len(a.Fields))
	for i, f := range a.Fields {
		o := object{{"path", f.Path}, {"part", f.Part}, {"name", f.Name}, {"meaning", f.Doc}, {"kind", f.Kind}, {"origin", f.Origin}, {"text", f.Text}}
		if f.Known {
			o.add(key("value", f.Value.Unit), s.figure(f.Value))
			o.add("shown", s.text(f.Value))
		}
		for _, m := range []struct{ name, text string }{
			{"drawn", f.Drawn}, {"place", f.Place}, {"source", f.Source}, {"allowed", f.Allowed}, {"assumed", f.Assumed},
		} {
			if m.text != "" {
				o.add(m.name, m.text)
			}
		}
		if f.Required {
			o.add("required", true)
		}
		if f.Uncertain {
			o.add("uncertain", true)
		}
		if len(f.Choices) > 0 {
			o.add("choices", f.Choices)
		}
		fields[i] = o
	}
	return object{{"fields", fields}, {"notices", notices(a.Notices)}}
}

// bookObject is how an open bench book stands.
func bookObject(p *desk.Page) object {
	changes := []object{}
	for _, c := range p.Unsaved {
		o := object{{"path", c.Path}}
		if c.HadWas {
			o.add("was", c.Was)
		}
		if c.HasNow {
			o.add("now", c.Now)
		}
		changes = append(changes, o)
	}
	asked := []object{}
	for _, c := range p.Conflicts {
		asked = append(asked, object{{"path", c.Path}, {"was", c.Was}, {"file", c.File}, {"own", c.Own}})
	}
	return object{
		{"folder", p.Folder},
		{"version", p.Version},
		{"open", p.Open},
		{"unsaved", changes},
		{"undo", p.Undo},
		{"redo", p.Redo},
		{"asked", asked},
		{"faults", notices(p.Faults)},
		{"kept", notices(p.Kept)},
		{"read", p.Read.Format(time.RFC3339)},
		{"runs", p.Runs},
		{"revisions", p.Revisions},
	}
}

func placesObject(p *Places) object {
	num := func(x float64) json.RawMessage { return json.RawMessage(px(x)) }
	parts, handles := []object{}, []object{}
	for _, k := range p.Parts {
		parts = append(parts, object{{"part", k.Part}, {"name", k.Name}, {"x", num(k.X)}, {"y", num(k.Y)}, {"w", num(k.W)}, {"h", num(k.H)}})
	}
	for _, h := range p.Handles {
		handles = append(handles, object{{"path", h.Path}, {"x", num(h.X)}, {"y", num(h.Y)}, {"upright", h.Upright}, {"per_pixel", h.PerPixel}})
	}
	return object{{"width", num(p.Width)}, {"height", num(p.Height)}, {"parts", parts}, {"handles", handles}}
}

// NoticesJSON writes notices as every answer has them.
func NoticesJSON(l notice.List) ([]byte, error) {
	var b bytes.Buffer
	err := writeValue(&b, notices(l), 0)
	return b.Bytes(), err
}

// DifferencesJSON writes how the figures of a state differ from those of another, nominal against nominal, as
// texts by path; those that do not differ in what is shown are left out.
func DifferencesJSON(now, was *desk.DutyAnswer, s Style) ([]byte, error) {
	out := map[string]string{}
	for _, f := range now.State.List {
		g, ok := was.State.Lookup(f.Path)
		if !ok {
			continue
		}
		if text := s.difference(f, g); text != "" {
			out[f.Path] = text
		}
	}
	return json.Marshal(out)
}

// difference writes f − g with its sign, to the place of one in a thousand of f; nothing if that is zero.
func (s Style) difference(f, g desk.Figure) string {
	u := s.unit(f.Unit)
	by, size := u.FromSI(f.Value)-u.FromSI(g.Value), math.Max(math.Abs(u.FromSI(f.Value)), math.Abs(u.FromSI(g.Value)))
	if !drawable(by, size) || math.Abs(by) < 5e-4*size || size == 0 {
		return ""
	}
	digits := max(0, 2-int(math.Floor(math.Log10(math.Max(size, 1e-9)))))
	text := strconv.FormatFloat(math.Abs(by), 'f', min(digits, 6), 64)
	if strings.Trim(text, "0.") == "" {
		return ""
	}
	sign := "+"
	if by < 0 {
		sign = "−"
	}
	symbol := u.Symbol
	switch symbol {
	case "1":
		symbol = ""
	case "°C":
		symbol = "K"
	}
	return strings.TrimSpace(sign + text + " " + symbol)
}

// TextsJSON writes every figure of a state as it is shown, by path.
func TextsJSON(a *desk.DutyAnswer, s Style) ([]byte, error) {
	out := make(map[string]string, len(a.State.List))
	for _, f := range a.State.List {
		out[f.Path] = s.text(f)
	}
	return json.Marshal(out)
}
