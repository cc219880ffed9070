package blade

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// About the axis itself, the tangential moments of all blades are the torque; about a root they are less, and never less than
// none.
func TestRootMomentsLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawn(t)
		s, reason := NewStage(&p, 7)
		if reason != Solved {
			return
		}
		var st State
		if s.Solve(c, &st) != Solved {
			return
		}
		n := p.Impeller.Blades
		_, tangential := st.RootMoments(0, c.Density, n)
		if want := st.Torque; math.Abs(tangential*float64(n)-want) > 1e-6*math.Abs(want) {
			t.Errorf("%d blades have a moment of %g about the axis, the torque is %g", n, tangential*float64(n), want)
		}
		_, less := st.RootMoments(st.Stations[0].Radius[0], c.Density, n)
		if math.Abs(less) > math.Abs(tangential) {
			t.Errorf("%g about the root, %g about the axis", less, tangential)
		}
	})
}
