package drive

import "jetwright/physics/heat"

// What fits exponentials to a temperature, as the thermal side has it.
type (
	Trace        = heat.Trace
	Shape        = heat.Shape
	ResponseTerm = heat.Term
	Response     = heat.Response
)

// FitResponse fits exponentials to a trace; see heat.FitResponse.
func FitResponse(t Trace, s Shape) (*Response, error) { return heat.FitResponse(t, s) }
