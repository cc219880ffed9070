package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

func (c *command) heatCommand() *cobra.Command {
	var f desk.HeatFlags
	var duty, whatIf, picture string
	cmd := c.shown(&cobra.Command{
		Use: "heat [FOLDER]", Short: "temperatures now, steady, over time, and what if the water stops", Args: cobra.MaximumNArgs(1),
		Long: "heat follows winding, magnets, housing, bearings, transistors, capacitors, cells and coolant over a duty: that of\n" +
			"duty.steps in drive.toml, of --duty, or the power that a run measured. It says when each limit is reached, what the\n" +
			"duty settles at, how heat soaks back after the stop, and what happens in warm water, with the coolant clogged or\n" +
			"blocked, weed at the jet's own intake, a hose off, a pump that runs dry, a sensor that stands still, a throttle that\n" +
			"is held. Every verdict holds for the water and the time that it names, and no longer. Where runs show temperatures\n" +
			"they are held against the network, plateau by plateau, and what they tell of it is used from there on.",
		Example: "  jetwright heat sled\n  jetwright heat sled --duty \"60 s at 3 kW, 30 s at 4 kW shaft, 5 min rest\"\n  jetwright heat sled --run 2026-05-16-logs --water 25\n  jetwright heat sled --what-if \"coolant blocked\" --svg heat.svg",
		RunE: func(cmd *cobra.Command, args []string) error {
			if c.json && picture != "" {
				return notice.List{{Kind: notice.Error, What: "--svg writes a picture and --json figures; give one of them"}}
			}
			o, err := c.options()
			if err != nil {
				return err
			}
			f.Duty, f.WhatIf = list(duty), list(whatIf)
			if cmd.Flags().Changed("duty") && len(f.Duty) == 0 {
				return notice.List{{Kind: notice.Error, What: "--duty is empty", WayOut: `write --duty "60 s at 3 kW, 5 min rest"`}}
			}
			manyStates()
			a, err := desk.HeatIn(folder(args), f, o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine() {
				c.code = exitStrict
			}
			if picture != "" {
				return c.write(picture, []byte(report.HeatSVG(a, c.style())), fmt.Sprintf("the temperatures of %s", counted(len(a.Steps), "step")))
			}
			return c.print(a)
		},
	})
	cmd.Flags().StringVar(&duty, "duty", "", "steps in place of duty.steps, such as \"60 s at 3 kW, 5 min rest\"")
	cmd.Flags().StringVar(&f.Run, "run", "", "take the power that a run measured as the duty")
	cmd.Flags().StringVar(&f.Water, "water", "", "water of the what-ifs, such as 25 (25 °C if left out, or the design's if that is warmer)")
	cmd.Flags().StringVar(&whatIf, "what-if", "", "these alone, by name; none for none")
	cmd.Flags().BoolVar(&f.AsDesigned, "as-designed", false, "leave out what the runs teach of the network of heat")
	cmd.Flags().StringVar(&picture, "svg", "", "write the chart to a file, or - for standard output")
	return cmd
}
