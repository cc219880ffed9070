package project

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"jetwright/notice"
)

// The logs that the table below contradicts: a scale with its own header, and a controller.
const (
	contraScale = "Seilwaage, Ausgabe 1.4\nEinheit: kgf\nZeit (s);Zug (kgf);Status\n0,0;0,05;ruhig\n0,5;4,10;ruhig\n1,0;8,25;ruhig\n1,5;8,20;ruhig\n2,0;8,20;ruhig\n"
	contraESC   = "time,power at the shaft [W],phase current [A],rpm,motor temp [°C]\n" +
		"2026-05-16 10:00:00,0,1,0,15.5\n2026-05-16 10:00:01,420,20,1500,15.5\n2026-05-16 10:00:02,800,30,2000,15.75\n"
	contraRun = `date = "2026-05-16"
[[log]]
file = "scale.csv"
encoding = "utf-8"
delimiter = "semicolon"
decimal = "comma"
header_line = 3
first_line = 4
time = "Zeit"
time_format = "elapsed"
time_unit = "s"
channels = ["Zeit [s]", "Zug [kgf] = thrust", "Status = words"]
[[log]]
file = "esc.csv"
encoding = "utf-8"
delimiter = "comma"
decimal = "point"
header_line = 1
first_line = 2
time = "time"
time_format = "iso"
power_place = "shaft"
channels = ["time", "power at the shaft [W] = power",
  "phase current [A] = phase current", "rpm = rotor speed", "motor temp [°C] = winding temperature"]
`
)

// contradict writes the run with one thing changed and returns all that is said of it.
func contradict(t *testing.T, old, with string, file func(folder string)) string {
	t.Helper()
	_, folder := scene(t)
	run := filepath.Join(folder, RunsFolder, "day")
	if err := os.Mkdir(run, 0o755); err != nil {
		t.Fatal(err)
	}
	text := strings.Replace(contraRun, old, with, 1)
	if text == contraRun && old != "" {
		t.Fatalf("%q is not in the run", old)
	}
	put(t, filepath.Join(run, RunFile), text)
	put(t, filepath.Join(run, "scale.csv"), contraScale)
	put(t, filepath.Join(run, "esc.csv"), contraESC)
	if file != nil {
		file(run)
	}
	p, err := Open(folder)
	if err != nil {
		return err.Error()
	}
	for i := range p.Runs {
		if p.Runs[i].Name == "day" {
			_, faults, err := p.Sources(&p.Runs[i])
			if err != nil {
				faults = append(faults, toList(err)...)
			}
			return append(p.Notices, faults...).Error()
		}
	}
	t.Fatal("the run is gone")
	return ""
}

