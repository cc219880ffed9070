package reckon

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/explore"
)

// version is an earlier drive whose runs are evidence as well, with the coordinates that it has for itself.
type version struct {
	*design.Version
	first                 int // of its own coordinates
	head, power, constant int // coordinates of its own share of what the model has beside its ranges; −1 where the part is the same
}

// addVersions gives every earlier drive among the evidence its own coordinates.
func (m *model) addVersions(add func(string) int) {
	m.versionOf = make([]*version, len(m.evidence))
	known := map[*design.Version]*version{}
	for e, ev := range m.evidence {
		if ev.Version == nil {
			continue
		}
		v := known[ev.Version]
		if v == nil {
			v = &version{Version: ev.Version, first: len(m.coords), head: -1, power: -1, constant: -1}
			known[ev.Version] = v
			own := func(name string) int {
				j := add(name + " of " + ev.Earlier)
				m.coords[j].earlier = true
				return j
			}
			for _, path := range v.Own {
				own(path)
			}
			if v.Parts["impeller"] || v.Parts["stator"] {
				v.head, v.power = own("pump head, beside its range,"), own("pump power, beside its range,")
			}
			if v.Parts["motor"] && m.current {
				v.constant = own("motor torque constant, beside its range,")
			}
		}
		m.versionOf[e] = v
	}
}

// machine works out the drive of a run at a point, from that of the design at it, into a machine that nothing else uses.
func (m *model) machine(e int, now *drive.Drive, y []float64, into *drive.Machine) (*drive.Machine, error) {
	if adjust := m.evidence[e].Adjust; adjust != nil {
		own := *now
		adjust(&own)
		now = &own
	}
	err := now.ResolveInto(into)
	if v := m.versionOf[e]; v != nil && err == nil {
		return v.machine(m, into, y)
	}
	return into, err
}

// machine works out the earlier drive beside the later one. A pump whose curve is estimated is the later one's, moved by what of it
// was different; one that was typed is its own.
func (v *version) machine(m *model, now *drive.Machine, y []float64) (*drive.Machine, error) {
	scaled := make([]float64, m.nInputs+len(v.Own))
	for j := range scaled[:m.nInputs] {
		scaled[j] = m.scale * y[j]
	}
	own := scaled[m.nInputs:]
	for k := range own {
		own[k] = m.scale * y[v.first+k]
	}
	beside := func(prior float64, shared, own int) float64 {
		if own < 0 {
			return 0
		}
		return prior * m.scale * (design.Kept(y[shared], y[own]) - y[shared])
	}
	k := m.nInputs
	return earlier(v.Version, now, scaled[:m.nInputs], own, drive.Calibration{
		LnHead: beside(priorLnHead, k, v.head), LnPower: beside(priorLnPower, k+1, v.power), LnTorqueConstant: beside(priorLnTorqueConstant, k+2, v.constant),
	})
}

// earlier is the machine of an earlier drive, its pump and motor moved further than those of the later one.
func earlier(v *design.Version, now *drive.Machine, shared, own []float64, moved drive.Calibration) (*drive.Machine, error) {
	d := v.Draw(&now.Drive, shared, own)
	d.Calibration.LnTorqueConstant += moved.LnTorqueConstant
	pump := v.Parts["impeller"] || v.Parts["stator"]
	if pump && (d.Impeller.Grade != "estimated" || now.Drive.Impeller.Grade != "estimated") {
		d.Calibration.LnHead += moved.LnHead
		d.Calibration.LnPower += moved.LnPower
		return d.Resolve()
	}
	d.Impeller.HeadCoefficient *= math.Exp(moved.LnHead)
	d.Impeller.Efficiency *= math.Exp(-moved.LnPower)
	return now.Changed(func(x *drive.Drive) { *x = d })
}

// SampleOf is Sample for the drive and the set-up of a run: the i-th of the evidence that was calibrated on.
func (f *Fit) SampleOf(i int, prior *explore.Sample) (*explore.Sample, error) {
	m := f.model
	if ev := m.evidence[i]; ev.Version == nil && ev.Adjust == nil {
		return f.Sample(prior), nil
	}
	out := &explore.Sample{Design: prior.Design, Machines: make([]*drive.Machine, len(f.points)), Failed: map[string]int{}}
	work := func(y []float64) (*drive.Machine, error) {
		d := m.drive(y)
		machine, err := m.machine(i, &d, y, new(drive.Machine))
		if err != nil {
			return nil, err
		}
		return machine, nil
	}
	var err error
	if out.Nominal, err = work(f.best); err != nil {
		return nil, err
	}
	explore.Parallel(len(f.points), func(k int) { out.Machines[k], _ = work(f.points[k]) })
	return out, nil
}

// Before is the sample of a run's drive and set-up before any reading.
func (e Evidence) Before(prior *explore.Sample, seed uint64) (*explore.Sample, error) {
	s := prior
	if e.Adjust != nil {
		var err error
		if s, err = prior.Adjusted(e.Adjust); err != nil {
			return nil, err
		}
	}
	if e.Version == nil {
		return s, nil
	}
	inputs := len(prior.Design.Uncertain())
	out := &explore.Sample{Design: prior.Design, Machines: make([]*drive.Machine, len(s.Machines)), Failed: map[string]int{}}
	var err error
	if out.Nominal, err = earlier(e.Version, s.Nominal, make([]float64, inputs), make([]float64, len(e.Version.Own)), drive.Calibration{}); err != nil {
		return nil, err
	}
	own := explore.Normal(max(len(s.Machines), 1), max(len(e.Version.Own), 1), seed+79)
	explore.Parallel(len(s.Machines), func(k int) {
		if s.Machines[k] == nil {
			return
		}
		shared := make([]float64, inputs)
		for j := range shared {
			shared[j] = distuv.UnitNormal.Quantile(prior.U[k][j])
		}
		out.Machines[k], _ = earlier(e.Version, s.Machines[k], shared, own[k], drive.Calibration{})
	})
	return out, nil
}

// Machine is the drive of a run as it is typed, and m where it is the design's.
func (e Evidence) Machine(m *drive.Machine) *drive.Machine {
	if e.Version == nil {
		return m
	}
	d := e.Version.Was.Nominal()
	d.Stand, d.Water, d.Duty = m.Drive.Stand, m.Drive.Water, m.Drive.Duty
	if was, err := m.Changed(func(x *drive.Drive) { *x = d }); err == nil {
		return was
	}
	return m
}
