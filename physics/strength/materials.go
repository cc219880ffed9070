package strength

import (
	"sort"
	"strings"
)

// Material is a row of the table of materials, SI. What is unknown is 0.
type Material struct {
	Name     string
	Words    []string // by which a builder may call it
	Modulus  float64  // Pa
	Poisson  float64
	Density  float64 // kg/m³
	Yield    float64 // Pa
	Tensile  float64 // Pa; of a print in the plane of its layers
	Fatigue  float64 // Pa: amplitude about no mean that a plain specimen in air stands for Cycles
	Cycles   float64
	Fresh    float64 // share of the fatigue strength that is left in fresh water
	Sea      float64 // and in sea water
	Printed  bool
	Across   float64 // of a print: share of the strength that is left across layers
	Softens  float64 // K, where a polymer goes soft; 0 for metals
	Swells   float64 // share by which a polymer grows in water
	Source   string  // key in docs/sources.bib
	HowKnown string
}

const (
	mega         = 1e6
	giga         = 1e9
	zeroCelsius  = 273.15
	ruleInPlane  = 0.10 // of the tensile strength, for more than 1e6 turns, wet: engineering judgement, recalled (low)
	ruleAcross   = 0.05
	usualPoisson = 0.3
)

// materials are handbook values of small-shop stock. Static values of metals are least ones of the product standards or of usual
// data sheets, as remembered; those of prints are of coupons and say little of a given printer. How each fatigue figure is known
// stands beside it.
var materials = []Material{
	{Name: "stainless steel 1.4301 (304)", Words: []string{"1.4301", "1.4307", "304", "304l", "a2"}, Modulus: 193 * giga, Poisson: usualPoisson, Density: 7900, Yield: 190 * mega, Tensile: 500 * mega, Fatigue: 200 * mega, Cycles: 1e7, Fresh: 0.8, Sea: 0.4, Source: "memory", HowKnown: "recalled: least values of the standard (high); fatigue 0.4 of tensile; in water (low)"},
	{Name: "stainless steel 1.4401 (316)", Words: []string{"1.4401", "1.4404", "1.4571", "316", "316l", "a4"}, Modulus: 193 * giga, Poisson: usualPoisson, Density: 8000, Yield: 200 * mega, Tensile: 500 * mega, Fatigue: 200 * mega, Cycles: 1e7, Fresh: 0.9, Sea: 0.5, Source: "memory", HowKnown: "recalled: least values of the standard (high); fatigue 0.4 of tensile; in water (low)"},
	{Name: "duplex steel 1.4462", Words: []string{"1.4462", "duplex", "2205"}, Modulus: 200 * giga, Poisson: usualPoisson, Density: 7800, Yield: 450 * mega, Tensile: 650 * mega, Fatigue: 285 * mega, Cycles: 1e7, Fresh: 0.9, Sea: 0.6, Source: "memory", HowKnown: "recalled: least values of the standard (high); fatigue (medium); in water (low)"},
	{Name: "stainless steel 1.4542 (17-4PH), H1150", Words: []string{"1.4542", "17-4ph", "17-4", "630"}, Modulus: 196 * giga, Poisson: 0.27, Density: 7800, Yield: 725 * mega, Tensile: 930 * mega, Fatigue: 400 * mega, Cycles: 1e7, Fresh: 0.8, Sea: 0.35, Source: "memory", HowKnown: "recalled: (high); fatigue (medium); in water (low)"},
	{Name: "steel C45", Words: []string{"c45", "1.0503", "1045"}, Modulus: 207 * giga, Poisson: 0.29, Density: 7850, Yield: 305 * mega, Tensile: 580 * mega, Fatigue: 290 * mega, Cycles: 1e7, Fresh: 0.45, Sea: 0.2, Source: "memory", HowKnown: "recalled: normalised (high); fatigue half of tensile (shigley-2008); bare in water (low): it rusts, and has no limit there"},
	{Name: "steel 42CrMo4", Words: []string{"42crmo4", "1.7225", "4140"}, Modulus: 207 * giga, Poisson: 0.29, Density: 7850, Yield: 750 * mega, Tensile: 1000 * mega, Fatigue: 500 * mega, Cycles: 1e7, Fresh: 0.4, Sea: 0.15, Source: "memory", HowKnown: "recalled: quenched and tempered, 16 to 40 mm (high); fatigue half of tensile (shigley-2008); bare in water (low)"},
	{Name: "aluminium 6061-T6", Words: []string{"6061-t6", "6061"}, Modulus: 69 * giga, Poisson: 0.33, Density: 2700, Yield: 276 * mega, Tensile: 310 * mega, Fatigue: 96.5 * mega, Cycles: 5e8, Fresh: 0.5, Sea: 0.25, Source: "memory", HowKnown: "recalled (high): 5e8 turns in air; salt water leaves 25 to 50 % and no limit (low)"},
	{Name: "aluminium 6082-T6", Words: []string{"6082-t6", "6082"}, Modulus: 70 * giga, Poisson: 0.33, Density: 2700, Yield: 255 * mega, Tensile: 300 * mega, Fatigue: 95 * mega, Cycles: 5e8, Fresh: 0.5, Sea: 0.25, Source: "memory", HowKnown: "recalled (medium): as 6061-T6"},
	{Name: "aluminium 7075-T6", Words: []string{"7075-t6", "7075"}, Modulus: 71.7 * giga, Poisson: 0.33, Density: 2810, Yield: 503 * mega, Tensile: 572 * mega, Fatigue: 159 * mega, Cycles: 5e8, Fresh: 0.4, Sea: 0.25, Source: "memory", HowKnown: "recalled (high): 5e8 turns in air; salt water leaves 25 to 50 % and no limit (low)"},
	{Name: "nickel-aluminium bronze, cast", Words: []string{"nickel-aluminium bronze", "nickel-aluminum bronze", "ni-al bronze", "nibral", "cual10ni5fe4", "cc333g", "c95800"}, Modulus: 120 * giga, Poisson: 0.34, Density: 7600, Yield: 245 * mega, Tensile: 590 * mega, Fatigue: 85 * mega, Cycles: 1e8, Fresh: 1, Sea: 1, Source: "memory", HowKnown: "recalled (medium): fatigue already in sea water, 85 to 100 MPa at 1e8"},
	{Name: "titanium grade 5", Words: []string{"titanium", "ti-6al-4v", "ti6al4v", "3.7165"}, Modulus: 114 * giga, Poisson: 0.34, Density: 4430, Yield: 830 * mega, Tensile: 900 * mega, Fatigue: 450 * mega, Cycles: 1e7, Fresh: 1, Sea: 1, Source: "memory", HowKnown: "recalled (medium)"},

	{Name: "printed PLA", Words: []string{"pla"}, Modulus: 3.0 * giga, Poisson: 0.35, Density: 1240, Yield: 45 * mega, Tensile: 45 * mega, Fatigue: 3.15 * mega, Cycles: 2e6, Printed: true, Across: 0.5, Softens: zeroCelsius + 55, Swells: 0.002, Source: "yaren-susmel-2026", HowKnown: "fatigue seen: range 6.3 MPa at 2e6 turns, dry coupons at room temperature, in the plane of the layers; static recalled (low)"},
	{Name: "sintered PA12", Words: []string{"pa12", "pa 12", "nylon 12"}, Modulus: 1.6 * giga, Poisson: 0.4, Density: 980, Yield: 45 * mega, Tensile: 48 * mega, Fatigue: 8.4 * mega, Cycles: 1e6, Printed: true, Across: 0.8, Softens: zeroCelsius + 90, Swells: 0.005, Source: "dandrea-2026", HowKnown: "fatigue seen second-hand: 16.8 MPa upper stress about half of it across layers, dry coupons; static recalled (medium)"},
	{Name: "printed PETG", Words: []string{"petg"}, Modulus: 1.9 * giga, Poisson: 0.38, Density: 1270, Yield: 42 * mega, Tensile: 42 * mega, Printed: true, Across: 0.5, Softens: zeroCelsius + 70, Swells: 0.002, Source: "memory", HowKnown: "recalled (low); no fatigue data"},
	{Name: "printed ASA or ABS", Words: []string{"asa", "abs"}, Modulus: 1.9 * giga, Poisson: 0.38, Density: 1070, Yield: 38 * mega, Tensile: 38 * mega, Printed: true, Across: 0.45, Softens: zeroCelsius + 95, Swells: 0.003, Source: "memory", HowKnown: "recalled (low); no fatigue data"},
	{Name: "printed polycarbonate", Words: []string{"polycarbonate", "pc"}, Modulus: 2.1 * giga, Poisson: 0.38, Density: 1190, Yield: 55 * mega, Tensile: 55 * mega, Printed: true, Across: 0.5, Softens: zeroCelsius + 110, Swells: 0.002, Source: "memory", HowKnown: "recalled (low); no fatigue data"},
	{Name: "printed nylon with carbon fibre", Words: []string{"pa-cf", "pa6-cf", "paht-cf", "pa12-cf", "nylon cf", "nylon"}, Modulus: 4.0 * giga, Poisson: 0.38, Density: 1150, Yield: 60 * mega, Tensile: 60 * mega, Printed: true, Across: 0.35, Softens: zeroCelsius + 60, Swells: 0.004, Source: "memory", HowKnown: "recalled (low), wet; no fatigue data"},
	{Name: "cured resin", Words: []string{"resin", "sla"}, Modulus: 2.2 * giga, Poisson: 0.4, Density: 1180, Yield: 40 * mega, Tensile: 45 * mega, Printed: true, Across: 0.9, Softens: zeroCelsius + 50, Swells: 0.005, Source: "memory", HowKnown: "recalled (low); no fatigue data, brittle"},
}

