package blade

// Reason says why blades have no state at a flow. The list is closed.
type Reason int8

// Reasons.
const (
	Solved       Reason = iota
	HubBackflow         // no meridional velocity is left at the hub
	TipBackflow         // no meridional velocity is left at the tip
	Stalled             // the flow leaves the blades
	NoHead              // the blades give a tenth of their design head or less
	NotConverged        // iterations used up
	NoRow               // a row or a channel that cannot be worked out
	reasons
)

// Error words the reason.
func (r Reason) Error() string {
	switch r {
	case Solved:
		return "solved"
	case HubBackflow:
		return "the water runs back at the hub"
	case TipBackflow:
		return "the water runs back at the casing"
	case Stalled:
		return "the water leaves the blades: they turn more than their solidity carries"
	case NoHead:
		return "the head has fallen to a tenth of that at the design flow"
	case NotConverged:
		return "the velocities behind the blades did not settle"
	case NoRow:
		return "a blade row or the channel is not complete"
	}
	return "unknown reason"
}