// What a run.toml says against its files, or against itself, is named: where it is typed, what stands
// there, what the file says and on which of its lines, and what would be right.
func TestContradictions(t *testing.T) {
	if s := contradict(t, "", "", nil); s != "" {
		t.Fatalf("the run as it should be: %s", s)
	}
	for _, c := range []struct {
		old, with string
		file      func(run string)
		want      string // parts with | between them
	}{
		// columns
		{`"Zeit [s]", "Zug [kgf] = thrust"`, `"Zug [kgf] = thrust", "Zeit [s]"`, nil, `run.toml:12:13: "Zug" stands in column 2 of line 3 of scale.csv, and here as the 1st of channels|12:35: "Zeit" stands in column 1|in the order of the file`},
		{`"rpm = rotor speed"`, `"revs = rotor speed"`, nil, `run.toml:24:40: there is no column "revs" in line 1 of esc.csv, whose column 4 is "rpm"`},
		{`, "Status = words"`, ``, nil, `run.toml:2:1: line 3 of scale.csv holds 3 columns, and channels lists 2; list every column`},
		{`"Status = words"`, `"Status = words", "more"`, nil, `run.toml:12:65: there is no column "more" in line 3 of scale.csv, which has no column 4`},
		{`Zug [kgf]`, `Zug [N]`, nil, `run.toml:12:25: channels says that "Zug" is in N; line 3 of scale.csv says kgf; it is read in N`},
		{`motor temp [°C]`, `motor temp [V]`, nil, `run.toml:24:61: "motor temp" is in V, which is no unit of winding temperature; a unit such as °C`},
		{`Zug [kgf]`, `Zug [W]`, nil, `run.toml:12:25: "Zug" is in W, which is no unit of thrust; a unit such as N or, for a scale that shows masses, kgf`},
		{`channels = ["Zeit [s]", "Zug [kgf] = thrust", "Status = words"]`, ``, nil, `run.toml:2:1: it lists no column of scale.csv; list them in their order, as in channels = [`},
		{`"time", "power`, `"time = rotor speed", "power`, nil, `run.toml:23:13: "time" is the time and cannot be the rotor speed as well`},
		// how the text is read
		{`delimiter = "semicolon"`, `delimiter = "comma"`, nil, `run.toml:5:13: by what is typed of scale.csv, |is "0,0;0,05;ruhig"; by itself the file reads with delimiter = "semicolon"`},
		{`decimal = "comma"`, `decimal = "point"`, nil, `run.toml:6:11: |by itself the file reads with decimal = "comma"`},
		{`encoding = "utf-8"`, `encoding = "utf-16le"`, nil, `run.toml:4:12: encoding is "utf-16le"; scale.csv is written as utf-8, and is read so; encoding = "utf-8"`},
		{`header_line = 3`, `header_line = 2`, nil, `run.toml:7:15: line 2 of scale.csv holds 1 column, "Einheit: kgf", and channels lists 3; by itself the file reads with header_line = 3`},
		{"header_line = 3\nfirst_line = 4", "header_line = 30\nfirst_line = 31", nil, `run.toml:7:15: header_line is 30, and scale.csv has 8 lines; by itself the file reads with header_line = 3|8:14: first_line is 31, and scale.csv has 8 lines`},
		{`first_line = 4`, `first_line = 2`, nil, `run.toml:8:14: first_line is 2 and header_line 3: the numbers cannot begin before their names end; first_line of 4 or more`},
		// time
		{`time = "Zeit"`, `time = "Zait"`, nil, `run.toml:9:8: no column of channels is called "Zait"; the columns are "Zeit", "Zug", "Status"`},
		{`time = "Zeit"`, ``, nil, `run.toml:2:1: no time is named for scale.csv, and its rows are taken to be a second apart; its column "Zeit" rises as a time does; type time = "Zeit"`},
		{`time_format = "elapsed"`, `time_format = "clock"`, nil, `run.toml:10:15: |have a time that can be read|time_format = "elapsed"`},
		{`date = "2026-05-16"`, `date = "2026-06-01"`, nil, `run.toml:1:8: date is 2026-06-01; esc.csv was written on 2026-05-16 by its own time`},
		// files
		{"", "", func(run string) { _ = os.Remove(filepath.Join(run, "scale.csv")) }, `run.toml:3:8: the log scale.csv cannot be read: no such file|put it back beside run.toml`},
		{"", "", func(run string) { put(t, filepath.Join(run, "scale.csv"), "") }, `run.toml:3:8: scale.csv is empty`},
		{"", "", func(run string) {
			_ = os.Remove(filepath.Join(run, "scale.csv"))
			_ = os.Mkdir(filepath.Join(run, "scale.csv"), 0o755)
		}, `run.toml:3:8: the log scale.csv cannot be read: it is a folder`},
		{`file = "esc.csv"`, `file = "scale.csv"`, nil, `run.toml:14:8: scale.csv is read by two [[log]]; the other begins on line 2`},
		{`file = "esc.csv"`, `file = "../esc.csv"`, nil, `run.toml:13:1: the log does not name a file beside run.toml`},
		{`file = "scale.csv"`, "file = \"scale.csv\"\nsha256 = \"12ab\"", nil, `run.toml:4:10: "12ab" is no SHA-256; 64 hexadecimal digits`},
		// instruments
		{`power_place = "shaft"`, `power_place = "battery"`, nil, `run.toml:22:15: power_place is "battery", and the power's column is named "power at the shaft"; it is taken at the battery`},
		{`time = "Zeit"`, "time = \"Zeit\"\npower_place = \"battery\"", nil, `run.toml:10:15: power_place says nothing here: no column of scale.csv is power or battery current`},
		{`time = "Zeit"`, "time = \"Zeit\"\nwinding_by = \"thermistor\"", nil, `run.toml:10:14: winding_by says nothing here: no column of scale.csv is winding temperature`},
		{`power_place = "shaft"`, "power_place = \"shaft\"\ncalibration = [\"0 kgf = 0 kgf\"]", nil, `run.toml:23:1: calibration says nothing here: no column of esc.csv is thrust`},
		{`time = "Zeit"`, "time = \"Zeit\"\ncalibration = [\"0 kgf = 0.1 kgf\",\n \"20 kgf = 9.5 kgf\", \"10 kgf = 9.9 kgf\", \"30 kgf = 30 kgf\"]", nil, `run.toml:11:2: "10 kgf = 9.9 kgf" and "20 kgf = 9.5 kgf": of these two loads in order the readings go against the others; a heavier load shows more`},
		{"Zug [kgf] = thrust\"", "Zug [N] = thrust\"", func(run string) {
			text := got(t, filepath.Join(run, RunFile))
			put(t, filepath.Join(run, RunFile), strings.Replace(text, "time = \"Zeit\"", "time = \"Zeit\"\nadjusted_at_gravity = \"9.81 m/s²\"", 1))
		}, `run.toml:10:23: it is for a scale that shows masses; "Zug" is in N, a force; a column in kgf or kg`},
		// zero
		{`date =`, "zero = [\"20 s .. 0 s\"]\ndate =", nil, `run.toml:1:9: "20 s .. 0 s" is no stretch of time`},
	} {
		s := contradict(t, c.old, c.with, c.file)
		for _, part := range strings.Split(c.want, "|") {
			if !strings.Contains(s, part) {
				t.Errorf("%q for %q:\nwant %s\ngot  %s", c.with, c.old, part, s)
			}
		}
		if strings.Contains(s, "%!") || strings.Contains(s, "NaN") {
			t.Errorf("badly worded: %s", s)
		}
	}
}

