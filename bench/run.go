package bench

import (
	"jetwright/notice"
	"jetwright/quantity"
)

// Source is a log with what was typed about its clock and its instruments.
type Source struct {
	Log          *Log
	Place        quantity.Place        // of its [[log]]
	Instruments  map[Channel]string    // by the names of the table; the usual one where none is typed
	Tolerances   map[Channel]Tolerance // typed; they go before the table
	Supply       string                // of its sensors, by a name; logs of one supply share its error
	PowerPlace   string                // battery, controller, shaft; empty if it does not say
	Convention   string                // of the phase current: rms, peak, dc
	Offset       quantity.Optional     // of its clock against the first log's, s
	Drift        quantity.Optional     // -
	Lag          quantity.Optional     // of a slow instrument, s
	Corrections  Corrections           // of its pull
	Calibrations map[Channel]Points    // of its other channels
	OffsetPlace  quantity.Place        // where it was typed; may be left out
	Trusted      map[Channel]bool      // channels that are used although they are in doubt, as the builder says
}

// Tolerance is a tolerance typed for a whole channel: a share of the reading and a part that is
// always there, as half-width of limits.
type Tolerance struct {
	Relative, Absolute float64
	Text               string
}

// Span is a stretch of the run's time, s.
type Span struct{ From, To float64 }

// Length returns the length of a span, s.
func (s Span) Length() float64 { return s.To - s.From }

// Overlaps tells whether two spans share any time.
func (s Span) Overlaps(o Span) bool { return s.From < o.To && o.From < s.To }

// Track is a channel of one log on the run's clock, as means over blocks of time. Values are SI
// and NaN where the log holds nothing; the pull stands as it was shown, tare and all.
type Track struct {
	Channel Channel
	Source  string  // file
	Begin   float64 // start of the first block, s
	Step    float64 // s
	Values  []float64
	Digit   float64 // smallest step that the instrument shows, SI; 0 if none is seen
	Supply  string  // what feeds its sensor and holds its reference, as typed; empty if it was not
}

// OwnClock is what the clock of the main log is set by.
const OwnClock = "the run's own clock"

// Kinds of doubt.
const (
	Frozen      = "frozen"
	Clipped     = "clipped"
	Spiking     = "spiking"
	Disagreeing = "disagreeing"
	Drifting    = "drifting"
)

// Doubt is a channel that does not tell the truth over a stretch of time.
type Doubt struct {
	Channel  Channel
	Source   string // file
	Kind     string // Frozen, Clipped, Spiking, Disagreeing, Drifting
	Span     Span
	Evidence string // a sentence with the figures
	Drops    bool   // figures of the channel within the span are not used
	Trusted  bool   // the builder has said that the channel is used all the same
}

// SourceClock is the clock of one log of a run.
type SourceClock struct {
	Source string // file
	Left   bool   // the log was left out, since its clock cannot be found
	LogClock
}

// Zero is a stretch in which nothing pulled.
type Zero struct {
	Span
	Pull  float64 // what the scale showed, N
	U     float64 // standard uncertainty, N
	Typed bool    // typed in run.toml, not found
}

// Tare is what the scale shows without pull, a straight line in the run's time, beside what a changing
// water level does.
type Tare struct {
	Known   bool
	Start   float64 // at the begin of the run, N
	UStart  float64
	Drift   float64 // N/s
	UDrift  float64
	Windows int // zero windows it rests on
}

// Friction is what the carriage holds back, from the same power reached going up and going down.
type Friction struct {
	Known bool
	Force float64 // N; the pull shown is less by it going up and more going down
	U     float64 // standard uncertainty, N
	Steps int     // downward steps it rests on
	// What grows with the pull, where the steps tell it from what does not.
	Share, UShare float64 // of the pull, and its standard uncertainty; 0 if the steps do not tell it
	middle, uHere float64 // pull at which it is known apart from Share, N, and its standard uncertainty there, N
}

// WithoutTare returns a pull with the tare taken off, N; as it was shown where no tare is known.
//
//	T = F − (F₀ + ḟ·t + k·h(t))
//
//	F   what the scale showed, N
//	F₀  what it shows without pull at the begin of the run, N
//	ḟ   drift of that, N/s
//	t   time of the middle of a block, s
//	k   pull for a rise of the water, N/m;  h  rise of the water, m; none where no level is typed
//
// Source: own. Tests: TestWithoutTareExact.
func (r *Reduction) WithoutTare(t Track) []float64 {
	out := make([]float64, len(t.Values))
	for i, x := range t.Values {
		out[i] = x
		if r.Tare.Known {
			at := t.Begin + (float64(i)+0.5)*t.Step
			out[i] -= r.Tare.Start + r.Tare.Drift*at + r.Level.Pull*r.Level.Rise(at)
		}
	}
	return out
}

// Reduction is what the logs of a run say.
type Reduction struct {
	Run      string
	Duration float64 // of the first log, s
	Clocks   []SourceClock
	Zeros    []Zero
	Tare     Tare
	Friction Friction
	Level    Level
	Motion   Motion
	Repeats  Repeats
	Plateaus []Plateau // in order of time, unsettled ones among them
	Doubts   []Doubt
	Tracks   []Track
	Block    float64 // s
	Notices  notice.List
}
