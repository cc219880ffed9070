package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) strengthCommand() *cobra.Command {
	return c.shown(&cobra.Command{
		Use: "strength [FOLDER]", Short: "shaft, bearings, blades and casing: loads, stresses, frequencies, and what they stand", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright strength sled\n  jetwright strength sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.StrengthIn(folder(args), o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine {
				c.code = exitStrict
			}
			return c.print(a)
		},
	})
}
