// Command logs times the reading of one large log by the tool and by the usual readers of tables, in
// one run on one machine, and compares the means of all columns.
package main

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"time"

	"jetwright/bench"
)

func main() {
	o := options{}
	flag.IntVar(&o.rows, "rows", 2_000_000, "rows of the log")
	flag.IntVar(&o.rounds, "rounds", 5, "rounds; in each every reader has its turn")
	flag.IntVar(&o.repeats, "repeats", 3, "readings in a turn")
	flag.IntVar(&o.threads, "threads", 2, "threads that a reader may use")
	flag.StringVar(&o.node, "node", ".", "folder whose node_modules holds DuckDB and Polars")
	flag.StringVar(&o.ours, "ours", "", "read this log with the tool alone, and print JSON")
	flag.Parse()
	if err := run(o); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}

type options struct {
	rows, rounds, repeats, threads int
	node, ours                     string
}

// answer is what a reader says of a log.
type answer struct {
	Version   string    `json:"version"`
	Seconds   []float64 `json:"seconds"`
	Rows      int       `json:"rows"`
	Means     []float64 `json:"means"`
	PeakBytes int64     `json:"peak_bytes"`
}

// reader is one of those that are compared.
type reader struct {
	name, install string
	command       func(path string) *exec.Cmd
	answer        answer // of all its turns
	failed        string
}

func run(o options) error {
	if o.ours != "" {
		return ours(o.ours, o.repeats)
	}
	script := func(name string) string { return filepath.Join("sidebyside", "logs", name) }
	if _, err := os.Stat(script("tables.py")); err != nil {
		return fmt.Errorf("run this from the top of the project: %w", err)
	}
	folder, err := os.MkdirTemp("", "log")
	if err != nil {
		return err
	}
	defer func() { _ = os.RemoveAll(folder) }()
	path := filepath.Join(folder, "log.csv")
	size, err := write(path, o.rows)
	if err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	modules, err := filepath.Abs(filepath.Join(o.node, "node_modules"))
	if err != nil {
		return err
	}
	repeats, threads := strconv.Itoa(o.repeats), strconv.Itoa(o.threads)
	python := func(tool string) func(string) *exec.Cmd {
		with := "python3"
		for _, p := range []string{"python3", "/usr/bin/python3"} {
			if exec.Command(p, "-c", "import "+tool).Run() == nil {
				with = p
				break
			}
		}
		return func(path string) *exec.Cmd { return exec.Command(with, script("tables.py"), tool, path, repeats) }
	}
	node := func(tool string) func(string) *exec.Cmd {
		return func(path string) *exec.Cmd {
			c := exec.Command("node", script("tables.cjs"), tool, path, repeats, threads)
			c.Env = append(os.Environ(), "NODE_PATH="+modules, "POLARS_MAX_THREADS="+threads)
			return c
		}
	}
	readers := []*reader{
		{name: "this tool", command: func(path string) *exec.Cmd {
			c := exec.Command(self, "-ours", path, "-repeats", repeats)
			c.Env = append(os.Environ(), "GOMAXPROCS="+threads)
			return c
		}},
		{name: "Polars", install: "npm install nodejs-polars nodejs-polars-linux-x64-gnu", command: node("polars")},
		{name: "DuckDB", install: "npm install @duckdb/node-api", command: node("duckdb")},
		{name: "NumPy", install: "apt-get install python3-numpy", command: python("numpy")},
		{name: "pandas", install: "apt-get install python3-pandas", command: python("pandas")},
	}
	for range o.rounds {
		for _, r := range readers {
			if r.failed == "" {
				r.turn(path)
			}
		}
	}
	return tell(o, size, readers)
}

// turn lets a reader read the log in a process of its own.
func (r *reader) turn(path string) {
	c := r.command(path)
	out, err := c.Output()
	var a answer
	if err == nil {
		err = json.Unmarshal(out, &a)
	}
	if err != nil {
		r.failed = err.Error()
		return
	}
	a.Seconds = append(r.answer.Seconds, a.Seconds...)
	a.PeakBytes = max(a.PeakBytes, r.answer.PeakBytes)
	r.answer = a
}

