package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"strings"
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
	var last, gap, wait time.Duration
	var keep bool
	cmd := &cobra.Command{
		Use: "watch LOG|-…", Short: "a second pair of eyes on growing logs: limits, doubts, forecasts, STOP", Args: cobra.MinimumNArgs(1),
		Long: "watch follows a CSV log that another program appends to, or standard input (-), and holds it against\n" +
			"the limits of the design. It drives nothing and is no emergency stop. At the start it says which limit\n" +
			"is watched by which column and which nobody watches; then it writes a line a second. It raises STOP,\n" +
			"says why and what to do, and ends with exit code 3 when a limit is crossed, a similarity coefficient\n" +
			"leaves the steps before by 3 %, a column that a limit rests on is frozen or lost, a line cannot be read,\n" +
			"its clock is off, or the log ends or grows no more; the end of standard input is such an end, since nothing\n" +
			"watches then. With --keep it goes on watching, and ends with 3 all the same.\n" +
			"Several logs, such as the controller's and the scale's, are watched together, each by its own layout; the\n" +
			"one that says how hard the drive runs is told what the others show, for coefficients and frozen sensors.\n" +
			"A log in UTF-8, UTF-16 or Windows-1252 is read. One that writes less than a row a second is a STOP only two\n" +
			"rows late; --gap lets pass more, for programs that write in bursts. A log that is not there yet is waited for.\n" +
			"Exit code 0: nothing stood against it until --for was over or it was interrupted; 2: the input cannot be\n" +
			"used, or the output takes no more.",
		Example: "  jetwright watch esc.csv --in sled\n  jetwright watch esc.csv --in sled --run 2026-05-16-logs --for 10m\n  logger | jetwright watch - --in sled --keep\n  jetwright watch esc.csv scale.csv --in sled",
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, err := c.options(); err != nil {
				return err
			}
			ask.Stream, ask.Gap, ask.Keep = cmd.InOrStdin(), gap.Seconds(), keep
			if last < 0 || gap < 0 || wait < 0 {
				return notice.List{{Kind: notice.Error, What: "--for, --gap and --wait take a length of time, such as 90s or 10m"}}
			}
			if err := c.await(args, wait); err != nil {
				return err
			}
			w, err := desk.OpenWatches(ask, args)
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
	f.DurationVar(&wait, "wait", 10*time.Second, "how long a log that is not there yet is waited for")
	f.BoolVar(&keep, "keep", false, "go on watching after a STOP; the exit code is 3 all the same")
	f.StringVar(&c.units, "units", "metric", "metric or inch, for text")
	return cmd
}

// await waits until the logs are there, and says so. What is not there in the end is said by who opens it.
func (c *command) await(logs []string, wait time.Duration) error {
	until := time.Now().Add(wait)
	for _, log := range logs {
		for said := false; log != "-"; said = true {
			if _, err := os.Stat(log); !errors.Is(err, fs.ErrNotExist) || !time.Now().Before(until) {
				break
			}
			if !said {
				fmt.Fprintf(c.out, "%s is not there yet: nothing is watched; it is waited for until %s have passed\n", log, wait)
			}
			if c.out.err != nil {
				return c.out.err
			}
			time.Sleep(watchPoll)
		}
	}
	return nil
}

// watcher is a watch as it is shown.
type watcher struct {
	*command
	w      *desk.Watches
	style  report.Style
	screen int // width of the terminal, 0 if it is none
	said   bool
	shown  bool // a line stands on the terminal
	line   time.Time
}

// watch polls until a STOP, the end of the time, or an interrupt.
func (c *command) watch(w *desk.Watches, last time.Duration, keep bool) error {
	interrupted := make(chan os.Signal, 1)
	signal.Notify(interrupted, os.Interrupt)
	defer signal.Stop(interrupted)
	ticker := time.NewTicker(watchPoll)
	defer ticker.Stop()
	s := &watcher{command: c, w: w, style: c.style(), screen: c.screen()}
	defer s.end()
	begun := time.Now()
	for {
		now := time.Now()
		alarms, err := w.Poll(now.Sub(begun).Seconds())
		over := last > 0 && now.Sub(begun) >= last
		if err == nil && over && len(alarms) == 0 {
			alarms, err = w.Finish(now.Sub(begun).Seconds())
		}
		if err != nil {
			return err
		}
		if err := s.show(now, alarms); err != nil {
			return err
		}
		if c.out.err != nil {
			return c.out.err // nobody would see a STOP
		}
		if over || w.Over() || len(alarms) > 0 && !keep {
			return nil
		}
		select {
		case <-interrupted:
			return nil
		case <-ticker.C:
		}
	}
}

// show writes what is new: at first what is watched, then a line a second, and every alarm.
func (s *watcher) show(now time.Time, alarms []desk.Alarm) error {
	if answers := s.w.Answers(); answers != nil && !s.said {
		s.said, s.line = true, now
		for _, a := range answers {
			if err := s.print(a); err != nil {
				return err
			}
		}
	}
	if s.line.IsZero() {
		s.line = now
	}
	if now.Sub(s.line) >= watchLine || s.said && len(alarms) > 0 {
		s.line = now
		text := s.text()
		if s.screen > 0 {
			s.shown = true
			fmt.Fprintf(s.out, "\r\x1b[K%s", shortenedTo(text, s.screen-1))
		} else {
			fmt.Fprintln(s.out, text)
		}
	}
	if len(alarms) == 0 {
		return nil
	}
	s.code = exitStop
	s.end()
	for _, a := range alarms {
		if _, err := io.WriteString(s.out, report.WatchStop(a, s.style)); err != nil {
			return err
		}
	}
	if f, ok := terminal(s.errs); ok && s.screen == 0 {
		fmt.Fprint(f, "\a") // the output goes elsewhere; the bell must not
	}
	return nil
}

// text is how the logs stand, a line each, or one after the other on a terminal.
func (s *watcher) text() string {
	if !s.said {
		return "waiting for rows that can be read: nothing is watched yet"
	}
	var lines []string
	for i, w := range s.w.List {
		t := "waiting for the log to grow: nothing is watched yet"
		if w.Begun() {
			t = report.WatchLine(w.Status(), s.style)
		}
		if len(s.w.List) > 1 {
			t = s.w.Name(i) + ": " + t
		}
		lines = append(lines, t)
	}
	if s.screen > 0 {
		return strings.Join(lines, " || ")
	}
	return strings.Join(lines, "\n")
}

// end leaves the line on the terminal as it stands.
func (s *watcher) end() {
	if s.shown {
		fmt.Fprintln(s.out)
	}
	s.shown = false
}

// screen is the width of the terminal that is written to, 0 if it is none.
func (c *command) screen() int {
	f, ok := terminal(c.out)
	if !ok {
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