// MaterialNames are the materials that there are data of, each by the word that is shortest to type.
func MaterialNames() []string {
	var out []string
	for i := range materials {
		out = append(out, strings.ToUpper(materials[i].Words[0]))
	}
	sort.Strings(out)
	return out
}

// FindMaterial returns the material that a text names, by the longest of its words that stands in it by itself: "PETG, layers of
// 0.12 mm" is printed PETG. ok is false where it names none.
func FindMaterial(text string) (m Material, ok bool) {
	text = strings.ToLower(text)
	longest := 0
	for i := range materials {
		for _, w := range materials[i].Words {
			if len(w) > longest && holdsWord(text, w) {
				m, ok, longest = materials[i], true, len(w)
			}
		}
	}
	return m, ok
}

// holdsWord tells that a word stands in a text with nothing that could belong to it on either side.
func holdsWord(text, word string) bool {
	part := func(b byte) bool { return b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b >= 0x80 }
	for from := 0; ; {
		at := strings.Index(text[from:], word)
		if at < 0 {
			return false
		}
		at += from
		end := at + len(word)
		if (at == 0 || !part(text[at-1])) && (end == len(text) || !part(text[end])) {
			return true
		}
		from = at + 1
	}
}

// InWater returns what is left of a material's fatigue strength in its water, in Pa; 0 where none is known. For a print with data of
// dry coupons it is those: what water does to them nobody has measured.
//
//	S = k·S₀
//
//	S₀  amplitude that a plain specimen stands in air, Pa
//	k   share that is left in fresh or in sea water, -
//
// Holds for the number of turns of the table; in water most metals have no limit below which they last for ever.
//
// Source: memory. Tests: TestInWaterExact.
func (m *Material) InWater(sea bool) float64 {
	switch {
	case m.Printed:
		return m.Fatigue
	case sea:
		return m.Fatigue * m.Sea
	}
	return m.Fatigue * m.Fresh
}

// RuleOfThumb returns the alternating stress in Pa that a print without data is worked to.
//
//	S = 0.10·R_m  in the plane of the layers,  S = 0.05·R_m  across them
//
//	R_m  tensile strength of a coupon, Pa
//
// Holds as engineering judgement for more than 1e6 turns, wet; it is no datum, and nothing is clear by it.
//
// Source: memory. Tests: TestRuleOfThumbExact.
func (m *Material) RuleOfThumb(across bool) float64 {
	if across {
		return ruleAcross * m.Tensile
	}
	return ruleInPlane * m.Tensile
}
