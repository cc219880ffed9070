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
		What:    fmt.Sprintf("from %.4g min on, in step %d of %d (%s), the battery's voltage does not reach for what is asked: the drive would give less than is shown from there", n.Short.Time/60, n.Short.Leg+1, len(steps), leg.Text),
		Allowed: "the controller gives a share of the battery's voltage (controller.modulation_limit), and the battery sags as it empties",
		WayOut:  "less power, more cells in series, a higher motor.speed_constant, or controller.weakening_current where the controller weakens the field",
	}
	return notice.List{placed(p, out, "motor.speed_constant")}
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
		What:    fmt.Sprintf("the battery is %s after %.4g min, in step %d of %d (%s): the duty lasts %.4g min", what, end.Time/60, end.Leg+1, len(steps), leg.Text, total/60),
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