func tell(o options, size int64, readers []*reader) error {
	fmt.Printf("%d rows of 12 columns, %d bytes; %d threads, %d readings each\n\n", o.rows, size, o.threads, o.rounds*o.repeats)
	fmt.Printf("%-10s %-16s %8s %17s %10s %12s\n", "", "version", "median s", "least to most s", "peak MB", "worst mean")
	tool := readers[0]
	if tool.failed != "" {
		return fmt.Errorf("the tool could not read the log: %s", tool.failed)
	}
	fastest, name := math.Inf(1), ""
	for _, r := range readers {
		if r.failed != "" {
			fmt.Printf("%-10s is not here (%s); to have it: %s\n", r.name, r.failed, r.install)
			continue
		}
		a := r.answer
		worst := math.Inf(1)
		if len(a.Means) == len(tool.answer.Means) && a.Rows == o.rows {
			worst = 0
			for k, m := range a.Means {
				worst = max(worst, math.Abs(m/tool.answer.Means[k]-1))
			}
		}
		s := slices.Sorted(slices.Values(a.Seconds))
		fmt.Printf("%-10s %-16s %8.3f %8.3f to %.3f %10.0f %12.1e\n", r.name, a.Version, median(s), s[0], s[len(s)-1], float64(a.PeakBytes)/1e6, worst)
		if !(worst < 1e-9) {
			return fmt.Errorf("%s has other columns: %d rows, means %v, ours %v", r.name, a.Rows, a.Means, tool.answer.Means)
		}
		if m := median(s); r != tool && m < fastest {
			fastest, name = m, r.name
		}
	}
	if name != "" {
		ours := median(slices.Sorted(slices.Values(tool.answer.Seconds)))
		fmt.Printf("\nthe fastest other is %s; its time over this tool's is %.2f\n", name, fastest/ours)
	}
	return nil
}

func median(sorted []float64) float64 {
	n := len(sorted)
	return (sorted[n/2] + sorted[(n-1)/2]) / 2
}

// ours reads a log as the tool does when it adopts one, and prints what came of it.
func ours(path string, repeats int) error {
	a := answer{Version: runtime.Version()}
	var log *bench.Log
	for range repeats {
		log = nil
		begun := time.Now()
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		info, err := f.Stat()
		if err != nil {
			return err
		}
		read, faults, err := bench.Input{Name: path, From: f, Size: info.Size(), Progress: func(int, int) {}}.Adopt()
		if err != nil {
			return err
		}
		if err := faults.Fatal(); err != nil {
			return err
		}
		if err := f.Close(); err != nil {
			return err
		}
		log = read
		a.Seconds = append(a.Seconds, time.Since(begun).Seconds())
	}
	a.Rows = log.Rows()
	for k, v := range log.Values {
		u, sum, rest := log.Layout.Columns[k].Unit, 0.0, 0.0
		if k == log.Layout.Time {
			v = log.Time
		}
		for _, x := range v { // as written, and summed without loss
			if k == log.Layout.Time {
				x += log.Start
			} else if u.Symbol != "" {
				x = u.FromSI(x)
			}
			y := x - rest
			t := sum + y
			rest = t - sum - y
			sum = t
		}
		a.Means = append(a.Means, sum/float64(len(v)))
	}
	a.PeakBytes = peak()
	return json.NewEncoder(os.Stdout).Encode(a)
}

// peak is the most memory that the process had, where the system says so.
func peak() int64 {
	text, _ := os.ReadFile("/proc/self/status")
	for line := range strings.Lines(string(text)) {
		if kb, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			n, _ := strconv.ParseInt(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(kb), "kB")), 10, 64)
			return 1024 * n
		}
	}
	return 0
}

// write makes a log of a bench day that never ends, with the digits that instruments write.
func write(path string, rows int) (int64, error) {
	f, err := os.Create(path)
	if err != nil {
		return 0, err
	}
	w := bufio.NewWriterSize(f, 1<<20)
	random := rand.New(rand.NewPCG(2026, 12))
	columns := []struct {
		head           string
		mean, swing, s float64
		places         int
	}{
		{"time [s]", 0, 0, 0, 3},
		{"thrust [N]", 230, 190, 1.5, 5},
		{"power [W]", 5600, 5200, 25, 4},
		{"rotor speed [rpm]", 2900, 1700, 6, 3},
		{"phase current [A]", 95, 80, 0.7, 4},
		{"battery voltage [V]", 48.5, -2.5, 0.03, 5},
		{"battery current [A]", 118, 105, 0.8, 4},
		{"motor temp [°C]", 68, 31, 0.1, 5},
		{"fet temp [°C]", 49, 18, 0.1, 5},
		{"case temp [°C]", 41, 12, 0.1, 5},
		{"water temp [°C]", 17.5, 0.8, 0.02, 5},
		{"tilt", 0.4, 2.5, 0.3, 7},
	}
	for k, c := range columns {
		if k > 0 {
			_ = w.WriteByte(',')
		}
		_, _ = w.WriteString(c.head)
	}
	_ = w.WriteByte('\n')
	var line []byte
	for i := range rows {
		line = line[:0]
		for k, c := range columns {
			x := 0.01*float64(i) + 0.002*random.Float64()
			if k > 0 {
				x = c.mean + c.swing*math.Sin(float64(i)/3000/float64(k)) + c.s*random.NormFloat64()
				line = append(line, ',')
			}
			line = strconv.AppendFloat(line, x, 'f', c.places, 64)
		}
		if _, err := w.Write(append(line, '\n')); err != nil { // the writer keeps the first error
			return 0, err
		}
	}
	if err := w.Flush(); err != nil {
		return 0, err
	}
	info, err := f.Stat()
	if err != nil {
		return 0, err
	}
	return info.Size(), f.Close()
}
