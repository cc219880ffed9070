package desk

import (
	"fmt"
	"math"
	"strings"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// RideFlags are what a question about a ride is asked with, as typed.
type RideFlags struct {
	Legs  []string // in place of craft.ride
	Power string   // full power, such as "9 kW" or "7 kW shaft"; the duty's if empty
}

// RideAnswer is what the drive does with its craft on the water.
type RideAnswer struct {
	Folder, Name  string
	Push          drive.Push // full power
	PushFrom      string
	Craft         drive.Craft // nominal
	Floats, Known bool        // the craft floats its rider; and whether that is known
	Draws         int
	Failed        map[string]int

	PlaneSpeed, HumpSpeed, Margin, HumpThrust, HumpDrag Figure
	HumpMethods                                         string
	HumpOutside                                         []string
	State                                               string  // ClimbsSurely …
	Over                                                float64 // share of the draws that get onto the plane
	FromRest, Held                                      Figure
	HeldState                                           drive.CraftState
	EdgeRider, SureRider                                Figure // mass with a margin of nothing, and of 15 %
	ToPlane, PlaneWay                                   Figure // +Inf where it does not
	Stances                                             []Stance
	Curve                                               []RidePoint
	Powers                                              []RidePower
	Thrusts                                             *drive.RideMap // nominal, for the picture
	Cruises                                             []RideCruise
	Best, BestPlaning                                   *RideCruise
	Climbs                                              []RideClimb
	LastClimb                                           float64 // charge below which it no longer climbs, 0 to 1; 0 if it always does

	LegsFrom string
	Legs     []RideLegAnswer
	Course   *Course       // of the temperatures; limits hold for its time
	Start    []drive.Under // the nominal climb
	Distance Figure
	Account  []drive.Spent // nominal, J
	Battery  float64       // J at its terminals, nominal
	Closure  float64       // of the account, a share of it
	Assumed  []design.Input
	Doubts   []Doubt // of the margin, the speed and the range
	Notices  notice.List
	Cautions []Caution
}

// What a craft does at its hump.
const (
	ClimbsSurely = "gets onto the plane"
	ClimbsMaybe  = "may not get onto the plane"
	ClimbsNot    = "does not get onto the plane"
)

// SureMargin is the margin over the hump below which a craft may not get onto the plane.
const SureMargin = 0.15

// Stance is the ride with the rider's weight at a place of the band.
type Stance struct {
	Name   string
	Centre float64 // ahead of the transom, m
	Margin float64
	Hump   drive.CraftState
	Top    drive.CraftState // from rest
}

// RidePoint is drag and thrust at a speed.
type RidePoint struct {
	Speed        float64 // m/s
	Drag, Thrust Figure  // of full power; thrust has no value where Solved is false
	Smooth       Figure  // the drag with all its digits, for a picture
	Solved       bool
	Craft        drive.CraftState // nominal
	Methods      string
}

// RidePower is the speed that a power gives.
type RidePower struct {
	Push     drive.Push
	FromRest Figure
	Planes   float64 // share of the draws, the nominal's 0 or 1 without any
	Why      string
}

// RideCruise is a speed that is held until the battery ends.
type RideCruise struct {
	drive.Cruise
	Power, Range, Time Figure // by the battery alone, its cells as warm as they are typed
	Planes             bool
	Ends               string  // what ends it with heat counted, nominal; empty if that was not asked
	Lasts, Way         float64 // s and m until then, from rest on
	Limit              string  // first limit of temperature that is reached by then; empty for none
	LimitAt            float64 // s
}

// RideClimb is the climb onto the plane at a charge.
type RideClimb struct {
	Charge        float64
	Power, Margin Figure
}

// RideLegAnswer is a leg with what became of it.
type RideLegAnswer struct {
	Text                          string
	Time, Distance, Speed, Energy Figure
	Reached                       float64 // share of the draws; the nominal's without any
	Begun                         bool
}

// RideIn answers Ride for a folder.
func RideIn(folder string, f RideFlags, o Options) (*RideAnswer, error) {
	return in(folder, func(p *project.Project) (*RideAnswer, error) { return OnWater(p, f, o) })
}

// OnWater answers how the drive carries its craft.
func OnWater(p *project.Project, f RideFlags, o Options) (*RideAnswer, error) {
	nominal := p.Design.Nominal()
	if lacks := nominal.Craft.Lacks(); len(lacks) > 0 {
		return nil, rideLacks(p.Design, lacks)
	}
	s, err := explore.NewRiding(p.Design, o.draws(DrawsAPoint), o.seed())
	if err != nil {
		return nil, unsolved(p, err)
	}
	r, err := s.Nominal.Afloat()
	if err != nil {
		return nil, notice.List{{Kind: notice.Error, Path: "craft", What: err.Error()}}
	}
	a := &RideAnswer{Folder: p.Folder, Name: folderName(p.Folder), Craft: nominal.Craft, Draws: len(s.Machines), Failed: s.Failed}
	a.Floats, a.Known = r.Hull.FloatsRider()
	a.Notices = p.Notices
	if err := a.full(p, f, s.Nominal, &nominal); err != nil {
		return nil, err
	}
	b := r.Balance(a.Push)
	if b.Why != "" {
		return nil, notice.List{{Kind: notice.Error, What: "there is no balance of thrust and drag at " + PushText(a.Push) + ": " + b.Why, WayOut: `try another: --power "5 kW"`}}
	}
	legs, err := a.legs(p, f, r, b)
	if err != nil {
		return nil, err
	}
	for _, in := range append(p.Design.Riding(), p.Design.OverTime()...) {
		if in.Assumed {
			a.Assumed = append(a.Assumed, in)
		}
	}
	w := newWater(s, a.Push, b, legs)
	if err := w.ride(r); err != nil {
		return nil, unsolved(p, err)
	}
	a.fill(w, r, b, legs)
	a.stances(p, r, s.Nominal)
	a.warn(p, r, b, w)
	a.Cautions = rideCautions(&nominal, a)
	return a, nil
}

// rideLacks names what a ride takes and the design does not have.
func rideLacks(d *design.Design, lacks []string) error {
	var list notice.List
	for _, path := range lacks {
		f, _ := d.Field(path)
		example := map[string]string{
			"craft.mass": "32 kg", "craft.rider_mass": "78 kg", "craft.length": "1.9 m", "craft.beam": "0.66 m", "craft.gravity_centre": "0.7 m .. 0.9 m",
		}[path]
		n := notice.Notice{Kind: notice.Error, Path: path, What: "a ride takes " + path + ", which is not typed", Allowed: "it is: " + f.Doc, WayOut: fmt.Sprintf("type %s = %q under [craft]", f.Key, example)}
		n.Place = d.SectionPlace("craft")
		list = append(list, n)
	}
	return list
}

// full is what full power means.
func (a *RideAnswer) full(p *project.Project, f RideFlags, m *drive.Machine, d *drive.Drive) error {
	if f.Power == "" {
		a.Push, a.PushFrom = drive.Push{Demand: drive.BatteryPower, Amount: topPower(m, d, drive.BatteryPower)}, "the duty's"
		return nil
	}
	leg, what, allowed := p.Design.ReadLeg("1 s at " + f.Power)
	if what != "" || leg.Condition.Amount == 0 {
		return notice.List{{Kind: notice.Error, What: fmt.Sprintf("--power is %q, which is no power", f.Power), Allowed: allowed, WayOut: `write --power "9 kW" or --power "7 kW shaft"`}}
	}
	a.Push, a.PushFrom = drive.Push{Demand: leg.Condition.Demand, Amount: leg.Condition.Amount}, "--power"
	return nil
}

// PushText words how hard the drive pushes.
func PushText(p drive.Push) string {
	text := strings.TrimSuffix(describe(drive.Condition{Demand: p.Demand, Amount: p.Amount}), " at rest")
	return strings.TrimSuffix(text, ",")
}

// legs are those of the flag, of the design, or the usual ones: onto the plane, five minutes at full power, and to the end at the speed of
// the longest range on the plane.
func (a *RideAnswer) legs(p *project.Project, f RideFlags, r *drive.Ride, b drive.Balance) ([]drive.RideLeg, error) {
	var texts []string
	switch {
	case len(f.Legs) > 0:
		a.LegsFrom, texts = "--legs", f.Legs
	case len(p.Design.Legs()) > 0:
		a.LegsFrom = "craft.ride"
	case b.Over():
		a.LegsFrom = "the usual ones, since no craft.ride is typed"
		_, best, ok := r.BestRange(b.Held.Speed)
		if !ok || best.Speed == 0 {
			best.Speed = 0.9 * b.Held.Speed
		}
		texts = []string{"to the plane", "5 min at full power", fmt.Sprintf("to the end at %.1f m/s", best.Speed)}
	default:
		a.LegsFrom = "the usual ones, since no craft.ride is typed"
		texts = []string{"5 min at full power", fmt.Sprintf("to the end at %.1f m/s", 0.7*b.FromRest.Speed)}
	}
	list := append([]drive.RideLeg(nil), p.Design.Legs()...)
	if texts != nil {
		list = nil
	}
	for _, text := range texts {
		leg, what, allowed := p.Design.ReadLeg(text)
		if what != "" {
			return nil, notice.List{{Kind: notice.Error, What: "--legs: " + what, Allowed: allowed, WayOut: `write --legs "to the plane, 2 km at 7 m/s, to the end at 6 m/s"`}}
		}
		list = append(list, leg)
	}
	for i := range list {
		if c := &list[i].Condition; c.Amount == 0 {
			c.Demand, c.Amount = a.Push.Demand, a.Push.Amount
		}
	}
	return list, nil
}

// stances asks the nominal drive with the rider at both ends and in the middle of the band.
func (a *RideAnswer) stances(p *project.Project, r *drive.Ride, m *drive.Machine) {
	v, ok := p.Design.Value("craft.gravity_centre")
	if !ok || v.IsExact() {
		return
	}
	for _, x := range []struct {
		name string
		at   float64
	}{{"aftmost", v.Low()}, {"middle", v.Nominal()}, {"foremost", v.High()}} {
		d := m.Drive
		d.Craft.GravityCentre = quantity.Some(x.at)
		other := *m
		other.Drive = d
		ride, err := other.Afloat()
		if err != nil {
			continue
		}
		b := ride.Balance(a.Push)
		if b.Why != "" {
			continue
		}
		a.Stances = append(a.Stances, Stance{Name: x.name, Centre: x.at, Margin: b.Margin, Hump: b.Hump, Top: b.FromRest.Craft})
	}
}

// warn says what is doubtful about the ride.
func (a *RideAnswer) warn(p *project.Project, r *drive.Ride, b drive.Balance, w *onWater) {
	list := a.Notices[:len(a.Notices):len(a.Notices)]
	say := func(kind notice.Kind, path, what, allowed, out string) {
		n := notice.Notice{Kind: kind, Path: path, What: what, Allowed: allowed, WayOut: out}
		if place, ok := p.Design.TypedAt(path); ok {
			n.Place, n.Excerpt = place, p.Design.Document().Line(place.Line)
		}
		list = append(list, n)
	}
	if !a.Known {
		say(notice.Warning, "craft.volume", "whether the craft floats its rider is not judged: craft.volume is not typed", "small boards start prone and awash, with more drag than is counted here", `type volume = "… L": fill the hull's outline with boxes, or weigh what it takes to push it under`)
	}
	if n := &w.nominal; b.Over() && !n.climbed.Reached {
		say(notice.Warning, "battery.charge", fmt.Sprintf("thrust is enough for the hump, but at full power the climb does not end on the plane: %s", n.climbEnd), fmt.Sprintf("with the charge there is the battery gives %.1f kW at the hump, a margin of %.0f %%", n.given[0]/1000, 100*n.climb[0]), "charge the battery, or ask for less power")
	}
	for i, l := range a.Legs {
		if done := w.nominal.out.Done[i]; done.Slow && !w.nominal.out.Ending.In(i) {
			say(notice.Warning, "craft.ride", fmt.Sprintf("leg %d, %q, gets to %.3g m/s and no further", i+1, l.Text, done.Speed), "", "a speed that the drive holds, or more power")
		}
	}
	if top := b.Held.Craft; top.Porpoises {
		say(notice.Warning, "craft.gravity_centre", fmt.Sprintf("it may porpoise at %.2g m/s: a trim of %.1f° where it begins at %.1f°", top.Speed, degrees(top.Planing.Trim), degrees(top.PorpoisingTrim.Value)), "the limit is a fit to heavier hulls of 10° to 20° of deadrise: a hint", "weight forward")
	}
	if at, keel := a.Craft.IntakePosition, b.Held.Craft.Planing.KeelLength; at.Set && keel > 0 && keel < at.Value {
		say(notice.Warning, "craft.intake_position", fmt.Sprintf("the intake draws air at %.2g m/s: its front edge lies %.2g m ahead of the transom and the keel is wet for %.2g m", b.Held.Speed, at.Value, keel), "less than the wetted keel", "move the intake aft, or the weight forward")
	}
	if d := a.Craft.Depth; d.Set {
		say(notice.Remark, "craft.depth", fmt.Sprintf("water of %.2g m: its own waves run at %.2g m/s, near which drag is uncertain", d.Value, math.Sqrt(r.Hull.Medium().Gravity*d.Value)), "a jet near the ground draws sand and stones", "")
	}
	if out := w.nominal.out; out.Short.Ever {
		say(notice.Warning, "battery.series", fmt.Sprintf("from %.3g s on the battery's voltage does not reach for what is asked for", out.Short.Time), "throttle above full", "less power, or more cells in series")
	}
	a.Notices = list
}

func degrees(x float64) float64 { return x * 180 / math.Pi }

// rideCautions are what riding can do to people.
func rideCautions(d *drive.Drive, a *RideAnswer) []Caution {
	out := []Caution{
		{"kill cord", "tie the kill cord to the rider, not to the board: who falls off must stop the jet, and a board without its rider runs on at full power. Try it before every ride, at rest.", "own"},
		{"falls", "water is hard at planing speed: helmet and impact vest, nothing hard to fall on, and no head first landing in water of unknown depth. A kill cord's jerk can turn the board over its rider.", "own"},
		{"intake", "hair, cords, straps and fingers are drawn in at rest as well as under way: none near the intake while the drive is armed, a grid across it, long hair under the cap, and the battery unplugged before a hand clears it.", "iso-13857"},
		{"cold water", "below 15 °C the first minute takes the breath and the next ten the strength of the hands: dress for the water, not the air, and never ride alone or further out than you can swim back.", "memory"},
		{"distance from swimmers", "the jet and the board hurt people who cannot see them coming: keep out of bathing places, and off swimmers, divers and shores as far as the local rules say; where they say nothing, at walking pace near anybody.", "own"},
		{"range", "plan to be back with a third of the battery: wind and current turn, and the climb onto the plane is the first thing that an empty battery cannot do.", "own"},
		{"local rules", "whether an electric jet board may be ridden, where, by whom and with which papers differs from one water to the next. ISO 13590 on personal watercraft does not cover jet powered surfboards, and laws on craft with combustion engines may not either: ask the authority of the water.", "iso-13590"},
	}
	if a.Known && !a.Floats {
		out = append(out, Caution{"awash start", "this craft does not float its rider: the start is prone, in the water, with the intake near the body. Whoever cannot swim with the craft hanging from the cord must not start it.", "own"})
	}
	for _, c := range cautions(d) {
		if c.Topic == "lithium battery" || c.Topic == "voltage" || c.Topic == "rules" {
			out = append(out, c)
		}
	}
	return out
}

// methodWords name the methods that a drag comes from, the greatest share first.
func methodWords(s *drive.CraftState) string {
	var out []string
	for _, m := range []struct {
		share float64
		word  string
	}{{s.Towed, "towed"}, {s.PlaningShare, "planing"}, {s.PrePlaning, "pre-planing"}, {s.Swimming, "swimming"}, {s.Awash, "awash"}} {
		if m.share > 0.02 {
			out = append(out, m.word)
		}
	}
	return strings.Join(out, ", ")
}

// coarse leaves two digits of a figure whose method is outside of its range.
func coarse(f Figure, extrapolated bool) Figure {
	if extrapolated {
		f.Value, f.Low, f.High = TwoDigits(f.Value), TwoDigits(f.Low), TwoDigits(f.High)
	}
	return f
}

// TwoDigits rounds to two digits.
func TwoDigits(x float64) float64 {
	if x == 0 || math.IsInf(x, 0) {
		return x
	}
	unit := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
	if unit < 1 { // a tenth is not a binary number; its inverse is
		return math.Round(x*math.Round(1/unit)) / math.Round(1/unit)
	}
	return math.Round(x/unit) * unit
}

// Fine tells whether the craft gets onto the plane with a margin and no limit is broken over the ride.
func (a *RideAnswer) Fine() bool {
	if a.State != ClimbsSurely {
		return false
	}
	for _, l := range a.Course.Limits {
		if l.State == explore.Broken {
			return false
		}
	}
	return true
}

// Wind tells whether there is wind or current.
func (a *RideAnswer) Wind() bool { return a.Craft.Wind != 0 || a.Craft.Current != 0 }

// Planes tells whether some of the rides get onto the plane.
func (a *RideAnswer) Planes() bool { return !math.IsInf(a.ToPlane.Low, 1) }
