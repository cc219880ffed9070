package desk

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// Card is a formula as it stands in the code's comments.
type Card struct {
	Name    string   `json:"name"`    // "jet.Path.GrossThrust"
	Summary string   `json:"summary"` // what it returns
	Formula string   `json:"formula"` // the equation and its symbols
	Holds   string   `json:"holds"`
	Source  string   `json:"source"`
	Tests   string   `json:"tests"`
	Keys    []string `json:"keys"` // fields it names in brackets, as paths
}

// cardsFile is gathered from the comments; a test proves it fresh.
//
//go:embed cards.json
var cardsFile []byte

// Cards returns every formula card.
var Cards = sync.OnceValue(func() []Card {
	var c []Card
	if err := json.Unmarshal(cardsFile, &c); err != nil {
		panic("cards.json does not read: " + err.Error()) // held by TestCardsFresh
	}
	return c
})

// cardsOf are the cards behind a figure of the state, by the path's last word or words.
var cardsOf = map[string][]string{
	"thrust": {"jet.Path.GrossThrust"}, "jet.gross_thrust": {"jet.Path.GrossThrust"}, "net_thrust": {"jet.Path.GrossThrust"},
	"jet.head": {"jet.Path.Head", "jet.IntakeLossHead"}, "jet.intake_loss_head": {"jet.IntakeLossHead"}, "jet.intake_loss": {"jet.IntakeLossHead"},
	"jet.momentum_coefficient": {"jet.MomentumCoefficient", "jet.BoundaryLayerThickness"}, "jet.energy_coefficient": {"jet.EnergyCoefficientSquared", "jet.BoundaryLayerThickness"},
	"jet.suction_specific_speed": {"jet.SuctionSpecificSpeed", "jet.Path.NPSH"}, "jet.npsh_available": {"jet.Path.NPSH"},
	"jet.specific_speed": {"jet.SpecificSpeed"}, "jet.cavitation_factor": {"jet.CavitationFactor"}, "jet.cavitation_loss": {"jet.CavitationFactor"},
	"jet.impeller_power": {"jet.Path.ShaftPower"}, "shaft_power": {"jet.Path.ShaftPower"}, "jet.flow": {"jet.Path.Balance"}, "jet.jet_velocity": {"jet.Path.Balance"},
	"static_efficiency": {"jet.StaticEfficiency"}, "static_efficiency_shaft": {"jet.StaticEfficiency"},
	"jet.pump_loss": {"jet.EstimatedPump.Losses"}, "jet.pump_off_design_loss": {"jet.EstimatedPump.Losses"}, "jet.head_coefficient": {"jet.EstimatedPump"},
	"jet.throat_velocity_ratio": {"jet.IntakeLossHead"}, "jet.hydraulic_power": {"jet.Path.Head"}, "jet.pump_efficiency": {"jet.EstimatedPump"}, "jet.power_coefficient": {"jet.EstimatedPump.Power"},
	"motor.copper_loss": {"electric.CopperAlpha", "electric.Chain.Current"}, "motor.dc_equivalent_current": {"electric.Chain.Current"}, "motor.phase_current_rms": {"electric.Chain.Current"}, "motor.phase_current_peak": {"electric.Chain.Current"},
	"motor.no_load_loss": {"electric.Chain.NoLoadLoss"}, "motor.winding_temperature": {"heat.SteadyWinding"}, "motor.magnet_temperature": {"heat.SteadyWinding", "electric.Chain.MagnetTemperature"},
	"motor.terminal_voltage": {"electric.Chain.ConstantAt"}, "supply.capacitor_ripple": {"electric.CapacitorRipple", "electric.SixStepRipple"}, "supply.capacitor_loss": {"electric.CapacitorRipple"},
	"supply.dead_time_loss":  {"electric.DeadTimeLoss", "electric.SixStepDeadTimeLoss"},
	"supply.conduction_loss": {"electric.ConductionLoss", "electric.HotResistance"}, "supply.switching_loss": {"electric.SwitchingLoss", "electric.SixStepSwitchingLoss"}, "supply.battery_voltage": {"electric.LoadVoltage", "electric.Battery.Resistance", "electric.OpenCircuitVoltage"},
	"supply.battery_current": {"electric.LoadVoltage"}, "supply.controller_voltage": {"electric.LoadVoltage"}, "supply.wiring_loss": {"electric.LoadVoltage", "electric.Cable.Resistance", "electric.Cable.Temperature"},
	"heat.coolant_flow": {"heat.Cooling.Flow"}, "heat.bridge_temperature": {"heat.Cooling.Steady"}, "heat.coolant_outlet": {"heat.Cooling.Steady"}, "heat.jacket_temperature": {"heat.Cooling.Steady"},
	"battery_power": {"drive.State.PowerBalance"}, "power_residual": {"drive.State.PowerBalance"},
}

