package report

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"jetwright/desk"
	"jetwright/project"
	"jetwright/quantity"
)

func figure(value, low, high float64, unit string) desk.Figure {
	return desk.Figure{Value: value, Low: low, High: high, Unit: quantity.MustUnit(unit)}
}

// A figure in JSON is in the unit of its key whatever units the text is in.
func TestFigureUnits(t *testing.T) {
	f := figure(444.8221615, 400.3399, 489.3044, "N")
	for _, c := range []struct {
		s    Style
		text string
	}{{Style{}, "440 N [400, 490]"}, {Style{Inch: true}, "100 lbf [90, 110]"}} {
		o := c.s.figure(f)
		if string(o[0].value.(json.RawMessage)) != "444.8221615" {
			t.Errorf("the value is %s", o[0].value)
		}
		if o[3].value != c.text {
			t.Errorf("the text is %q, want %q", o[3].value, c.text)
		}
	}
	if got := (Style{}).text(figure(0.03, 0.03, 0.03, "m³/s")); got != "30.0 L/s" {
		t.Errorf("a flow is shown as %q", got)
	}
	if got := key("thrust", quantity.MustUnit("N")) + " " + key("flow", quantity.MustUnit("m³/s")) + " " + key("static_efficiency", quantity.MustUnit("1")); got != "thrust_N flow_m3_s static_efficiency" {
		t.Errorf("keys are %q", got)
	}
}

// Objects keep their order, nest, and are what the standard decoder reads.
func TestObjectOrder(t *testing.T) {
	o := object{{"z", 1}, {"a", object{{"q", "<µ>"}, {"b", []string(nil)}}}, {"list", []object{{{"x", 1.5}}, {}}}, {"map", map[string]int{"k": 2}}, {"none", nil}}
	var b bytes.Buffer
	if err := o.write(&b, 0); err != nil {
		t.Fatal(err)
	}
	if z, a := strings.Index(b.String(), `"z"`), strings.Index(b.String(), `"a"`); z < 0 || a < z {
		t.Errorf("the order was lost:\n%s", b.String())
	}
	var v map[string]any
	if err := json.Unmarshal(b.Bytes(), &v); err != nil {
		t.Fatalf("%v:\n%s", err, b.String())
	}
	inner := v["a"].(map[string]any)
	if inner["q"] != "<µ>" || len(inner["b"].([]any)) != 0 || v["none"] != nil {
		t.Errorf("read back as %v", v)
	}
}

// Every answer has a text and a JSON, and what is not one is refused.
func TestEveryAnswer(t *testing.T) {
	folder := t.TempDir() + "/sled"
	if err := desk.New(folder, "rescue-sled"); err != nil {
		t.Fatal(err)
	}
	p, err := project.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	o := desk.Options{Draws: 64}
	limits, err1 := desk.Limits(p, o)
	predict, err2 := desk.Predict(p, desk.PredictAt{}, o)
	audit, err3 := desk.Audit(p, o)
	reckon, err4 := desk.Reckon(p, o)
	explain, err5 := desk.Explain(p, "jet.head", o)
	nominal, err6 := desk.Reckon(p, desk.Options{Nominal: true})
	stand, err7 := desk.Stand(p, o)
	warm, err8 := desk.Heat(p, desk.HeatFlags{Duty: []string{"2 min at 3 kW", "1 min rest"}, WhatIf: []string{"coolant blocked", "pump dry"}}, desk.Options{Draws: 20})
	ranked, err9 := desk.Rank(p, "", o)
	revisions, err10 := desk.Revisions(p, o)
	tonight, err11 := desk.Tonight(p, o)
	for _, err := range []error{err1, err2, err3, err4, err5, err6, err7, err8, err9, err10, err11} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, a := range []any{limits, predict, audit, reckon, explain, nominal, stand, warm, ranked, revisions, tonight, &desk.ReviseAnswer{}, &desk.NewAnswer{}, &desk.SetAnswer{}} {
		for _, s := range []Style{{}, {Inch: true, Colour: true}} {
			var b bytes.Buffer
			if err := Text(&b, a, s); err != nil || b.Len() == 0 {
				t.Errorf("%T has no text: %v", a, err)
			}
			if strings.Contains(b.String(), "NaN") || strings.Contains(b.String(), "%!") || strings.Contains(b.String(), "not known") {
				t.Errorf("%T prints what it should not:\n%s", a, b.String())
			}
			raw, err := JSON(a, s)
			if err != nil || !json.Valid(raw) {
				t.Errorf("%T has no JSON: %v", a, err)
			}
		}
	}
	if err := Text(&bytes.Buffer{}, 7, Style{}); err == nil {
		t.Error("7 is an answer")
	}
	if _, err := JSON(7, Style{}); err == nil {
		t.Error("7 is an answer in JSON")
	}
	// the words that belong into a reckoning
	var b bytes.Buffer
	if err := Text(&b, reckon, Style{}); err != nil {
		t.Fatal(err)
	}
	for _, words := range []string{"State at the design point", "Readings beside the prediction", "Similarity coefficients", "Calibrated model", "verdict:", "it needs a static efficiency", "Audit of the promise", "Limits, nearest first", "How far the next test may go", "Assumed, since it is not typed", "Cautions"} {
		if !strings.Contains(b.String(), words) {
			t.Errorf("a reckoning does not say %q", words)
		}
	}
}