// Clocks and zero windows that lie beside the run are named where they were typed.
func TestContradictedTimes(t *testing.T) {
	for _, c := range []struct{ old, with, want string }{
		{"time_unit = \"s\"\n", "time_unit = \"s\"\nstarts_after = \"5000 s\"\n", `run.toml:20:16: starts_after puts scale.csv from 5000 s to 5989 s of the run, which lasts from 0 s to 952 s by controller.csv: they share no moment; between -989 s and 952 s`},
		{"file = \"controller.csv\"\n", "file = \"controller.csv\"\nstarts_after = \"50 s\"\n", `run.toml:24:16: starts_after of controller.csv says nothing`},
		{"date ", "zero = [\"0 s .. 25 s\",\n  \"5000 s .. 5020 s\"]\ndate ", `run.toml:5:3: the zero window from 5000 s to 5020 s is not used: the run lasts from 0 s to 952 s`},
	} {
		_, folder := scene(t)
		path := filepath.Join(folder, RunsFolder, "2026-05-16-logs", RunFile)
		put(t, path, strings.Replace(got(t, path), c.old, c.with, 1))
		p, err := Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		s := ""
		if out, err := p.Reduce(&p.Runs[1]); err != nil {
			s = err.Error()
		} else {
			s = out.Notices.Error()
		}
		if !strings.Contains(s, c.want) {
			t.Errorf("%q: want %s\ngot %s", c.with, c.want, s)
		}
	}
}

// Whatever names a log's columns bear, what is adopted of it does not contradict it.
func TestAdoptedFits(t *testing.T) {
	for i, head := range []string{
		"time [s],power [W],rpm", "t = time (s),P = power [W],n [= rotor speed]", "time;s,power / W,rotor speed_rpm",
		`"time, s","power [W]","rotor ""speed"" [rpm]"`, "Zeit in s,Leistung [W] = ±,Drehzahl [1/min", " time [s] , power [W] ,\trpm", "time [s],,",
		"time [s],power [W],rpm,", "time,power,speed\ns,W,rpm", "# time,power,rpm", "time\\s,power\\W,rpm", "column 2,column 1,x", "\ufefftime [s],power [W],rpm",
	} {
		p, folder := scene(t)
		log := filepath.Join(t.TempDir(), "log.csv")
		put(t, log, head+"\n0,1.5,1000\n1,2.5,1001\n2,3.5,1002\n3,3.5,1002\n")
		if _, err := p.Adopt("day", []string{log}, nil); err != nil {
			t.Errorf("%q: %v", head, err)
			continue
		}
		p, err := Open(folder)
		if err != nil {
			t.Errorf("%q: %v", head, err)
			continue
		}
		_, faults, err := p.Sources(&p.Runs[len(p.Runs)-1])
		if err != nil || len(faults) > 0 {
			t.Errorf("%d, %q: %v, %v\n%s", i, head, faults, err, got(t, filepath.Join(folder, RunsFolder, "day", RunFile)))
		}
	}
}

func toList(err error) (out []notice.Notice) {
	var l notice.List
	if errors.As(err, &l) {
		return l
	}
	return notice.List{{What: fmt.Sprint(err)}}
}
