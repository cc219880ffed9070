package strength

import "math"

// grooveFactors are those of deep-groove ball bearings of normal clearance: F_a/C0, e, Y (Shigley, table 11-1; as ISO 281, second-hand).
var grooveFactors = [...][3]float64{
	{0.014, 0.19, 2.30},
	{0.021, 0.21, 2.15},
	{0.028, 0.22, 1.99},
	{0.042, 0.24, 1.85},
	{0.056, 0.26, 1.71},
	{0.070, 0.27, 1.63},
	{0.084, 0.28, 1.55},
	{0.110, 0.30, 1.45},
	{0.17, 0.34, 1.31},
	{0.28, 0.38, 1.15},
	{0.42, 0.42, 1.04},
	{0.56, 0.44, 1.00},
}

const grooveRadial = 0.56

// BallLoad returns the equivalent load of a deep-groove ball bearing, in N.
//
//	P = max(F_r, 0.56·F_r + Y·F_a)
//
//	F_r, F_a  radial and axial load, N
//	Y         2.30 down to 1.00 as F_a/C0 goes from 0.014 to 0.56, straight between the rows of the table, -
//	C0        static load rating, N   [Shaft.FrontStatic]
//
// Holds for normal clearance; beyond the table's ends its last rows are used, as the standard does.
//
// Source: shigley-2008, table 11-1. Tests: TestBallLoadPublished, TestBallLoadLaw.
func BallLoad(radial, axial, static float64) float64 {
	if axial <= 0 {
		return radial
	}
	x := axial / static
	last := len(grooveFactors) - 1
	y := grooveFactors[last][2]
	for i := range grooveFactors {
		if x > grooveFactors[i][0] {
			continue
		}
		y = grooveFactors[i][2]
		if i > 0 {
			a, b := grooveFactors[i-1], grooveFactors[i]
			y = a[2] + (x-a[0])/(b[0]-a[0])*(b[2]-a[2])
		}
		break
	}
	return math.Max(radial, grooveRadial*radial+y*axial)
}

// ballExponent is that of ball bearings' life.
const ballExponent = 3

// BasicLife returns the life that nine ball bearings in ten reach, in s.
//
//	L_10 = (C/P)³·10⁶ revolutions,  L = L_10·2π/Ω
//
//	C  dynamic load rating, N    [Shaft.FrontRating], [Shaft.AftRating]
//	P  equivalent load, N
//	Ω  speed, rad/s
//
// Holds for clean grease and ISO 281's basic life; one drop of sea water in the grease ends it long before.
//
// Source: iso-281. Tests: TestBasicLifePublished.
func BasicLife(rating, load, speed float64) float64 {
	return math.Pow(rating/load, ballExponent) * 1e6 * 2 * math.Pi / speed
}

// Weibull's parameters of bearing life for 10⁶ revolutions at 90 %: least, scale less least, slope.
const weibullLeast, weibullScale, weibullSlope = 0.02, 4.439, 1.483

// NeededRating returns the dynamic load rating that a ball bearing needs, in N.
//
//	C = P·{x/[0.02 + 4.439·(ln 1/R)^(1/1.483)]}^(1/3)
//
//	P  equivalent load, N
//	x  life asked for over 10⁶ revolutions, -   [Shaft.BearingLife]
//	R  share of bearings that are to reach it, -
//
// Holds for the three-parameter distribution of bearing life with a rating for 10⁶ revolutions at 90 %.
//
// Source: shigley-2008, eq. 11-6. Tests: TestNeededRatingPublished.
func NeededRating(load, revolutions, reliability float64) float64 {
	x := revolutions / 1e6
	return load * math.Pow(x/(weibullLeast+weibullScale*math.Pow(math.Log(1/reliability), 1/weibullSlope)), 1.0/ballExponent)
}

// Reactions returns the loads of front and aft bearing under a force across the shaft at the impeller, in N, each as a size.
//
//	R_aft = F·(L + s·o)/L,  R_front = F·o/L
//
//	F  force at the impeller, N
//	L  distance between the bearings, m                    [Shaft.BearingSpan]
//	o  distance from the aft bearing to the impeller, m    [Shaft.Overhang]
//	s  1 where the impeller overhangs, −1 where the aft bearing stands behind it
//
// Holds for bearings that give way to a slope and no moment.
//
// Source: own. Tests: TestReactionsLaw.
func (s *Shaft) Reactions(force float64) (front, aft float64) {
	l, o := s.BearingSpan.Value, s.Overhang.Value
	if s.Support == "stator" {
		return math.Abs(force) * o / l, math.Abs(force) * math.Abs(l-o) / l
	}
	return math.Abs(force) * o / l, math.Abs(force) * (l + o) / l
}

// Bending returns the bending moments in N·m at the aft bearing and at the impeller's seat under a force across the shaft at the impeller.
//
//	M_aft = F·o,  M_seat = F·h/2            overhung
//	M_aft = 0,    M_seat = F·o·(L − o)/L    aft bearing behind the impeller
//
//	F  force at the impeller, N
//	o  distance from the aft bearing to the impeller, m   [Shaft.Overhang]
//	L  distance between the bearings, m                   [Shaft.BearingSpan]
//	h  length of the impeller, m
//
// Holds for a straight shaft; the overhung seat is taken at the impeller's front end, as if the force hung beyond it.
//
// Source: own. Tests: TestReactionsLaw.
func (s *Shaft) Bending(force, length float64) (aft, seat float64) {
	l, o := s.BearingSpan.Value, s.Overhang.Value
	if s.Support == "stator" {
		return 0, force * o * (l - o) / l
	}
	return force * o, force * math.Min(length/2, o)
}