// bladeCardsOf are the cards behind a figure of a pump that is worked out from its blades; they go before the others.
var bladeCardsOf = map[string][]string{
	"jet.head": {"blade.Curve.Head", "blade.State.HeadByPressure", "jet.Path.Head", "jet.IntakeLossHead"}, "jet.head_coefficient": {"blade.Curve.Head"}, "jet.power_coefficient": {"blade.Curve.Power"},
	"jet.pump_efficiency": {"blade.Curve.Head", "blade.Curve.Power", "blade.Loss.Sum"}, "jet.pump_loss": {"blade.Curve.Losses", "blade.Loss.Sum"}, "jet.pump_off_design_loss": {"blade.Curve.Losses"},
	"jet.impeller_power": {"blade.Curve.Power", "jet.Path.ShaftPower"}, "jet.impeller_torque": {"blade.Curve.Power"}, "jet.cavitation_factor": {"jet.CavitationFactor", "blade.Curve.Breakdown"},
	"blades.given_angle": {"blade.LiebleinReference", "blade.DeviationSlope", "blade.CarterDeviation"}, "blades.left_angle": {"blade.LiebleinReference", "blade.DeviationSlope", "blade.CarterDeviation"},
	"blades.swirl_thrust": {"jet.Path.SwirlThrust", "blade.Curve.SwirlLeft", "blade.SwirlInJet"}, "blades.swirl_loss": {"blade.Curve.SwirlLeft"},
	"blades.diffusion": {"blade.EquivalentDiffusion", "blade.WakeThickness", "blade.DiffusionFactor"}, "blades.stator_diffusion": {"blade.EquivalentDiffusion", "blade.WakeThickness", "blade.DiffusionFactor"},
	"blades.onset_npsh": {"blade.OnsetNumber", "blade.BladeCavitationNumber"}, "blades.breakdown_npsh": {"blade.BreakdownNumber", "blade.BladeCavitationNumber"},
	"blades.suction_specific_speed_3": {"blade.BreakdownSuctionSpecificSpeed", "blade.BreakdownNumber", "blade.BestEyeFlow"},
	"blades.profile_loss":             {"blade.WakeLoss", "blade.WakeThickness", "blade.SmoothPlateFriction"}, "blades.roughness_loss": {"blade.PlateFriction", "blade.AdmissibleRoughness", "blade.Row.SandRoughness"},
	"blades.incidence_loss": {"blade.EquivalentDiffusion", "blade.LiebleinReference"}, "blades.edge_loss": {"blade.EdgeLoss", "blade.NoseLoss"}, "blades.gap_loss": {"blade.TipLeak"},
	"blades.wall_loss": {"blade.WallPower"}, "blades.secondary_loss": {"blade.SecondaryDrag"}, "blades.friction_loss": {"blade.DiscFriction", "blade.TipLandFriction"},
}

// bladeKeyCards are the cards behind a key of a row of blades, by the key in its section.
var bladeKeyCards = map[string][]string{
	"inlet_angle": {"blade.FromAxis", "blade.LiebleinReference", "blade.EquivalentDiffusion"}, "outlet_angle": {"blade.FromAxis", "blade.LiebleinReference", "blade.CarterDeviation"},
	"inlet_angle_offset": {"blade.Row.Angles", "blade.LiebleinReference"}, "outlet_angle_offset": {"blade.Row.Angles", "blade.LiebleinReference", "blade.CarterDeviation"},
	"chord": {"blade.DiffusionFactor", "blade.EquivalentDiffusion"}, "chord_factor": {"blade.Row.Sizes", "blade.DiffusionFactor"}, "thickness": {"blade.LiebleinReference"}, "thickness_factor": {"blade.Row.Sizes", "blade.LiebleinReference"},
	"blades": {"blade.DiffusionFactor", "blade.EquivalentDiffusion"}, "leading_radius": {"blade.NoseLoss"}, "trailing_radius": {"blade.EdgeLoss"}, "tip_gap": {"blade.TipLeak"}, "gap_eccentricity": {"blade.TipLeak"},
	"surface": {"blade.Row.SandRoughness", "blade.PlateFriction", "blade.AdmissibleRoughness"}, "roughness": {"blade.PlateFriction", "blade.AdmissibleRoughness"}, "roughness_place": {"blade.Row.SandRoughness", "blade.PlateFriction"},
	"form": {"blade.LiebleinReference", "blade.EquivalentDiffusion"}, "start": {"blade.Row.End"},
}

