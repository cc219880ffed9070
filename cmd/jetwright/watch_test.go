package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jetwright/bench"
	"jetwright/report"
)

var watchScene = filepath.Join("..", "..", "examples", "rescue-sled")

// growing appends rows to a log until it is told to stop.
func growing(t *testing.T, path string, row func(i int) string) (stop func()) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	done, ended := make(chan struct{}), make(chan struct{})
	write := func(s string) {
		if _, err := f.WriteString(s); err != nil {
			t.Error(err)
		}
	}
	write("time [s],power [W],rotor speed [rpm],winding temp [°C]\n")
	for i := range 10 {
		write(row(i) + "\n")
	}
	go func() {
		defer close(ended)
		for i := 10; ; i++ {
			select {
			case <-done:
				return
			case <-time.After(20 * time.Millisecond):
			}
			r := row(i) + "\n"
			write(r[:len(r)/2]) // a line comes in halves
			write(r[len(r)/2:])
		}
	}()
	return func() {
		close(done)
		<-ended
		_ = f.Close()
	}
}

func calmRow(i int) string {
	return fmt.Sprintf("%.2f,%d,%d,%.1f", 0.02*float64(i), 600+i%3, 1950+i%5, 20+0.1*float64(i%4))
}

// A log that grows, and then stalls: STOP, by itself, with its own exit code.
func TestWatchStall(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "esc.csv")
	stop := growing(t, path, calmRow)
	stalled := make(chan time.Time, 1)
	time.AfterFunc(1500*time.Millisecond, func() {
		stop()
		stalled <- time.Now()
	})
	var out, errs bytes.Buffer
	code := run([]string{"watch", path, "--in", watchScene, "--for", "5m"}, &out, &errs)
	took := time.Since(<-stalled)
	if code != exitStop || !strings.Contains(out.String(), "STOP: LOG STOPPED GROWING") || !strings.Contains(out.String(), "no new line for") {
		t.Errorf("exit %d: %s%s", code, out.String(), errs.String())
	}
	t.Logf("it stopped %.2f s after the last row", took.Seconds())
	if took > 30*time.Second {
		t.Errorf("it took %v", took)
	}
}

// A log that goes on until the time is over is fine; one whose limit is crossed is not, and is
// watched on with --keep.
func TestWatchFor(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "esc.csv")
	stop := growing(t, path, calmRow)
	var out, errs bytes.Buffer
	code := run([]string{"watch", path, "--in", watchScene, "--for", "3s", "--gap", "5m"}, &out, &errs)
	stop()
	if code != exitAnswered || strings.Contains(out.String(), "STOP:") || !strings.Contains(out.String(), "nearest") {
		t.Errorf("exit %d: %s%s", code, out.String(), errs.String())
	}
	for _, want := range []string{"no emergency stop", "NOBODY WATCHES", "battery voltage under load: the log holds no battery voltage", "winding temperature"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("it does not say %q", want)
		}
	}

	path = filepath.Join(t.TempDir(), "hot.csv")
	stop = growing(t, path, func(i int) string {
		return fmt.Sprintf("%.2f,600,1950,%.1f", 0.02*float64(i), 160+0.1*float64(i%4))
	})
	out.Reset()
	code = run([]string{"watch", path, "--in", watchScene, "--for", "4s", "--gap", "5m", "--keep"}, &out, &errs)
	stop()
	if code != exitStop || strings.Count(out.String(), "STOP: LIMIT CROSSED: WINDING TEMPERATURE") != 1 {
		t.Errorf("exit %d: %s%s", code, out.String(), errs.String())
	}
	if after := out.String()[strings.LastIndex(out.String(), "STOP:"):]; !strings.Contains(after, "nearest winding temperature") {
		t.Errorf("it did not go on: %s", after)
	}
}

// On a terminal a STOP rings and is reversed; in a pipe it is plain.
func TestWatchLoud(t *testing.T) {
	a := bench.Alarm{Kind: bench.Crossed, Channel: bench.RotorSpeed, What: "why", Do: "do", Time: 3}
	plain, loud := report.WatchStop(a, report.Style{}), report.WatchStop(a, report.Style{Colour: true})
	if strings.ContainsAny(plain, "\a\x1b") || !strings.HasPrefix(plain, "STOP: LIMIT CROSSED: ROTOR SPEED (at 3.0 s)\n") {
		t.Errorf("%q", plain)
	}
	if !strings.HasPrefix(loud, "\a") {
		t.Errorf("%q", loud)
	}
}
