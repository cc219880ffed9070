package main

import (
	"strings"

	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) exportCommand() *cobra.Command {
	var f desk.ExportFlags
	var parts, formats string
	cmd := &cobra.Command{
		Use: "export [FOLDER]", Short: "impeller, stator, casing and nozzle as files for CAD and printer", Args: cobra.MaximumNArgs(1),
		Long: "export makes the parts out of the blade sections and of what is typed of hub, ring, flanges, nozzle and process, and\n" +
			"writes them, all files or none; --plan says what would be written and writes nothing. The axis of every part is z,\n" +
			"from the intake to the jet; the parts stand where they stand in the drive.\n" +
			"Parts: " + strings.Join(desk.ExportParts(), ", ") + ". Formats: " + strings.Join(desk.ExportFormats(), ", ") + ".",
		Example: "  jetwright export lake --plan\n  jetwright export lake --parts impeller --formats stl --tolerance \"0.05 mm\"\n  jetwright export lake --out to-print --mirror",
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := c.options(); err != nil {
				return err
			}
			f.Parts, f.Formats = list(parts), list(formats)
			a, err := desk.ExportIn(folder(args), f)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	}
	g := cmd.Flags()
	g.BoolVar(&c.json, "json", false, "print JSON; keys end in their unit")
	g.StringVar(&c.units, "units", "metric", "metric or inch, for text; files are in mm")
	g.StringVar(&f.Out, "out", "", "folder that the files go to (shapes in the drive's folder)")
	g.StringVar(&parts, "parts", "", "which parts, separated by commas")
	g.StringVar(&formats, "formats", "", "which kinds of file, separated by commas")
	g.StringVar(&f.Tolerance, "tolerance", "", "how far a mesh may leave the surface (process.chord_tolerance)")
	g.BoolVar(&f.Mirror, "mirror", false, "the other hand of rotation than impeller.hand")
	g.BoolVar(&f.Plan, "plan", false, "say what would be written, and write nothing")
	return cmd
}