// cardsNamed are cards by their names, in that order.
func cardsNamed(names []string) []Card {
	var out []Card
	for _, name := range names {
		for _, card := range Cards() {
			if card.Name == name {
				out = append(out, card)
			}
		}
	}
	return out
}

// Explain answers what one number is: a key of the design, or a figure of the state at the
// design point.
func Explain(p *project.Project, path string, o Options) (*ExplainAnswer, error) {
	if f, ok := p.Design.Field(path); ok {
		return explainKey(p, f, o)
	}
	if f, ok := StateSchema().Lookup(path); ok {
		return explainFigure(p, f, o)
	}
	if f, ok := lookupRide(path); ok {
		return explainRide(p, f, o)
	}
	n := notice.Notice{Kind: notice.Error, Path: path, What: "there is no number named " + path, Allowed: "keys of the design (docs/keys.md) and figures of the state"}
	near := append(design.Schema().Nearest(path), StateSchema().Nearest(path)...)
	if strings.HasPrefix(path, "ride.") {
		near = RidePaths()
		n.Allowed = "of a ride: " + strings.Join(near, ", ")
	}
	if len(near) > 0 {
		n.WayOut = "did you mean " + near[0] + "?"
	}
	return nil, notice.List{n}
}

func explainKey(p *project.Project, f quantity.Field, o Options) (*ExplainAnswer, error) {
	a := &ExplainAnswer{Path: f.Path, Doc: f.Doc, Unit: f.Unit, Choices: f.Choices, Source: f.Source}
	if f.Range != nil {
		a.Range = f.Range.Text(f.Unit)
	}
	v, ok := p.Design.Value(f.Path)
	switch {
	case ok:
		a.Text = v.String()
		a.Key = &design.Input{Path: f.Path, Field: f, Value: v}
		switch or := v.Origin(); or.Kind {
		case quantity.Assumed:
			a.Origin = "assumed, since it is not typed"
			a.Key.Assumed = true
		case quantity.Built:
			a.Origin = "measured on the built part, at " + or.Place.String()
			if d, ok := p.Design.Drawn(f.Path); ok {
				a.Drawn = d.String()
			}
		default:
			a.Origin = "typed at " + or.Place.String()
		}
	case f.Kind == quantity.KindNumber || f.Kind == quantity.KindOptional:
		a.Text = "not typed"
		a.Origin = "left out"
	default:
		a.Text, a.Origin = word(p.Design, f)
	}
	for _, c := range Cards() {
		for _, k := range c.Keys {
			if k == f.Path {
				a.Cards = append(a.Cards, c)
				break
			}
		}
	}
	if part, key, _ := strings.Cut(f.Path, "."); len(a.Cards) == 0 && p.Design.Bladed() && (part == "impeller" || part == "stator") {
		a.Cards = cardsNamed(bladeKeyCards[key])
	}
	if a.Moves = rideMoves(p, f.Path, o); len(a.Moves) > 0 {
		return a, nil
	}
	s, err := explore.New(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return a, nil // the number can be explained although the drive has no state
	}
	nominal := p.Design.Nominal()
	r := s.Solve(nominal.DutyCondition())
	if r.Err != nil {
		return a, nil
	}
	a.Effects = s.Nominal.BladeEffects(&r.Nominal, f.Path)
	if len(r.States) == 0 {
		return a, nil
	}
	free := s.Solve(drive.Condition{Speed: r.Condition.Speed, Demand: drive.BatteryPower, Amount: r.Nominal.BatteryPower})
	for _, figure := range []string{"thrust", "battery_power", "rotor_speed", "jet.suction_specific_speed", "motor.winding_temperature"} {
		field, ok := StateSchema().Lookup(figure)
		if !ok {
			continue
		}
		from := r
		if figure == "thrust" {
			from = free // the duty may hold the thrust itself
		}
		list, _ := from.Contributions(s, reader(field))
		for _, c := range list {
			if c.Path == f.Path {
				a.Moves = append(a.Moves, Share{Path: figure, Share: c.Share, Doc: field.Doc})
			}
		}
	}
	return a, nil
}

