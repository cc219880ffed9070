package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

func (c *command) newCommand() *cobra.Command {
	var scene string
	cmd := &cobra.Command{
		Use: "new FOLDER", Short: "start a drive folder from a worked example", Args: cobra.ExactArgs(1),
		Example: "  jetwright new sled",
		RunE: func(_ *cobra.Command, args []string) error {
			if err := desk.New(args[0], scene); err != nil {
				return err
			}
			return c.print(&desk.NewAnswer{Folder: args[0], Scene: scene})
		},
	}
	cmd.Flags().StringVar(&scene, "scene", "rescue-sled", "which worked example")
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON")
	return cmd
}

func (c *command) limitsCommand() *cobra.Command {
	var svg, power, thrust, rotor, throttle, speed, place string
	cmd := c.shown(&cobra.Command{
		Use: "limits [FOLDER]", Short: "the state at the design point and every limit, nearest first", Args: cobra.MaximumNArgs(1),
		Long: "the state at the design point, or at the power, thrust, rotor speed or throttle and the speed that are named,\n" +
			"and every limit there, nearest first",
		Example: "  jetwright limits sled\n  jetwright limits --json --strict\n  jetwright limits sled --power \"2 kW\" --place shaft --speed \"3 m/s\"",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.LimitsAtIn(folder(args), desk.PredictFlags{
				Power: list(power), Thrust: list(thrust), RotorSpeed: list(rotor), Throttle: list(throttle), Speed: list(speed), Place: place,
			}, o)
			if err != nil {
				return err
			}
			if c.strict && !a.Fine {
				c.code = exitStrict
			}
			if svg != "" {
				return c.picture(svg, report.DutySVG(a, c.style()), "the long section of the drive with the watt ledger")
			}
			return c.print(a)
		},
	})
	c.pictureFlag(cmd, &svg, "the long section of the drive with the watt ledger")
	cmd.Flags().StringVar(&power, "power", "", "at this power, with its unit, in place of the design point")
	cmd.Flags().StringVar(&thrust, "thrust", "", "at this thrust")
	cmd.Flags().StringVar(&rotor, "rotor-speed", "", "at this rotor speed")
	cmd.Flags().StringVar(&throttle, "throttle", "", "at this throttle, in %")
	cmd.Flags().StringVar(&place, "place", "battery", "where the power is: battery, controller or shaft")
	cmd.Flags().StringVar(&speed, "speed", "", "at this craft speed")
	return cmd
}

func (c *command) predictCommand() *cobra.Command {
	var powers, thrusts, rotors, throttles, speeds, place, svg string
	cmd := c.shown(&cobra.Command{
		Use: "predict [FOLDER]", Short: "thrust, power, speed and losses over a range of power or craft speed", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright predict sled\n  jetwright predict sled --power \"1 kW, 2 kW, 3 kW\" --place shaft\n  jetwright predict sled --speed \"2 m/s, 4 m/s\"",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			at, err := desk.ReadPredictAt(desk.PredictFlags{
				Power: list(powers), Thrust: list(thrusts), RotorSpeed: list(rotors), Throttle: list(throttles), Speed: list(speeds), Place: place,
			})
			if err != nil {
				return err
			}
			a, err := desk.PredictIn(folder(args), at, o)
			if err != nil {
				return err
			}
			if svg != "" {
				return c.picture(svg, report.PredictSVG(a, c.style()), "thrust as predicted")
			}
			return c.print(a)
		},
	})
	c.pictureFlag(cmd, &svg, "thrust against power, or against speed")
	cmd.Flags().StringVar(&powers, "power", "", "powers with their unit, separated by commas")
	cmd.Flags().StringVar(&thrusts, "thrust", "", "thrusts with their unit, separated by commas")
	cmd.Flags().StringVar(&rotors, "rotor-speed", "", "rotor speeds with their unit, separated by commas")
	cmd.Flags().StringVar(&throttles, "throttle", "", "throttle settings in %, separated by commas")
	cmd.Flags().StringVar(&place, "place", "battery", "where the powers are: battery, controller or shaft")
	cmd.Flags().StringVar(&speeds, "speed", "", "craft speeds with their unit, separated by commas")
	return cmd
}

