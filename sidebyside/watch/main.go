// Command watch lets the tool watch a log of twelve columns that grows at a hundred rows a second, and
// says what share of one processor that takes.
package main

import (
	"flag"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"time"
)

func main() {
	rate := flag.Int("rate", 100, "rows a second")
	last := flag.Duration("for", 20*time.Second, "how long the log grows")
	flag.Parse()
	if err := run(*rate, *last); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

func run(rate int, last time.Duration) error {
	folder, err := os.MkdirTemp("", "watch")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(folder) }()
	tool, path := filepath.Join(folder, "jetwright"), filepath.Join(folder, "log.csv")
	if out, err := exec.Command("go", "build", "-o", tool, "./cmd/jetwright").CombinedOutput(); err != nil {
		return fmt.Errorf("run this from the top of the project: %w\n%s", err, out)
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	if _, err := fmt.Fprintln(f, "time [s],power [W],thrust [N],rotor speed [rpm],phase current [A],battery voltage [V],battery current [A],motor temp [°C],fet temp [°C],case temp [°C],water temp [°C],throttle [%]"); err != nil {
		return err
	}
	// The start, which solves the design with its tolerances, is taken apart from the rest by a short watch.
	short, err := watch(tool, path, f, rate, last/4)
	if err != nil {
		return err
	}
	long, err := watch(tool, path, f, rate, last+last/4)
	if err != nil {
		return err
	}
	fmt.Printf("%d rows a second for %v: %.2f s of a processor, %.1f %% of one, its start of about %.2f s included\n", rate, last+last/4, long.Seconds(), 100*long.Seconds()/(last+last/4).Seconds(), (short - (long-short)/4).Seconds())
	fmt.Printf("between the start and the end: %.1f %% of one\n", 100*(long-short).Seconds()/last.Seconds())
	return f.Close()
}

// watch lets the log grow while the tool watches it, and returns the time of processors that it took.
func watch(tool, path string, f io.Writer, rate int, last time.Duration) (time.Duration, error) {
	begun := time.Now()
	c := exec.Command(tool, "watch", path, "--in", filepath.Join("examples", "rescue-sled"), "--keep", "--for", last.String())
	c.Stdout, c.Stderr = io.Discard, os.Stderr
	if err := c.Start(); err != nil {
		return 0, err
	}
	ended := make(chan error, 1)
	go func() { ended <- c.Wait() }()
	random := rand.New(rand.NewPCG(100, 12))
	tick := time.NewTicker(time.Second / time.Duration(rate))
	defer tick.Stop()
	for {
		select {
		case err := <-ended:
			if code := c.ProcessState.ExitCode(); code != 0 && code != 3 {
				return 0, err
			}
			return c.ProcessState.UserTime() + c.ProcessState.SystemTime(), nil
		case <-tick.C:
			t := time.Since(begun).Seconds()
			about := func(mean, sd float64) float64 { return mean + sd*random.NormFloat64() }
			warm := 45 - 25*math.Exp(-t/60)
			_, err := fmt.Fprintf(f, "%.2f,%.1f,%.2f,%.0f,%.1f,%.2f,%.2f,%.1f,%.1f,%.1f,%.1f,%.1f\n", float64(begun.Unix()%100000)+t, about(900, 3), about(150, 0.5), about(1500, 4), about(40, 0.5), about(46, 0.02), about(20, 0.1),
				about(warm, 0.1), about(warm-5, 0.1), about(warm-10, 0.1), about(15, 0.05), about(50, 0.1))
			if err != nil {
				return 0, err
			}
		}
	}
}
