package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) tonightCommand() *cobra.Command {
	cmd := c.shown(&cobra.Command{
		Use: "tonight [FOLDER]", Short: "the three next acts, by what they teach or bring for an hour's work", Args: cobra.MaximumNArgs(1),
		Long: "tonight looks at what is broken or blind, at limits that nobody judges, at the next step, open claims, changes and what\n" +
			"dominates the doubt, and names the three next acts on the bench, in the workshop or at the desk. What is unsafe or\n" +
			"holds everything up goes first; the rest goes by what it teaches or brings for an hour. The hours are stated\n" +
			"assumptions. It is arithmetic on what was typed and read, no permission.",
		Example: "  jetwright tonight sled\n  jetwright tonight sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			manyStates()
			a, err := desk.TonightIn(folder(args), o)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	})
	_ = cmd.Flags().MarkHidden("strict") // limits are judged by limits
	return cmd
}
