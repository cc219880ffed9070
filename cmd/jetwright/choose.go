package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) chooseCommand() *cobra.Command {
	var held string
	cmd := c.shown(&cobra.Command{
		Use: "choose [FOLDER] PARTS.toml", Short: "which motor, controller and battery fit the duty, and what limits first", Args: cobra.RangeArgs(1, 2),
		Long: "choose holds every set of the motors, controllers and batteries in a file against the design's duty and\n" +
			"ranks them. The file has [[motor]], [[controller]] and [[battery]], each with a name and the keys of that\n" +
			"section of drive.toml; for a kind that it leaves out the design's own stands. The file is looked for by its\n" +
			"path, then in the folder. With --strict the exit code is 1 if no set fits.",
		Example: "  jetwright choose sled parts.toml\n  jetwright choose sled parts.toml --held \"15 min\" --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.ChooseIn(folder(args[:len(args)-1]), args[len(args)-1], held, o)
			if err != nil {
				return err
			}
			if c.strict && a.Sets[0].Fit > desk.FitsNear {
				c.code = exitStrict
			}
			return c.print(a)
		},
	})
	cmd.Flags().StringVar(&held, "held", "", "how long the duty is held, with its unit, for the battery's energy")
	return cmd
}