func (c *command) auditCommand() *cobra.Command {
	return c.shown(&cobra.Command{
		Use: "audit [FOLDER]", Short: "a promise examined before any test", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright audit sled",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			a, err := desk.AuditIn(folder(args), o)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	})
}

func (c *command) reckonCommand() *cobra.Command {
	var sampled bool
	cmd := c.shown(&cobra.Command{
		Use: "reckon [FOLDER]", Short: "measured against predicted, claims, and what next", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright reckon sled\n  jetwright reckon sled --sampled\n  jetwright reckon sled --json",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			if sampled && c.nominal {
				return notice.List{{Kind: notice.Error, What: "--sampled draws drives and --nominal draws none", WayOut: "leave one of them out"}}
			}
			o.Sampled = sampled
			manyStates()
			a, err := desk.ReckonIn(folder(args), o)
			if err != nil {
				return err
			}
			if c.strict && (!a.Fine || a.Refuted()) {
				c.code = exitStrict
			}
			return c.print(a)
		},
	})
	cmd.Flags().BoolVar(&sampled, "sampled", false, "walk the posterior by four chains instead of taking it as normal; takes seconds")
	return cmd
}

func (c *command) explainCommand() *cobra.Command {
	var in string
	cmd := c.shown(&cobra.Command{
		Use: "explain PATH [FOLDER]", Short: "one number: meaning, value, tolerance, formula, source, what dominates it", Args: cobra.RangeArgs(1, 2),
		Example: "  jetwright explain nozzle.diameter sled\n  jetwright explain thrust sled",
		RunE: func(_ *cobra.Command, args []string) error {
			o, err := c.options()
			if err != nil {
				return err
			}
			if in == "" {
				in = folder(args[1:])
			}
			a, err := desk.ExplainIn(in, args[0], o)
			if err != nil {
				return err
			}
			return c.print(a)
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return desk.Paths(), cobra.ShellCompDirectiveNoFileComp
			}
			return nil, cobra.ShellCompDirectiveFilterDirs
		},
	})
	return cmd
}

func (c *command) setCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "set PATH VALUE [FOLDER]", Short: "write one value into drive.toml, with everything around it as it was", Args: cobra.RangeArgs(2, 3),
		Example: "  jetwright set nozzle.diameter \"62 mm ± 0.1 mm\" sled",
		RunE: func(_ *cobra.Command, args []string) error {
			if err := desk.SetIn(folder(args[2:]), args[0], args[1]); err != nil {
				return err
			}
			return c.print(&desk.SetAnswer{Path: args[0], Value: args[1]})
		},
	}
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON")
	return cmd
}

func (c *command) runCommand() *cobra.Command {
	cmd := &cobra.Command{Use: "run", Short: "bench days: type readings in, adopt logs"}
	cmd.AddCommand(c.noteCommand(), c.addCommand())
	return cmd
}

func (c *command) noteCommand() *cobra.Command {
	var run string
	values := map[string]*string{}
	fields := desk.ReadingFields()
	cmd := &cobra.Command{
		Use: "note [FOLDER]", Short: "type a reading in: power and its place, thrust, speed, temperatures", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright run note sled --power \"1.2 kW\" --place battery --thrust \"16.4 kgf\" \\\n      --rotor-speed \"2900 rpm\" --winding-temperature \"24 °C\" --held \"60 s\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			var given []desk.Typed
			for _, f := range fields {
				if name := desk.FlagName(f); cmd.Flags().Changed(name) {
					given = append(given, desk.Typed{Key: f.Key, Value: *values[f.Key]})
				}
			}
			a, err := desk.NoteIn(folder(args), run, given)
			if err != nil {
				return err
			}
			return c.print(a)
		},
	}
	for _, f := range fields {
		values[f.Key] = cmd.Flags().String(desk.FlagName(f), "", desk.FlagHelp(f))
	}
	cmd.Flags().StringVar(&run, "run", "", "name of the run's folder (today's date if left out)")
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON; keys end in their unit")
	cmd.Flags().StringVar(&c.units, "units", "metric", "metric or inch, for text")
	return cmd
}

