package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// reportFile is the page's name in the drive's folder.
const reportFile = "report.html"

func (c *command) reportCommand() *cobra.Command {
	var out string
	var gaussian bool
	cmd := c.shown(&cobra.Command{
		Use: "report [FOLDER]", Short: "one page with pictures to read, print and hand on", Args: cobra.MaximumNArgs(1),
		Long: "report writes one HTML page that needs nothing but itself: the verdicts, the drive to scale, where the\n" +
			"watts go, limits, logs, thrust against power, claims, assumptions and sources. It opens from disk and\n" +
			"prints on A4 and Letter. The same folder gives the same page.",
		Example: "  jetwright report sled\n  jetwright report sled --out sled.html --units inch",
		RunE: func(_ *cobra.Command, args []string) error {
			if c.json {
				return notice.List{{Kind: notice.Error, What: "report writes a page and has no JSON", WayOut: "for the figures as JSON: jetwright reckon --json"}}
			}
			o, err := c.options()
			if err != nil {
				return err
			}
			o.Gaussian = gaussian
			manyStates()
			a, err := desk.ReportIn(folder(args), o)
			if err != nil {
				return err
			}
			if c.strict && (!a.Fine || a.Refuted()) {
				c.code = exitStrict
			}
			var b bytes.Buffer
			if err := report.HTML(&b, a, c.style()); err != nil {
				return err
			}
			if out == "" {
				out = filepath.Join(folder(args), reportFile)
			}
			return c.write(out, b.Bytes(), fmt.Sprintf("the drive to scale, %s, %s, %s; it opens in any browser",
				counted(len(a.Limits), "limit"), counted(len(a.Plateaus), "reading"), counted(len(a.Claims), "claim")))
		},
	})
	cmd.Flags().BoolVar(&gaussian, "gaussian", false, "take the posterior as normal, as reckon does, instead of walking it by four chains; quicker by seconds")
	cmd.Flags().StringVar(&out, "out", "", "file to write, or - for standard output (report.html in the folder if left out)")
	_ = cmd.Flags().MarkHidden("json") // refused with a way out
	return cmd
}

func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// write writes what a command made to a file, whole or not at all, and says so; or to standard
// output.
func (c *command) write(path string, data []byte, what string) error {
	if path == "-" {
		_, err := c.out.Write(data)
		return err
	}
	if err := desk.Save(path, data); err != nil {
		return err
	}
	_, err := fmt.Fprintf(c.out, "%s holds %s\n", path, what)
	return err
}

// pictureFlag lets a command write a picture instead of its text.
func (c *command) pictureFlag(cmd *cobra.Command, svg *string, what string) {
	cmd.Flags().StringVar(svg, "svg", "", "write "+what+" as an SVG picture to a file, or - for standard output")
}

func (c *command) picture(path, svg, what string) error {
	if c.json {
		return notice.List{{Kind: notice.Error, What: "--svg writes a picture and --json figures; give one of them"}}
	}
	return c.write(path, []byte(svg), strings.TrimSpace(what))
}
