package blade

// RootMoments returns the moments of one impeller blade's load about a radius, in N·m: of its axial and of its tangential force.
//
//	M_a = 1/Z·Σ Δp·2π·r·Δr·(r − h),  M_t = 1/Z·Σ Δṁ·(r₂·c₂ − r₁·c₁)/r·(r − h)
//	Δp/ρ = h₂ − h₁ − (c₂² + v₂² − c₁² − v₁²)/2
//
//	h₁, h₂  total pressure over density ahead and behind, J/kg
//	c, v    tangential and meridional velocity ahead (1) and behind (2), m/s
//	r       radius of the stream surface, mean of both, m
//	Δṁ      flow between stream surfaces, kg/s
//	h       radius of the root, m
//	Z       number of blades
//
// Holds as the solved state does; the meridional flow is taken to leave as it came, along the axis.
//
// Source: own. Tests: TestRootMomentsLaw.
func (st *State) RootMoments(root, density float64, blades int) (axial, tangential float64) {
	in, out := &st.Stations[0], &st.Stations[1]
	e := &st.Impeller.Elements
	n := st.Radii
	z := float64(blades)
	for j := range n {
		a, b := &e[j].Inlet, &e[j].Outlet
		r := (e[j].InletRadius + e[j].OutletRadius) / 2
		arm := r - root
		mass := density * st.Flow * weight(j, n)
		force := mass * (e[j].OutletRadius*b.Tangential - e[j].InletRadius*a.Tangential) / r
		tangential += force * arm / z
		square := func(t *Triangle) float64 { return t.Tangential*t.Tangential + t.Meridional*t.Meridional }
		rise := density * (out.Total[j] - in.Total[j] - (square(b)-square(a))/2)
		// the ring of this surface: its share of the flow over its own velocity
		area := st.Flow * weight(j, n) / ((a.Meridional + b.Meridional) / 2)
		axial += rise * area * arm / z
	}
	return axial, tangential
}