func (c *command) addCommand() *cobra.Command {
	var run, in string
	cmd := &cobra.Command{
		Use: "add LOG…", Short: "adopt logs as a run: channels, units and clocks are guessed and shown", Args: cobra.MinimumNArgs(1),
		Example: "  jetwright run add scale.csv controller.csv --run 2026-05-03-ladder --in sled",
		RunE: func(_ *cobra.Command, args []string) error {
			told, end := c.progress()
			a, err := desk.AddIn(in, run, args, told)
			end()
			if err != nil {
				return err
			}
			return c.print(a)
		},
	}
	cmd.Flags().StringVar(&run, "run", "", "name of the run's folder (today's date if left out)")
	cmd.Flags().StringVar(&in, "in", ".", "folder of the drive")
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON")
	return cmd
}

func (c *command) reduceCommand() *cobra.Command {
	var run, tables string
	var plateau int
	cmd := &cobra.Command{
		Use: "reduce [FOLDER]", Short: "logs reduced to plateaus with their uncertainty; channels in doubt", Args: cobra.MaximumNArgs(1),
		Example: "  jetwright reduce sled\n  jetwright reduce sled --run 2026-05-16-logs --plateau 3\n  jetwright reduce sled --csv tables",
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := c.options(); err != nil {
				return err
			}
			if cmd.Flags().Changed("csv") && (c.json || cmd.Flags().Changed("plateau") || tables == "") {
				return notice.List{{Kind: notice.Error, What: "--csv writes tables into a folder; it takes the folder's name, and neither --json nor --plateau beside it"}}
			}
			told, end := c.progress()
			a, err := desk.ReduceInProgress(folder(args), run, told)
			end()
			if err != nil {
				return err
			}
			if cmd.Flags().Changed("plateau") {
				b, err := a.Budget(plateau)
				if err != nil {
					return err
				}
				return c.print(b)
			}
			if cmd.Flags().Changed("csv") {
				return c.tables(tables, a)
			}
			return c.print(a)
		},
	}
	cmd.Flags().StringVar(&run, "run", "", "one run alone (all with logs if left out)")
	cmd.Flags().IntVar(&plateau, "plateau", 0, "the budget of one plateau, by its number")
	cmd.Flags().StringVar(&tables, "csv", "", "write two tables a run into a folder: its channels on one clock, and its plateaus")
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON; keys end in their unit")
	cmd.Flags().StringVar(&c.units, "units", "metric", "metric or inch, for text")
	return cmd
}

// tables writes the tables of every run into a folder and says so.
func (c *command) tables(dir string, a *desk.ReduceAnswer) error {
	var files []desk.File
	var said []string
	for i := range a.Days {
		d := &a.Days[i]
		channels, plateaus := report.ChannelsCSV(d), report.PlateausCSV(d)
		files = append(files, desk.File{Name: d.Run + "-channels.csv", Data: channels}, desk.File{Name: d.Run + "-plateaus.csv", Data: plateaus})
		said = append(said, fmt.Sprintf("%s, a row every %.3g s", counted(len(d.Tracks), "channel"), d.Block), counted(len(d.Plateaus), "plateau"))
	}
	if err := desk.SaveIn(dir, files); err != nil {
		return err
	}
	for i, f := range files {
		fmt.Fprintf(c.out, "%s holds %s\n", filepath.Join(dir, f.Name), said[i])
	}
	return nil
}
