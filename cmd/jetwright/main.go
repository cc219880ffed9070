// Command jetwright is the bench book of people who build small electric water-jet drives.
package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// Exit codes.
const (
	exitAnswered = 0
	exitStrict   = 1
	exitUnusable = 2
	exitStop     = 3 // of watch
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the program without the process around it.
func run(args []string, out, errs io.Writer) int {
	to := &outlet{Writer: out}
	c := &command{out: to, errs: errs}
	root := c.root()
	root.SetArgs(args)
	root.SetOut(to)
	root.SetErr(errs)
	err := root.Execute()
	if err != nil && (to.err == nil || !errors.Is(err, to.err)) {
		c.complain(err)
	}
	if to.err != nil {
		c.complain(notice.List{{
			Kind: notice.Error, What: "standard output could not be written to its end: " + to.why(),
			WayOut: "make room where it goes, or send it elsewhere",
		}})
	}
	if err != nil || to.err != nil {
		return exitUnusable
	}
	return c.code
}

// outlet is standard output that remembers the first write that failed: an answer that is cut off must not
// end as one that was given.
type outlet struct {
	io.Writer
	err error
}

func (o *outlet) Write(b []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.Writer.Write(b)
	o.err = err
	return n, err
}

func (o *outlet) why() string {
	var pe *fs.PathError
	if errors.As(o.err, &pe) {
		return pe.Err.Error()
	}
	return o.err.Error()
}

// terminal returns the file that is written to if it is one.
func terminal(w io.Writer) (*os.File, bool) {
	if o, ok := w.(*outlet); ok {
		w = o.Writer
	}
	f, ok := w.(*os.File)
	return f, ok && term.IsTerminal(int(f.Fd()))
}

// command holds the flags that all commands share.
type command struct {
	out  *outlet
	errs io.Writer
	code int

	json, nominal, strict bool
	units                 string
	draws                 int
}

func (c *command) complain(err error) {
	var list notice.List
	var one notice.Notice
	switch {
	case errors.As(err, &list):
		for _, n := range list {
			fmt.Fprintln(c.errs, n.Render())
		}
	case errors.As(err, &one):
		fmt.Fprintln(c.errs, one.Render())
	default:
		fmt.Fprintln(c.errs, err.Error())
	}
}

func (c *command) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "jetwright",
		Short: "design and bench book of a small electric water-jet drive",
		Long: "jetwright sizes and checks a small electric water-jet drive, takes in what the thrust stand\n" +
			"showed, and says whether measurement and promise agree and how far the next test may go.\n\n" +
			"A drive is a folder with a drive.toml; every command takes the folder, or the one you stand in.\n" +
			"Exit code 0: answered; 2: the input cannot be used; with --strict 1 if a limit is broken or was\n" +
			"not judged, or a claim is refuted; 3: watch raised STOP.",
		SilenceErrors: true, SilenceUsage: true,
		SuggestionsMinimumDistance: 2,
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return fmt.Errorf("%w; flags of %q are shown by --help", err, cmd.CommandPath())
	})
	root.CompletionOptions.HiddenDefaultCmd = false
	root.AddCommand(c.newCommand(), c.limitsCommand(), c.predictCommand(), c.motorCommand(), c.bladesCommand(), c.strengthCommand(), c.exportCommand(), c.sectionsCommand(), c.batteryCommand(), c.sizeCommand(), c.chooseCommand(), c.runCommand(), c.auditCommand(), c.reduceCommand(), c.watchCommand(), c.reckonCommand(), c.rankCommand(), c.tonightCommand(), c.reportCommand(), c.standCommand(), c.coolantCommand(), c.heatCommand(), c.rideCommand(), c.explainCommand(), c.setCommand(), c.reviseCommand(), c.revisionsCommand(), c.serveCommand())
	return root
}

// shown adds the flags of commands that show results.
func (c *command) shown(cmd *cobra.Command) *cobra.Command {
	f := cmd.Flags()
	f.BoolVar(&c.json, "json", false, "print JSON; keys end in their unit")
	f.BoolVar(&c.nominal, "nominal", false, "nominal values only, no intervals")
	f.BoolVar(&c.strict, "strict", false, "exit with 1 if a limit is broken or not judged, or a claim refuted")
	f.StringVar(&c.units, "units", "metric", "metric or inch, for text")
	f.IntVar(&c.draws, "draws", 0, "drives drawn within the tolerances (0: the command's own number)")
	return cmd
}

// manyStates lets memory grow further before it is tidied: a reckoning makes some hundred thousand short-lived
// states, and tidying after them costs a fifth of its time. A few tens of megabytes are held meanwhile.
func manyStates() { debug.SetGCPercent(400) }

func (c *command) options() (desk.Options, error) {
	if c.units != "metric" && c.units != "inch" {
		return desk.Options{}, fmt.Errorf("--units is %q; it takes metric or inch", c.units)
	}
	if c.draws < 0 || c.draws > 100000 || (c.draws > 0 && c.draws < 20) {
		return desk.Options{}, fmt.Errorf("--draws is %d; it takes 20 to 100000, or 0 for the command's own number", c.draws)
	}
	return desk.Options{Nominal: c.nominal, Draws: c.draws}, nil
}

func (c *command) style() report.Style {
	s := report.Style{Inch: c.units == "inch"}
	if os.Getenv("NO_COLOR") == "" {
		_, s.Colour = terminal(c.out)
	}
	return s
}

// print writes an answer by the flags.
func (c *command) print(answer any) error {
	if c.json {
		b, err := report.JSON(answer, c.style())
		if err != nil {
			return err
		}
		_, err = c.out.Write(b)
		return err
	}
	return report.Text(c.out, answer, c.style())
}

func folder(args []string) string {
	if len(args) == 0 {
		return "."
	}
	return args[0]
}

// list splits a comma-separated flag.
func list(s string) []string {
	var out []string
	for _, p := range strings.Split(s, ",") {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}
