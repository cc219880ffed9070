package desk

import (
	"fmt"

	"jetwright/drive"
	"jetwright/notice"
	"jetwright/project"
	"jetwright/quantity"
)

// shortOf tells, with its place, from when on the voltage does not reach for what the duty asks.
func shortOf(p *project.Project, steps []drive.Leg, n *drive.Marched) notice.List {
	if !n.Short.Ever || n.Short.Leg >= len(steps) {
		return nil
	}
	leg := steps[n.Short.Leg]
	out := notice.Notice{
		Kind: notice.Warning, Path: "motor.speed_constant", Place: leg.At,
		What:    fmt.Sprintf("from %s on, in step %d of %d (%s), the battery's voltage does not reach for what is asked: the drive would give less than is shown from there", minutes(n.Short.Time), n.Short.Leg+1, len(steps), leg.Text),
		Allowed: "the controller gives a share of the battery's voltage (controller.modulation_limit), and the battery sags as it empties",
		WayOut:  "less power, more cells in series, a higher motor.speed_constant, or controller.weakening_current where the controller weakens the field",
	}
	return notice.List{placed(p, out, "motor.speed_constant")}
}

// fuseWarns is the share of a fuse's melting time from which on it is told.
const fuseWarns = 0.25

// fused tells, with its place, that the duty melts the battery's fuse, or comes near to it.
func fused(p *project.Project, steps []drive.Leg, n *drive.Marched) notice.List {
	f := n.Fuse
	if f.Share < fuseWarns {
		return nil
	}
	out := notice.Notice{
		Kind: notice.Warning, Path: "battery.fuse_rating",
		What:    fmt.Sprintf("the duty uses %.0f %% of the fuse's melting time: up to %.3g A for %.3g s beyond where its curve begins", 100*f.Share, f.Most, f.Over),
		Allowed: "a fuse ages with every overload, and cools in no pause as it is reckoned here",
		WayOut:  "less power, more cells in series, or a larger fuse if the cable carries it",
	}
	if f.Melts.Ever {
		out.What = fmt.Sprintf("by its curve the fuse melts after %s, at %.3g A", minutes(f.Melts.Time), f.Current)
		if f.Melts.Leg < len(steps) {
			out.What += fmt.Sprintf(", in step %d of %d (%s)", f.Melts.Leg+1, len(steps), steps[f.Melts.Leg].Text)
		}
	}
	return notice.List{placed(p, out, "battery.fuse_rating")}
}

// placed puts a notice at the step that it is about, or where a key was typed.
func placed(p *project.Project, n notice.Notice, path string) notice.Notice {
	if n.Place == (quantity.Place{}) {
		if at, ok := p.Design.TypedAt(path); ok {
			n.Place = at
		}
	}
	if n.Place.Line > 0 {
		n.Excerpt = p.Design.Document().Line(n.Place.Line)
	}
	return n
}

// emptied tells, with its place, that the battery does not last for the duty, and what would.
func emptied(p *project.Project, d *drive.Drive, steps []drive.Leg, end drive.Ending) notice.List {
	if end.Kind != drive.AtCutOff && end.Kind != drive.Empty || end.Leg >= len(steps) {
		return nil
	}
	total := 0.0
	for _, l := range steps {
		total += l.Seconds
	}
	leg := steps[end.Leg]
	what := "empty"
	if end.Kind == drive.AtCutOff {
		what = fmt.Sprintf("at its cut-off, with %.3g %% charge left", 100*end.Charge)
	}
	n := notice.Notice{
		Kind: notice.Warning, Path: "battery.parallel", Place: leg.At,
		What:    fmt.Sprintf("the battery is %s after %s, in step %d of %d (%s): the duty lasts %s", what, minutes(end.Time), end.Leg+1, len(steps), leg.Text, minutes(total)),
		Allowed: "it begins at " + fmt.Sprintf("%.3g %% charge and %.3g °C", 100*d.Battery.Charge, d.Battery.Temperature-zeroCelsius),
	}
	n = placed(p, n, "battery.parallel")
	n.WayOut = "less power, shorter steps, or a fuller and warmer battery"
	if more, err := d.LeastParallel(drive.March{Legs: steps}); err == nil && more > 0 {
		n.WayOut += fmt.Sprintf("; with battery.parallel = %d it lasts, at nominal values", more)
	} else if err == nil {
		n.WayOut += "; four times battery.parallel would not do"
	}
	return notice.List{n}
}

// minutes words a time.
func minutes(seconds float64) string {
	if seconds < 90 {
		return fmt.Sprintf("%.3g s", seconds)
	}
	return fmt.Sprintf("%.4g min", seconds/60)
}
