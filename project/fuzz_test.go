package project

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"jetwright/notice"
)

// Whatever a run.toml holds, it is read, or refused with words and a place in it; what is read of its logs are
// numbers.
func FuzzRun(f *testing.F) {
	f.Add([]byte(contraRun), []byte(contraScale))
	for _, s := range []string{
		"[[log]]\nfile = \"scale.csv\"\nchannels = []\n", "[[reading]]\npower = \"1 kW\"\nplace = \"shaft\"\nheld = \"60 s\"\n", "zero = [\"0 s .. 20 s\"]\n[water]\ntemperature = \"7 °C\"\n",
		"[[log]]\nfile = \"scale.csv\"\nfirst_line = 4\nheader_line = 3\ndelimiter = \"semicolon\"\nchannels = [\"a\", \"b [kgf] = thrust ± 0.5 % ± 0.1 kgf\", \"c\"]\ncalibration = [\"1 N = 2 N\"]\ntrust = [\"thrust\"]\n",
	} {
		f.Add([]byte(s), []byte(contraScale))
	}
	folder := filepath.Join(f.TempDir(), "sled")
	if err := New(folder, "rescue-sled"); err != nil {
		f.Fatal(err)
	}
	p, err := Open(folder)
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, sheet, log []byte) {
		worded := func(l notice.List) {
			for _, n := range l {
				echoed := bytes.Contains(sheet, []byte("%!")) || bytes.Contains(log, []byte("%!")) || bytes.Contains(bytes.ToLower(slices.Concat(sheet, log)), []byte("nan"))
				if n.What == "" || !echoed && (strings.Contains(n.What, "%!") || strings.Contains(n.What, "NaN")) || n.Place.File == "" {
					t.Fatalf("%+v", n)
				}
			}
		}
		r, faults := readRun("day", "runs/day/run.toml", sheet, p.Design)
		worded(faults)
		if faults.Fatal() != nil {
			return
		}
		for i := range r.Logs {
			l := &r.Logs[i]
			worded(l.against("runs/day/"+l.File, int64(len(log)), sha(log), l.Layout.Heading(log)))
			worded(l.Fits(l.File, log))
		}
		dir := filepath.Join(t.TempDir(), "sled")
		run := filepath.Join(dir, RunsFolder, "day")
		if len(r.Logs) == 0 || os.MkdirAll(run, 0o755) != nil {
			return
		}
		for _, l := range r.Logs {
			if strings.ContainsRune(l.File, 0) || len(l.File) > 100 || l.File == "." || l.File == ".." || os.WriteFile(filepath.Join(run, l.File), log, 0o644) != nil {
				return
			}
		}
		q := &Project{Folder: dir, Design: p.Design}
		sources, faults, err := q.Sources(r)
		worded(faults)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		for _, s := range sources {
			for _, x := range s.Log.Time {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("a time is %g", x)
				}
			}
			for _, v := range s.Log.Values {
				for _, x := range v {
					if math.IsInf(x, 0) {
						t.Fatal("a value has no end")
					}
				}
			}
		}
	})
}
