package blade

// Loss is what a row loses, by reason, in W; and per kg, in J/kg, on a stream surface.
type Loss struct {
	Profile   float64 `unit:"W" doc:"friction and wakes of smooth sections at the incidence of least loss"`
	Roughness float64 `unit:"W" doc:"what the rough surface adds"`
	Incidence float64 `unit:"W" doc:"what water that meets the edge at another angle adds"`
	Edges     float64 `unit:"W" doc:"what blunt edges add"`
	Gap       float64 `unit:"W" doc:"water over the blade tips"`
	Annulus   float64 `unit:"W" doc:"friction on hub and casing"`
	Secondary float64 `unit:"W" doc:"secondary flow in the passages"`
}

// Sum returns all of a row's loss, in the unit of its terms.
//
//	sum of profile, roughness, incidence, edges, gap, annulus and secondary
//
// Holds by definition.
//
// Source: own. Tests: TestHeadRoutesLaw.
func (l *Loss) Sum() float64 {
	return l.Profile + l.Roughness + l.Incidence + l.Edges + l.Gap + l.Annulus + l.Secondary
}

func (l *Loss) add(o *Loss, factor float64) {
	l.Profile += factor * o.Profile
	l.Roughness += factor * o.Roughness
	l.Incidence += factor * o.Incidence
	l.Edges += factor * o.Edges
	l.Gap += factor * o.Gap
	l.Annulus += factor * o.Annulus
	l.Secondary += factor * o.Secondary
}

// Element is a blade on one stream surface. Loss is in J/kg there.
type Element struct {
	InletRadius         float64 `unit:"mm" doc:"radius at the leading edge"`
	OutletRadius        float64 `unit:"mm" doc:"radius at the trailing edge"`
	Inlet               Triangle
	Outlet              Triangle
	Solidity            float64 `unit:"1" doc:"chord over spacing"`
	Incidence           float64 `unit:"deg" doc:"flow angle less blade angle at the leading edge, measured from the axis"`
	LeastIncidence      float64 `unit:"deg" doc:"incidence of least loss, Lieblein"`
	Deviation           float64 `unit:"deg" doc:"what the flow falls short of the blade at the trailing edge"`
	LiebleinDeviation   float64 `unit:"deg" doc:"deviation by Lieblein"`
	CarterDeviation     float64 `unit:"deg" doc:"deviation by Howell and Carter"`
	DiffusionFactor     float64 `unit:"1" doc:"diffusion factor"`
	EquivalentDiffusion float64 `unit:"1" doc:"largest velocity on the blade over that behind it"`
	Suction             float64 `unit:"1" doc:"largest velocity on the blade over that ahead of it"`
	Deceleration        float64 `unit:"1" doc:"relative velocity behind over that ahead"`
	Lift                float64 `unit:"1" doc:"lift coefficient on the mean velocity"`
	Reynolds            float64 `unit:"1" doc:"Reynolds number on chord and relative velocity ahead"`
	RoughnessRatio      float64 `unit:"1" doc:"sand roughness over what a blade may have to be as good as smooth"`
	Loss                Loss    `key:"-"`
	clean               float64 // suction at the incidence of least loss
	leaving             float64 // flow angle at the blade from the axis, before water over the tips mixes in, rad
}

// RowState is what a row does.
type RowState struct {
	Elements     [MaxRadii]Element `key:"-"`
	Loss         Loss
	Torque       float64 `unit:"N·m" doc:"torque of the row on the water"`
	StalledShare float64 `unit:"1" doc:"share of the flow on sections that have stalled"`
	GapFlow      float64 `unit:"kg/s" doc:"flow over the blade tips"`
	GapNarrow    float64 `unit:"W" doc:"loss by the tip gap if it were everywhere as narrow as at its narrowest"`
	GapWide      float64 `unit:"W" doc:"loss by the tip gap if it were everywhere as wide as at its widest"`
	Iterations   int     `key:"-"`
}

// State is what the blades do at a flow. Heads between stations 3 and 5.
type State struct {
	RotorSpeed      float64 `unit:"rpm" doc:"rotor speed"`
	Flow            float64 `unit:"m³/s" doc:"flow through the pump"`
	FlowCoefficient float64 `unit:"1" doc:"flow coefficient Q/(ΩD³)"`
	HeadCoefficient float64 `unit:"1" doc:"head coefficient gH/(ΩD)² of the useful head"`
	EulerHead       float64 `unit:"m" doc:"head that the torque on the water would give without loss"`
	TotalHead       float64 `unit:"m" doc:"rise of total pressure, flow-averaged, swirl included"`
	Head            float64 `unit:"m" doc:"useful head: without the swirl that is left and mixed out"`
	Torque          float64 `unit:"N·m" doc:"torque of the impeller on the water"`
	ShaftTorque     float64 `unit:"N·m" doc:"torque at the impeller shaft"`
	ShaftPower      float64 `unit:"W" doc:"power at the impeller shaft"`
	Efficiency      float64 `unit:"1" doc:"useful head times flow over shaft power"`
	TotalEfficiency float64 `unit:"1" doc:"rise of total pressure times flow over shaft power"`
	BladeEfficiency float64 `unit:"1" doc:"rise of total pressure over what the torque on the water would give"`
	Impeller        RowState
	Stator          RowState
	DiscFriction    float64 `unit:"W" doc:"friction on the hub's faces"`
	TipFriction     float64 `unit:"W" doc:"friction on the blade tips' faces in the gap"`
	Leakage         float64 `unit:"W" doc:"power of the flow that runs back through seals"`
	Mixing          float64 `unit:"W" doc:"loss as uneven meridional velocity behind the last row mixes out"`
	Swirl           Swirl
	Radii           int        `key:"-"`
	Stations        [4]Station `key:"-"` // impeller in and out, stator in and out; without stator the first two
	Last            int        `key:"-"` // index of the station behind the last row
	condition       Condition
	tip             float64 // radius, m
}

// weight is the share of the flow that surface j stands for.
func weight(j, n int) float64 {
	if j == 0 || j == n-1 {
		return 0.5 / float64(n-1)
	}
	return 1 / float64(n-1)
}
