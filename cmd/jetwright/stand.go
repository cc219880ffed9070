package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

func (c *command) standCommand() *cobra.Command {
	var page string
	cmd := c.shown(&cobra.Command{
		Use: "stand [FOLDER]", Short: "the plan of a bench day: ladder, what the stand must hold, where to stop, checklist", Args: cobra.MaximumNArgs(1),
		Long: "stand plans the next bench day out of the design, what was measured so far and [stand]: the powers with what\n" +
			"the scale will show, how long to hold them, whether stand, rope and scale hold with every tolerance at its bad\n" +
			"end, where to stop, what to look at first. It is arithmetic on what was typed, no permission. With --html it\n" +
			"writes one page that prints on one side of A4.",
		Example: "  jetwright stand sled\n  jetwright stand sled --html plan.html",
		RunE: func(_ *cobra.Command, args []string) error {
			if c.json && page != "" {
				return notice.List{{Kind: notice.Error, What: "--html writes a page and --json figures; give one of them"}}
			}
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.StandIn(folder(args), o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine() {
				c.code = exitStrict
			}
			if page == "" {
				return c.print(a)
			}
			var b bytes.Buffer
			if err := report.StandHTML(&b, a, c.style()); err != nil {
				return err
			}
			return c.write(page, b.Bytes(), fmt.Sprintf("the plan of a bench day, %s; made to print on one side of A4", counted(len(a.Steps), "step")))
		},
	})
	cmd.Flags().StringVar(&page, "html", "", "write one printable page to a file, or - for standard output")
	return cmd
}
