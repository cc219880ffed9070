package bench

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/numeric"
)

// frictionLeast is how many upward steps a friction must rest on. Our own.
const frictionLeast = 3

// friction finds what the carriage holds back, from levels reached going up and going down, and
// takes it out of every pull.
//
//	T_shown = e^(a + b·ln P)·(1 − s·k) − F·s,  least squares over the plateaus
//
//	F  friction of the carriage, N;  s  1 going up, −1 going down
//	k  what a pulley or a loaded roller takes of the pull, -; 0 where the steps do not tell it
//	P  the load: power, or what stands for it
//
// Needs three settled steps up and one down within their range.
//
// Source: own. Tests: TestFrictionLaw, TestReduceSynthetic.
func (r *reducer) friction() {
	var load, pull, u, sign []float64
	low, high := math.Inf(1), 0.0
	down := 0
	for _, p := range r.out.Plateaus {
		t, haveT := p.Figure(Thrust)
		w, haveP := p.Figure(r.load.Channel)
		if !haveT || !haveP || p.Unsettled != "" || !(t.Value > 0) {
			continue
		}
		s := 1.0
		switch p.Direction {
		case "":
			continue
		case "down":
			s = -1
			down++
		default:
			low, high = math.Min(low, w.Value), math.Max(high, w.Value)
		}
		own := math.Hypot(t.withoutPulley().ownUncertainty(), t.Value*w.Repeat/w.Value)
		load, pull, u, sign = append(load, math.Log(w.Value)), append(pull, t.Value), append(u, math.Max(own, 1e-6)), append(sign, s)
	}
	if down == 0 || len(load)-down < frictionLeast {
		return
	}
	for i, s := range sign {
		if s < 0 && (math.Exp(load[i]) < low || math.Exp(load[i]) > high) {
			down--
		}
	}
	if down <= 0 {
		return
	}
	fit, ok := fitFriction(load, pull, u, sign)
	if !ok {
		return
	}
	f := &r.out.Friction
	f.Known, f.Force, f.U, f.Steps = true, fit.force, fit.uForce, down
	f.uHere = fit.uForce
	switch {
	case fit.told && fit.share > 0 && fit.here > -2*fit.uHere:
		f.Share, f.UShare, f.middle, f.uHere = fit.share, fit.uShare, fit.middle, fit.uHere
	case fit.force < 0:
		if fit.force < -2*fit.uForce {
			f.Known = false
			r.warn(r.Place, fmt.Sprintf("steps down show %.2g N less pull than steps up at the same power, which no friction does", -2*fit.force), "look at the battery's sag, the water's motion and the tare")
			return
		}
		f.Force, f.U = 0, math.Hypot(fit.force, fit.uForce)
		f.uHere = f.U
	}
	for i := range r.out.Plateaus {
		p := &r.out.Plateaus[i]
		for k := range p.Figures {
			t := &p.Figures[k]
			if t.Channel != Thrust {
				continue
			}
			if p.Direction == "" { // it may hold back or push
				t.FrictionTaken = true
				force, u := f.At(t.Value)
				t.Budget = append(t.Budget, Component{
					Name: "carriage friction", U: math.Hypot(force, u) / math.Sqrt(3), Freedom: math.Inf(1),
					Note: fmt.Sprintf("%.2g N either way: nothing says how the step was reached", force),
				})
				t.setRepeat()
				continue
			}
			f.take(t, p.Direction == "down", r.Run)
		}
	}
}

// withoutPulley leaves out what a pulley may take or give: steps up and down are to measure it.
func (f Figure) withoutPulley() Figure {
	var kept []Component
	for _, c := range f.Budget {
		if c.Name != pulleyLine {
			kept = append(kept, c)
		}
	}
	f.Budget = kept
	return f
}

// At returns the friction at a pull and its standard uncertainty, N.
func (f Friction) At(pull float64) (force, u float64) {
	if f.Share == 0 {
		return f.Force, f.U
	}
	return f.Force + f.Share*pull, math.Hypot(f.uHere, (pull-f.middle)*f.UShare)
}

// take takes the friction out of a pull that was reached going up or down and gives it its lines.
//
//	T = (T_shown + s·F₀)/(1 − s·k),  u_F = u(F_c)/(1 − s·k),  u_k = |T − T_c|·u(k)/(1 − s·k)
//
//	s  1 going up, −1 going down;  F₀, k  what does not and what does grow with the pull, N and -
//	T_c  pull at which the two are known apart, N;  F_c = F₀ + k·T_c
//
// The lines move plateaus together: against each other where one was reached going up and the other
// going down, and that of k also where they lie on either side of T_c.
func (f Friction) take(t *Figure, down bool, run string) {
	s := 1.0
	if down {
		s = -1
	}
	grow := 1 / (1 - s*f.Share)
	shown := t.Value
	t.Value = (shown + s*f.Force) * grow
	t.FrictionTaken = true
	t.Limits *= grow
	for i := range t.Budget {
		t.Budget[i].U *= grow
	}
	note := fmt.Sprintf("%.2g N from steps up and down", f.Force)
	if f.Share > 0 {
		note += fmt.Sprintf(", known best at %.3g N", f.middle)
		// What turns with the direction was measured, and is not to be allowed for again.
		kept := t.Budget[:0]
		for _, c := range t.Budget {
			if c.Name != pulleyLine {
				kept = append(kept, c)
			}
		}
		t.Budget = kept
	}
	t.Budget = append(t.Budget, Component{Name: "carriage friction", U: f.uHere * grow, Freedom: math.Inf(1), Shared: run + ", carriage friction", Against: down, Note: note})
	if f.Share > 0 {
		t.Budget = append(t.Budget, Component{
			Name: "friction that grows with the pull", U: math.Abs(t.Value-f.middle) * f.UShare * grow, Freedom: math.Inf(1), Shared: run + ", friction that grows with the pull",
			Against: down != (t.Value < f.middle), Note: fmt.Sprintf("%.2g %% of the pull, %.2g N here", 100*f.Share, f.Share*t.Value),
		})
	}
	t.setRepeat()
}

