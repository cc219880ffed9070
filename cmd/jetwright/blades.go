package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

func (c *command) bladesCommand() *cobra.Command {
	var designed, write bool
	var vortex, rotor, diffusion, thickness, svg string
	const bladesPicture = "triangles, sections, loading and angles of the blades, and their curve with its losses,"
	show := func(a *desk.BladesAnswer) error {
		if svg == "" {
			return c.print(a)
		}
		holds := "triangles, sections, loading and angles of the blades"
		if a.Designed == nil {
			holds += ", and their curve with its losses"
		}
		return c.picture(svg, report.BladesSVG(a, c.style()), holds)
	}
	cmd := c.shown(&cobra.Command{
		Use: "blades [FOLDER]", Short: "the pump from its blade rows, section by section; --design finds the sections for the duty", Args: cobra.MaximumNArgs(1),
		Long: "the pump worked out from the blade rows typed under [impeller] and [stator]: angles, loading, losses, swirl, cavitation and\n" +
			"curve at the design point; with --design the sections that the duty asks for, to be typed there",
		Example: "  jetwright blades sled\n  jetwright blades sled --design\n  jetwright blades sled --svg blades.svg\n  jetwright blades sled --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			for _, flag := range []string{"vortex", "rotor-speed", "diffusion", "thickness", "write"} {
				if cmd.Flags().Changed(flag) && !designed {
					return notice.List{{Kind: notice.Error, What: "--" + flag + " belongs to --design", WayOut: "type --design as well"}}
				}
			}
			if designed {
				asked, err := desk.AskBlades(vortex, rotor, diffusion, thickness)
				if err != nil {
					return err
				}
				if write {
					a, err := desk.WriteBladesIn(folder(args), asked)
					if err != nil {
						return err
					}
					return c.print(a)
				}
				a, err := desk.BladesDesignedIn(folder(args), asked)
				if err != nil {
					return err
				}
				return show(a)
			}
			a, err := desk.BladesIn(folder(args), o)
			if err != nil {
				return err
			}
			return show(a)
		},
	})
	c.pictureFlag(cmd, &svg, bladesPicture)
	cmd.Flags().BoolVar(&designed, "design", false, "find the sections for the duty")
	cmd.Flags().StringVar(&vortex, "vortex", "", "with --design: share of the swirl that turns as a solid body, 0 to 1 (0.2 if left out)")
	cmd.Flags().BoolVar(&write, "write", false, "with --design: type the sections into drive.toml, all or none, with everything around them as it was")
	cmd.Flags().StringVar(&diffusion, "diffusion", "", "with --design: largest diffusion factor of sections (0.45 on the impeller and 0.5 on the stator if left out)")
	cmd.Flags().StringVar(&thickness, "thickness", "", "with --design: thickness that no section goes below (twice process.minimum_wall if left out)")
	cmd.Flags().StringVar(&rotor, "rotor-speed", "", "with --design: at this rotor speed, in place of the design point's")
	_ = cmd.Flags().MarkHidden("strict") // limits are judged by limits
	return cmd
}
