package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

func (c *command) rideCommand() *cobra.Command {
	var f desk.RideFlags
	var legs, picture string
	cmd := c.shown(&cobra.Command{
		Use: "ride [FOLDER]", Short: "on the water: over the hump or not, how fast, how far, how long", Args: cobra.MaximumNArgs(1),
		Long: "ride puts the craft of [craft] on the water: drag from rest over the hump to planing against the drive's thrust, whether it\n" +
			"gets onto the plane with what margin and which rider, time and way to plane, speed at a power, range at a speed, the climb as the\n" +
			"battery empties, and a ride leg by leg with battery, heat and cavitation until something ends it. Every method's range is shown,\n" +
			"and outside of it drag has two digits and a wider band. Towed pulls (tow_speeds, tow_pulls) move the curve or replace it.",
		Example: "  jetwright ride board\n  jetwright ride board --power \"9 kW\" --svg ride.svg\n  jetwright ride board --legs \"to the plane, 2 km at 7 m/s, 2 km back at 7 m/s, to the end at 6 m/s\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			if c.json && picture != "" {
				return notice.List{{Kind: notice.Error, What: "--svg writes a picture and --json figures; give one of them"}}
			}
			o, err := c.options()
			if err != nil {
				return err
			}
			if f.Legs = list(legs); cmd.Flags().Changed("legs") && len(f.Legs) == 0 {
				return notice.List{{Kind: notice.Error, What: "--legs is empty", WayOut: `write --legs "to the plane, 2 km at 7 m/s"`}}
			}
			manyStates()
			a, err := desk.RideIn(folder(args), f, o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine() {
				c.code = exitStrict
			}
			if picture != "" {
				return c.write(picture, []byte(report.RideSVG(a, c.style())), "thrust against drag")
			}
			return c.print(a)
		},
	})
	cmd.Flags().StringVar(&legs, "legs", "", "a ride in place of craft.ride, such as \"to the plane, 2 km at 7 m/s, 1 min rest\"")
	cmd.Flags().StringVar(&f.Power, "power", "", "full power, such as \"9 kW\" or \"7 kW shaft\" (the duty's if left out)")
	cmd.Flags().StringVar(&picture, "svg", "", "write the chart to a file, or - for standard output")
	return cmd
}
