// Command hull balances a thousand random planing hulls with the tool and with SciPy in one run: a second opinion on trim,
// wetted length and drag, and how long each takes.
package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"jetwright/physics/craft"
	"jetwright/quantity"
	"jetwright/sidebyside/second"
)

const (
	hulls  = 1000
	agrees = 1e-8 // relative
)

// asked is a hull as the script gets it, SI.
type asked struct {
	Mass      float64 `json:"mass"`
	Beam      float64 `json:"beam"`
	Deadrise  float64 `json:"deadrise"`
	Centre    float64 `json:"centre"`
	Height    float64 `json:"height"`
	Thrust    float64 `json:"thrust"`
	Angle     float64 `json:"angle"`
	Roughness float64 `json:"roughness"`
	Line      string  `json:"line"`
	Speed     float64 `json:"speed"`
	Air       float64 `json:"air"`
	Density   float64 `json:"density"`
	Viscosity float64 `json:"viscosity"`
	Gravity   float64 `json:"gravity"`
}

type answered struct {
	Rows []*struct {
		Trim   float64 `json:"trim"`
		Wetted float64 `json:"wetted"`
		Drag   float64 `json:"drag"`
	} `json:"rows"`
	Seconds float64 `json:"seconds"`
}

// random draws hulls from boards of 60 kg to boats of 30 t, at volume Froude numbers of 1.5 to 6.
func random(r *rand.Rand) asked {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	mass := math.Exp(between(math.Log(60), math.Log(30000)))
	root := math.Cbrt(mass / 1000)
	a := asked{
		Mass: mass, Beam: root * between(1.1, 2), Centre: root * between(1.5, 3.2), Height: root * between(0.1, 0.5), Thrust: root * between(-0.1, 0.1),
		Angle: between(-5, 8) * math.Pi / 180, Line: "ittc-1957", Air: mass * between(0, 1), Density: between(990, 1030), Viscosity: between(0.8e-6, 1.6e-6), Gravity: 9.80665,
	}
	if r.IntN(4) > 0 {
		a.Deadrise = between(0.5, 25) * math.Pi / 180
	}
	if r.IntN(2) > 0 {
		a.Roughness = between(1e-6, 2e-4)
	}
	if r.IntN(3) == 0 {
		a.Line = "schoenherr"
	}
	a.Speed = between(1.5, 6) * math.Sqrt(a.Gravity*root)
	return a
}

func (a asked) hull() (*craft.Hull, error) {
	h, reason := craft.NewHull(craft.Craft{
		Mass: quantity.Some(a.Mass), RiderMass: quantity.Some(0), Length: quantity.Some(math.Max(4*a.Beam, 2*a.Centre)), Beam: quantity.Some(a.Beam), Deadrise: a.Deadrise,
		GravityCentre: quantity.Some(a.Centre), GravityHeight: a.Height, ThrustAngle: a.Angle, ThrustHeight: a.Thrust, Roughness: a.Roughness, FrictionLine: a.Line, EntranceAngle: 0.4, TransomRatio: 0.9,
	}, craft.Medium{Density: a.Density, Viscosity: a.Viscosity, AirDensity: 1.2, Gravity: a.Gravity})
	if reason != craft.Solved {
		return nil, reason
	}
	return h, nil
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run() error {
	r := rand.New(rand.NewPCG(7, 1964))
	list := make([]asked, hulls)
	ours := make([]craft.Planing, hulls)
	found := make([]bool, hulls)
	made := make([]*craft.Hull, hulls)
	for i := range list {
		list[i] = random(r)
		var err error
		if made[i], err = list[i].hull(); err != nil {
			return fmt.Errorf("hull %d: %w", i, err)
		}
	}
	begin := time.Now()
	for i := range list {
		ours[i], found[i] = made[i].Plane(list[i].Speed, list[i].Air)
	}
	seconds := time.Since(begin).Seconds() / hulls
	var theirs answered
	if err := second.SciPy(filepath.Join("hull", "hull.py"), list, &theirs); err != nil {
		return err
	}
	worst, where, none := 0.0, 0, 0
	for i, row := range theirs.Rows {
		if (row != nil) != found[i] {
			return fmt.Errorf("hull %d has a balance with one and none with the other", i)
		}
		if row == nil {
			none++
			continue
		}
		p := &ours[i]
		for _, e := range []float64{p.Trim/row.Trim - 1, p.WettedRatio/row.Wetted - 1, p.Drag()/row.Drag - 1} {
			if !(math.Abs(e) <= worst) {
				worst, where = math.Abs(e), i
			}
		}
	}
	fmt.Printf("%d hulls, %d without a balance in both; worst relative difference of trim, wetted length or drag %.1e (hull %d)\n", hulls, none, worst, where)
	fmt.Printf("this tool   %8.2f µs a balance\nSciPy       %8.0f µs, ratio %.0f\n", 1e6*seconds, 1e6*theirs.Seconds, theirs.Seconds/seconds)
	if !(worst < agrees) {
		return fmt.Errorf("the two differ by more than %g", agrees)
	}
	return nil
}
