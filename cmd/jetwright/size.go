package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) sizeCommand() *cobra.Command {
	var f desk.SizeFlags
	cmd := c.shown(&cobra.Command{
		Use: "size [FOLDER]", Short: "proposals for a drive from what it must do, each written as a drive of its own", Args: cobra.MaximumNArgs(1),
		Long: "size draws drives that give a thrust at rest and a thrust under way within a voltage and a diameter, and\n" +
			"proposes three or four of which none is better than another in thrust at rest, thrust under way and what is\n" +
			"left to the winding, 15 % or more apart in diameter, rotor speed or loading. With a FOLDER, which must not be\n" +
			"there yet or be empty, each is written to a folder in it as a drive.toml. Where the duty cannot be met it says\n" +
			"what is in the way and what would be enough; with --strict the exit code is then 1.",
		Example: "  jetwright size sled --thrust \"420 N\" --under-way \"250 N at 8 m/s\" --voltage \"50 V\" --diameter \"120 mm\"\n" +
			"  jetwright size --thrust \"90 lbf\" --under-way \"50 lbf at 16 mph\" --voltage \"50 V\" --diameter \"4.7 in\" --units inch",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			to := ""
			if len(args) > 0 {
				to = args[0]
			}
			a, err := desk.Size(to, f, o)
			if err != nil {
				return err
			}
			if c.strict && !a.Meets() {
				c.code = exitStrict
			}
			return c.print(a)
		},
	})
	g := cmd.Flags()
	g.StringVar(&f.Thrust, "thrust", "", "gross thrust at rest, with its unit")
	g.StringVar(&f.UnderWay, "under-way", "", "gross thrust under way and the craft speed: \"250 N at 8 m/s\"")
	g.StringVar(&f.Voltage, "voltage", "", "battery voltage, half full; the nearest number of cells is taken")
	g.StringVar(&f.Diameter, "diameter", "", "largest outside diameter of the pump that fits")
	g.StringVar(&f.Wall, "wall", "", "duct wall and tip gap together, on each side (5 mm)")
	g.StringVar(&f.BatteryPower, "battery-power", "", "power at the battery, at most")
	g.StringVar(&f.BatteryCurrent, "battery-current", "", "battery current, at most")
	g.StringVar(&f.PhaseCurrent, "phase-current", "", "phase current, peak, at most")
	g.StringVar(&f.MotorSpeed, "motor-speed", "", "motor speed, at most")
	g.StringVar(&f.MotorMass, "motor-mass", "", "mass of the motor (0.5 kg for each kW at the battery)")
	g.StringVar(&f.Water, "water", "", "fresh or sea (fresh)")
	g.StringVar(&f.With, "with", "", "file with keys of drive.toml that stand as typed there: water, shaft, cells, cooling …")
	return cmd
}
