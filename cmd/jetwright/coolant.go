package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) coolantCommand() *cobra.Command {
	return c.shown(&cobra.Command{
		Use: "coolant [FOLDER]", Short: "the coolant's way: flow over power, when it fills, what is lost where, its cost, clogging", Args: cobra.MaximumNArgs(1),
		Long: "coolant follows the coolant from tap to outlet, or round its closed loop, by the jet's own pressures: flow, velocity\n" +
			"and heat transfer over power, the least power that fills it for the first time, what every part loses, what it costs\n" +
			"in thrust and watts, what clogging of the narrowest place does to winding and bridge, and what the water in it\n" +
			"conducts. The parts are typed as [[coolant]] in drive.toml; without them [cooling] alone answers.",
		Example: "  jetwright coolant sled\n  jetwright coolant sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.CoolantIn(folder(args), o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine() {
				c.code = exitStrict
			}
			return c.print(a)
		},
	})
}
