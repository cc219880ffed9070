package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/report"
)

func (c *command) motorCommand() *cobra.Command {
	var svg string
	cmd := c.shown(&cobra.Command{
		Use: "motor [FOLDER]", Short: "motor and controller: constants, losses, efficiency over speed and torque", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright motor sled\n  jetwright motor sled --svg map.svg\n  jetwright motor sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.MotorIn(folder(args), o)
			if err != nil {
				return err
			}
			if svg != "" {
				return c.picture(svg, report.MotorSVG(a, c.style()), motorPicture)
			}
			return c.print(a)
		},
	})
	c.pictureFlag(cmd, &svg, motorPicture)
	_ = cmd.Flags().MarkHidden("strict") // limits are judged by limits
	return cmd
}

const motorPicture = "the efficiency map with the jet's running line and the limits"
