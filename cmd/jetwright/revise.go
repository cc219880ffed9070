package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) reviseCommand() *cobra.Command {
	var note, as string
	var again bool
	cmd := &cobra.Command{
		Use: "revise [FOLDER]", Short: "freeze the design as a revision, with a note", Args: cobra.MaximumNArgs(1),
		Long: "revise copies drive.toml, [built] and all, to revisions/NNN.toml with a note and the day, and says what changed\n" +
			"against the one before. A revision is never written over. Runs name theirs as revision = \"NNN\" in run.toml.",
		Example: "  jetwright revise sled -m \"sharper leading edges\"\n  jetwright revise sled -m \"as it ran in May\" --as 003",
		RunE: func(_ *cobra.Command, args []string) error {
			a, err := desk.ReviseIn(folder(args), note, as, again)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	}
	cmd.Flags().StringVarP(&note, "message", "m", "", "what the revision is about")
	cmd.Flags().StringVar(&as, "as", "", "its number, for a revision that runs name already (the next one if left out)")
	cmd.Flags().BoolVar(&again, "again", false, "freeze it though nothing differs from the one before")
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON")
	return cmd
}

func (c *command) revisionsCommand() *cobra.Command {
	cmd := c.shown(&cobra.Command{
		Use: "revisions [FOLDER]", Short: "what each revision changed, what was predicted of it and what was measured", Args: cobra.MaximumNArgs(1),
		Long: "revisions lists the frozen revisions with what was drawn and what was built differently, the state at the duty as\n" +
			"designed, and what was measured against the measured revision before: whether the difference is larger than the\n" +
			"bench can resolve, and how many repeats would settle it.",
		Example: "  jetwright revisions sled\n  jetwright revisions sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.RevisionsIn(folder(args), o)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	})
	_ = cmd.Flags().MarkHidden("strict") // limits are judged by limits
	return cmd
}
