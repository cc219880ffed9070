package main

import (
	"github.com/spf13/cobra"

	"jetwright/desk"
)

func (c *command) sectionsCommand() *cobra.Command {
	var f desk.SectionsFlags
	cmd := &cobra.Command{
		Use: "sections FILE [FOLDER]", Short: "points of blade sections, from CAD or a scan, read as angles, chord and thickness", Args: cobra.RangeArgs(1, 2),
		Long: "sections reads the points of blade sections from a CSV file, fits camber line, thickness and edges to each, says how\n" +
			"far the points lie off what was fitted, and holds it against what is drawn. With --write the angles, chords and\n" +
			"thicknesses go under [built], or under the part itself where it has no sections yet.\n" +
			"Columns: section, and x [mm], y [mm], z [mm] of points in space, the axis along z, where a cylinder about it cuts the\n" +
			"blade; or radius [mm], along [mm], downstream [mm] of sections laid flat. Files that export writes can be read.",
		Example: "  jetwright sections scan.csv lake --of impeller\n  jetwright sections scan.csv lake --of impeller --write",
		RunE: func(_ *cobra.Command, args []string) error {
			if _, err := c.options(); err != nil {
				return err
			}
			f.File = args[0]
			a, err := desk.SectionsIn(folder(args[1:]), f)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	}
	g := cmd.Flags()
	g.BoolVar(&c.json, "json", false, "print JSON; keys end in their unit")
	g.StringVar(&c.units, "units", "metric", "metric or inch, for text")
	g.StringVar(&f.Part, "of", "impeller", "impeller or stator")
	g.BoolVar(&f.Write, "write", false, "write what was read to drive.toml")
	return cmd
}
