package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) batteryCommand() *cobra.Command {
	return c.shown(&cobra.Command{
		Use: "battery [FOLDER]", Short: "the battery cold and warm, full and low, what it gives, and its wiring", Args: cobra.MaximumNArgs(1),
		Long: "battery holds the pack against the power that the design point takes: how far it sags with its cells at 0 to 40 °C\n" +
			"and over its charge, the energy that is usable at a power and what ends it, how the voltage comes back after a load,\n" +
			"and what stands between it and the controller: cable, fuse, connectors, pre-charge, inrush, capacitors. What of that\n" +
			"is not typed in drive.toml is said and not assumed. With --strict the exit code is 1 if a limit is broken or not judged.",
		Example: "  jetwright battery sled\n  jetwright battery sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.BatteryIn(folder(args), o)
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