func explainFigure(p *project.Project, f quantity.Field, o Options) (*ExplainAnswer, error) {
	a := &ExplainAnswer{Path: f.Path, Doc: f.Doc, Unit: f.Unit}
	s, err := explore.New(p.Design, o.draws(explore.DefaultDraws), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	nominal := p.Design.Nominal()
	c := nominal.DutyCondition()
	r := s.Solve(c)
	if r.Err != nil {
		return nil, unsolved(p, r.Err)
	}
	if f.Section == "coolant" && !r.Nominal.HasCoolant() {
		return nil, notice.List{{Kind: notice.Error, Path: f.Path, What: f.Path + " is not worked out: no [[coolant]] is typed", Allowed: "heat.coolant_flow is the flow by [cooling] alone", WayOut: "docs/keys.md lists the parts of a coolant's way"}}
	}
	if f.Section == "blades" && !r.Nominal.HasBlades() {
		return nil, notice.List{{Kind: notice.Error, Path: f.Path, What: f.Path + " is not worked out: no blade sections are typed", Allowed: "figures of the pump as a whole, such as jet.head", WayOut: "find sections for the duty with: jetwright blades " + p.Folder + " --design"}}
	}
	read := reader(f)
	x := r.Figure(read)
	if len(r.States) > 0 && x.High-x.Low <= 1e-9*math.Abs(x.Value) && f.Path != "battery_power" && x.Value != 0 {
		// the demand holds this figure; let it go by holding the battery power instead
		c = drive.Condition{Speed: c.Speed, Demand: drive.BatteryPower, Amount: r.Nominal.BatteryPower}
		if free := s.Solve(c); free.Err == nil {
			r = free
			x = r.Figure(read)
		}
	}
	a.Figure = &Figure{Path: f.Path, Doc: f.Doc, Value: x.Value, Low: x.Low, High: x.High, Unit: f.Unit}
	a.Origin = "figure of the state at the design point: " + describe(c)
	a.Shares, a.Unexplained = shares(s, r, read)
	names := cardsOf[f.Path]
	if own, ok := bladeCardsOf[f.Path]; ok && s.Nominal.Bladed() {
		names = own
	}
	a.Cards = cardsNamed(names)
	return a, nil
}

// word is the value of a choice, a count or words, and where it comes from.
func word(d *design.Design, f quantity.Field) (text, origin string) {
	nominal := d.Nominal()
	schema := design.Schema()
	part, ofPart := d.CoolantWord(f)
	if text = part; !ofPart {
		text = wordOf(schema, &nominal, f)
	}
	if place, ok := d.TypedAt(f.Path); ok {
		return text, "typed at " + place.String()
	}
	if text == "" {
		return "not typed", "left out"
	}
	return text, "assumed, since it is not typed"
}

// wordOf is the value of a choice, a count or words of the drive.
func wordOf(schema *quantity.Schema, nominal *drive.Drive, f quantity.Field) (text string) {
	switch f.Kind {
	case quantity.KindText:
		text, _ = schema.Text(nominal, f)
	case quantity.KindWhole:
		x, _ := schema.Get(nominal, f)
		text = strconv.Itoa(int(x))
	case quantity.KindFlag:
		on, _ := schema.Flag(nominal, f)
		text = strconv.FormatBool(on)
	case quantity.KindList:
		list, _ := schema.List(nominal, f)
		for i, x := range list {
			if i > 0 {
				text += ", "
			}
			text += quantity.Format(x, f.Unit)
		}
	}
	return text
}

// PlainDigits writes four digits without a power of ten: 12 kW are 12000 W.
func PlainDigits(x float64) string {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 4, 64), 64)
	return strconv.FormatFloat(y, 'f', -1, 64)
}

// describe words a condition.
func describe(c drive.Condition) string {
	at := "at rest"
	if c.Speed != 0 {
		at = fmt.Sprintf("at %.3g m/s", c.Speed)
	}
	switch c.Demand {
	case drive.Thrust:
		return PlainDigits(c.Amount) + " N of thrust " + at
	case drive.RotorSpeed:
		return PlainDigits(c.Amount*30/math.Pi) + " rpm " + at
	case drive.Throttle:
		return fmt.Sprintf("%.0f %% throttle %s", 100*c.Amount, at)
	}
	return fmt.Sprintf("%s W %s, %s", PlainDigits(c.Amount), c.Demand, at)
}

// Describe words a condition for a heading.
func Describe(c drive.Condition) string { return describe(c) }
