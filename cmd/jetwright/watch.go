package main

import (
	"fmt"
	"io"
	"os"
	"os/signal"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"jetwright/desk"
	"jetwright/notice"
	"jetwright/report"
)

// How often a watched log is looked at, and how often its line is written at most.
const (
	watchPoll = 100 * time.Millisecond
	watchLine = time.Second
)

func (c *command) watchCommand() *cobra.Command {
	ask := desk.WatchAsk{}
	var last, gap time.Duration
	var keep bool
	cmd := &cobra.Command{
		Use: "watch LOG|-", Short: "a second pair of eyes on a growing log: limits, doubts, forecasts, STOP", Args: cobra.ExactArgs(1),
		Long: "watch follows a CSV log that another program appends to, or standard input (-), and holds it against\n" +
			"the limits of the design. It drives nothing and is no emergency stop. At the start it says which limit\n" +
			"is watched by which column and which nobody watches; then it writes a line a second. It raises STOP,\n" +
			"says why and what to do, and ends with exit code 3 when a limit is crossed, a similarity coefficient\n" +
			"leaves the steps before by 3 %, a column that a limit rests on is frozen or lost, a line cannot be read,\n" +
			"or the log ends or grows no more. With --keep it goes on watching, and ends with 3 all the same.\n" +
			"Exit code 0: nothing stood against it until --for was over or it was interrupted; 2: the input cannot be used.",
		Example: "  jetwright watch esc.csv --in sled\n  jetwright watch esc.csv --in sled --run 2026-05-16-logs --for 10m\n  logger | jetwright watch - --in sled --keep",
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := c.options(); err != nil {
				return err
			}
			ask.Log, ask.Stream, ask.Gap, ask.Keep = args[0], cmd.InOrStdin(), gap.Seconds(), keep
			if last < 0 || gap < 0 {
				return notice.List{{Kind: notice.Error, What: "--for and --gap take a length of time, such as 90s or 10m"}}
			}
			w, err := desk.OpenWatch(ask)
			if err != nil {
				return err
			}
			defer w.Close()
			return c.watch(w, last, keep)
		},
	}
	f := cmd.Flags()
	f.StringVar(&ask.Folder, "in", ".", "folder of the drive")
	f.StringVar(&ask.Run, "run", "", "run whose run.toml says how the log is read (guessed if left out)")
	f.DurationVar(&last, "for", 0, "end after so long, such as 10s or 10m (never if left out)")
	f.DurationVar(&gap, "gap", 0, "time without a new line that is no STOP yet, for programs that write in bursts (by the log's own rate if left out, at least 1.5s)")
	f.BoolVar(&keep, "keep", false, "go on watching after a STOP; the exit code is 3 all the same")
	f.StringVar(&c.units, "units", "metric", "metric or inch, for text")
	return cmd
}

// watch polls until a STOP, the end of the time, or an interrupt.
func (c *command) watch(w *desk.Watching, last time.Duration, keep bool) error {
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt)
	defer signal.Stop(interrupted)
	ticker := time.NewTicker(watchPoll)
	defer ticker.Stop()
	style := c.style()
	screen := c.screen()
	begun := time.Now()
	line := begun.Add(-watchLine)
	shown, said := false, false
	write := func(now time.Time) {
		line = now
		text := report.WatchLine(w.Status(), style)
		if !w.Begun() {
			text = "waiting for the log to grow: nothing is watched yet"
		}
		if screen > 0 {
			fmt.Fprintf(c.out, "\r\x1b[K%s", shortenedTo(text, screen-1))
		} else {
			fmt.Fprintln(c.out, text)
		}
		shown = true
	}
	ended := func() {
		if screen > 0 && shown {
			fmt.Fprintln(c.out)
		}
	}
	for {
		now := time.Now()
		alarms, err := w.Poll(now.Sub(begun).Seconds())
		if err != nil {
			ended()
			return err
		}
		if w.Answer != nil && !said {
			said = true
			if err := c.print(w.Answer); err != nil {
				return err
			}
		}
		if len(alarms) > 0 {
			c.code = exitStop
			write(now)
			ended()
			shown = false
			for _, a := range alarms {
				if _, err := io.WriteString(c.out, report.WatchStop(a, style)); err != nil {
					return err
				}
			}
			if f, ok := c.errs.(*os.File); ok && screen == 0 && term.IsTerminal(int(f.Fd())) {
				fmt.Fprint(f, "\a") // the output goes elsewhere; the bell must not
			}
			if !keep || w.Over() {
				return nil
			}
		}
		if said && now.Sub(line) >= watchLine {
			write(now)
		}
		if last > 0 && now.Sub(begun) >= last {
			ended()
			return nil
		}
		select {
		case <-interrupted:
			ended()
			return nil
		case <-ticker.C:
		}
	}
}

// screen is the width of the terminal that is written to, 0 if it is none.
func (c *command) screen() int {
	f, ok := c.out.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return 0
	}
	width, _, err := term.GetSize(int(f.Fd()))
	if err != nil || width < 20 {
		return 80
	}
	return width
}

func shortenedTo(s string, width int) string {
	r := []rune(s)
	if len(r) <= width {
		return s
	}
	return string(r[:width-1]) + "…"
}
