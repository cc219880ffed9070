package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/report"
)

func (c *command) rankCommand() *cobra.Command {
	var aim, svg string
	cmd := c.shown(&cobra.Command{
		Use: "rank [FOLDER]", Short: "changes by what they bring, how sure that is, and the limit that they bring nearer", Args: cobra.MaximumNArgs(1),
		Long: "rank makes one practical change after another to the drive that the readings leave, or to the design without\n" +
			"readings, and says what each brings to an aim: thrust at rest or at a speed from the battery power that the design\n" +
			"point takes now, run time or the coolest winding at the thrust that it makes now; with a craft, speed from rest, margin over\n" +
			"the hump, time to plane or range. The pump stays the one that there\n" +
			"is. Two changes that bring more together than one by one are named below.",
		Example: "  jetwright rank sled\n  jetwright rank sled --aim \"thrust-at 4 m/s\"\n  jetwright rank sled --aim run-time --json\n  jetwright rank sled --aim winding --svg changes.svg\n  jetwright rank board --aim hump",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			manyStates()
			a, err := desk.RankIn(folder(args), aim, o)
			if err != nil {
				return err
			}
			if svg != "" {
				return c.picture(svg, report.RankSVG("changes", a.Ranking, c.style()), rankPicture)
			}
			return c.print(a)
		},
	})
	cmd.Flags().StringVar(&aim, "aim", "", desk.AimWords+" (thrust at the duty's speed if left out)")
	c.pictureFlag(cmd, &svg, rankPicture)
	_ = cmd.Flags().MarkHidden("strict") // limits are judged by limits
	return cmd
}

const rankPicture = "changes by what they bring, with their intervals"