// frictionFit is what steps up and down say of what turns with the direction.
type frictionFit struct {
	force, uForce float64 // N; beside share where that is told
	share, uShare float64 // of the pull
	middle        float64 // pull at which force + share·pull is known apart from share, N
	here, uHere   float64 // force + share·middle, N
	told          bool    // the steps tell the share from none
}

// Rules of a friction that grows with the pull. Our own.
const (
	growingPairs = 3    // steps down that it must rest on
	growingRange = 1.5  // of the pulls that they must span
	growingRare  = 0.05 // how rare it must be by chance
)

// fitFriction fits a power law and what turns with the direction: a force, and a share of the pull as
// well where three steps down or more tell it.
//
//	T_shown = V − s·(F₀ + k·V),  V = e^(a + b·ln P),  k kept if F = (χ₁² − χ₂²)/(χ₂²/(n − 4)) passes F_{0.95}(1, n − 4)
//
//	χ₁², χ₂²  weighted squares left without and with k;  n  plateaus
//	T_c = −u(F₀, k)/u²(k)  pull at which F₀ + k·T_c and k are known apart, N
//
// What the power law does not meet widens both.
//
// Source: jcgm-100, H.3; own. Tests: TestFrictionLaw, TestGrowingFrictionExact, TestGrowingFrictionSynthetic.
func fitFriction(load, pull, u, sign []float64) (frictionFit, bool) {
	constant, ok := fitTurning(load, pull, u, sign, false)
	if !ok {
		return frictionFit{}, false
	}
	low, high, down := math.Inf(1), 0.0, 0
	for i, s := range sign {
		if s < 0 {
			low, high, down = math.Min(low, pull[i]), math.Max(high, pull[i]), down+1
		}
	}
	n := len(load)
	if down < growingPairs || high < growingRange*low || n < 6 {
		return constant.frictionFit, true
	}
	growing, ok := fitTurning(load, pull, u, sign, true)
	if !ok {
		return constant.frictionFit, true
	}
	free := float64(n - 4)
	least := 1e-20 * float64(n) // rounding
	f := (constant.chi - growing.chi) / (math.Max(growing.chi, least) / free)
	if f > (distuv.F{D1: 1, D2: free}).Quantile(1-growingRare) && constant.chi > least {
		growing.told = true
		return growing.frictionFit, true
	}
	return constant.frictionFit, true
}

type turning struct {
	frictionFit
	chi float64
}

// fitTurning fits one of the two.
func fitTurning(load, pull, u, sign []float64, growing bool) (turning, bool) {
	var out turning
	n, unknowns := len(load), 3
	if growing {
		unknowns = 4
	}
	y := make([]float64, n)
	for i, p := range pull {
		y[i] = math.Log(p)
	}
	line, err := numeric.StraightLine(load, y, nil)
	if err != nil {
		return out, false
	}
	a, b, force, share := line.A, line.B, 0.0, 0.0
	var inverse mat.Dense
	for range 30 {
		design := mat.NewDense(n, unknowns, nil)
		rest := make([]float64, n)
		for i := range load {
			v := math.Exp(a + b*load[i])
			d := v * (1 - sign[i]*share)
			row := []float64{d / u[i], d * load[i] / u[i], -sign[i] / u[i], -sign[i] * v / u[i]}
			design.SetRow(i, row[:unknowns])
			rest[i] = (pull[i] - d + sign[i]*force) / u[i]
		}
		var step mat.VecDense
		if err := step.SolveVec(design, mat.NewVecDense(n, rest)); err != nil {
			return out, false
		}
		a, b, force = a+step.AtVec(0), b+step.AtVec(1), force+step.AtVec(2)
		moved := math.Abs(step.AtVec(2)) / (1 + math.Abs(force))
		if growing {
			share += step.AtVec(3)
			moved = math.Max(moved, math.Abs(step.AtVec(3)))
		}
		var normal mat.Dense
		normal.Mul(design.T(), design)
		if err := inverse.Inverse(&normal); err != nil {
			return out, false
		}
		out.chi = 0
		for i := range load {
			v := math.Exp(a + b*load[i])
			d := (pull[i] - v + sign[i]*(force+share*v)) / u[i]
			out.chi += d * d
		}
		if moved < 1e-9 {
			break
		}
	}
	grow := 1.0
	if n > unknowns { // what the power law does not meet widens the force
		grow = math.Sqrt(math.Max(1, out.chi/float64(n-unknowns)))
	}
	out.force, out.uForce = force, grow*math.Sqrt(inverse.At(2, 2))
	out.here, out.uHere = out.force, out.uForce
	if growing {
		out.share, out.uShare = share, grow*math.Sqrt(inverse.At(3, 3))
		out.middle = -inverse.At(2, 3) / inverse.At(3, 3)
		out.here = force + share*out.middle
		out.uHere = grow * math.Sqrt(math.Max(0, inverse.At(2, 2)-inverse.At(2, 3)*inverse.At(2, 3)/inverse.At(3, 3)))
	}
	for _, x := range []float64{out.force, out.uForce, out.share, out.uShare, out.middle, out.uHere} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return out, false
		}
	}
	return out, math.Abs(share) < 0.5
}
