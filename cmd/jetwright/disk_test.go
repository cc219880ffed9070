package main

import (
	"bytes"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// full is a place that takes so many bytes and no more.
type full struct{ room int }

func (f *full) Write(b []byte) (int, error) {
	n := min(len(b), f.room)
	f.room -= n
	if n < len(b) {
		return n, &fs.PathError{Op: "write", Path: "/dev/stdout", Err: syscall.ENOSPC}
	}
	return n, nil
}

// An answer that is cut off, wherever it is, is said and is no success.
func TestAnswerCutOff(t *testing.T) {
	sled := filepath.Join(t.TempDir(), "sled")
	if code := run([]string{"new", sled}, io.Discard, io.Discard); code != 0 {
		t.Fatal("no sled")
	}
	for _, args := range [][]string{
		{"limits", sled, "--nominal"},
		{"limits", sled, "--nominal", "--json"},
		{"limits", sled, "--nominal", "--svg", "-"},
		{"reduce", sled},
		{"reduce", sled, "--csv", filepath.Join(sled, "tables")},
		{"stand", sled, "--nominal", "--html", "-"},
		{"set", "nozzle.diameter", "60 mm", sled},
		{"new", filepath.Join(sled, "another")},
		{"--help"},
		{"limits", "--help"},
		{"completion", "bash"},
		{"run", "note", sled, "--run", "x", "--power", "1 kW", "--place", "battery", "--thrust", "14 kgf"},
	} {
		for _, room := range []int{0, 3} {
			var errs bytes.Buffer
			if code := run(args, &full{room}, &errs); code != exitUnusable || !strings.Contains(errs.String(), "standard output could not be written to its end: no space left on device") {
				t.Errorf("%v with room for %d bytes: exit %d, %q", args, room, code, errs.String())
			}
			_ = os.RemoveAll(filepath.Join(sled, "another"))
		}
	}
	log, w := io.Pipe()
	defer w.Close()
	root := make(chan int, 1)
	go func() {
		go func() {
			for i := range 400 {
				if i == 0 {
					_, _ = io.WriteString(w, "time [s],power [W],rotor speed [rpm],winding temp [°C]\n")
				}
				_, _ = io.WriteString(w, calmRow(i)+"\n")
			}
		}()
		var errs bytes.Buffer
		c := &command{out: &outlet{Writer: &full{100}}, errs: &errs}
		cmd := c.root()
		cmd.SetIn(log)
		cmd.SetArgs([]string{"watch", "-", "--in", sled, "--gap", "5m", "--for", "5m"})
		if err := cmd.Execute(); err == nil {
			t.Error("a watch goes on though nobody can see it")
		}
		root <- 1
	}()
	<-root
}

// program copies this test to where it runs as jetwright for anybody.
func program(t *testing.T, folder string) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(self)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "jetwright")
	if err := os.WriteFile(path, b, 0o755); err != nil {
		t.Fatal(err)
	}
	return path
}

// A folder that may only be read answers every question that only reads; what writes says that it cannot,
// where and why, and changes nothing.
func TestReadOnlyFolder(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	for at := home; at != filepath.Dir(at) && at != filepath.Clean(os.TempDir()); at = filepath.Dir(at) {
		if err := os.Chmod(at, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	sled, out := filepath.Join(home, "sled"), filepath.Join(home, "out")
	if code := run([]string{"new", sled}, io.Discard, io.Discard); code != 0 {
		t.Fatal("no sled")
	}
	if err := os.Mkdir(out, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(out, 0o777); err != nil {
		t.Fatal(err)
	}
	log := filepath.Join(home, "more.csv")
	if err := os.WriteFile(log, []byte("time [s],power [W]\n0,1\n1,2\n2,3\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	jetwright := program(t, home)
	modes := func(dir, file os.FileMode) {
		_ = filepath.WalkDir(sled, func(path string, d fs.DirEntry, err error) error {
			if d.IsDir() {
				return os.Chmod(path, dir)
			}
			return os.Chmod(path, file)
		})
	}
	before := snapshotOf(t, sled)
	modes(0o555, 0o444)
	defer modes(0o755, 0o644)
	ask := func(args ...string) (string, int) {
		cmd := exec.Command(jetwright, args...)
		cmd.Dir = out
		if os.Geteuid() == 0 { // root may write everywhere
			cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
		}
		said, err := cmd.CombinedOutput()
		if err != nil && cmd.ProcessState == nil {
			t.Fatal(err)
		}
		return string(said), cmd.ProcessState.ExitCode()
	}
	for _, args := range [][]string{
		{"limits", sled, "--nominal"},
		{"predict", sled, "--nominal"},
		{"audit", sled, "--nominal"},
		{"reduce", sled},
		{"reduce", sled, "--csv", filepath.Join(out, "tables")},
		{"stand", sled, "--nominal"},
		{"explain", "thrust", sled, "--nominal"},
		{"reckon", sled, "--draws", "20"},
		{"report", sled, "--gaussian", "--draws", "20", "--out", filepath.Join(out, "r.html")},
		{"report", sled, "--gaussian", "--draws", "20", "--out", "-"},
		{"limits", sled, "--nominal", "--svg", filepath.Join(out, "l.svg")},
		{"stand", sled, "--nominal", "--html", filepath.Join(out, "s.html")},
	} {
		if said, code := ask(args...); code != exitAnswered {
			t.Errorf("%v: exit %d: %s", args, code, said)
		}
	}
	for _, args := range [][]string{
		{"run", "note", sled, "--run", "2026-05-03-ladder", "--power", "1 kW", "--place", "battery", "--thrust", "14 kgf"},
		{"run", "note", sled, "--run", "new", "--power", "1 kW", "--place", "battery", "--thrust", "14 kgf"},
		{"run", "add", log, "--run", "2026-05-16-logs", "--in", sled},
		{"run", "add", log, "--run", "new", "--in", sled},
		{"set", "nozzle.diameter", "60 mm", sled},
		{"report", sled, "--gaussian", "--draws", "20"},
		{"reduce", sled, "--csv", filepath.Join(sled, "tables")},
		{"new", filepath.Join(sled, "another")},
		{"limits", sled, "--nominal", "--svg", filepath.Join(sled, "l.svg")},
	} {
		said, code := ask(args...)
		if code != exitUnusable || !strings.Contains(said, sled) || !strings.Contains(said, "nothing was") || !strings.Contains(said, "permission denied") && !strings.Contains(said, "write-protected") {
			t.Errorf("%v: exit %d: %s", args, code, said)
		}
	}
	if snapshotOf(t, sled) != before {
		t.Error("the folder was changed")
	}
}

func snapshotOf(t *testing.T, folder string) string {
	t.Helper()
	var b strings.Builder
	if err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			b.WriteString(path + "\n")
			return err
		}
		data, err := os.ReadFile(path)
		b.WriteString(path + "\n" + string(data))
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// A disk that is really full. Where none can be made, the limit of TestDiskFull of the project says the same.
func TestFullDisk(t *testing.T) {
	t.Parallel()
	disk := t.TempDir()
	if said, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=620k", "none", disk).CombinedOutput(); err != nil {
		t.Skipf("no small disk may be made here (%v: %s); project.TestDiskFull tries every write under a limit of the system", err, said)
	}
	defer func() { _ = exec.Command("umount", disk).Run() }()
	sled := filepath.Join(disk, "sled")
	if code := run([]string{"new", sled}, io.Discard, io.Discard); code != 0 {
		t.Fatal("no sled")
	}
	fill := make([]byte, 1<<20)
	f, err := os.Create(filepath.Join(disk, "fill"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write(fill); err == nil {
		t.Fatal("the disk is not full")
	}
	_ = f.Close()
	log := filepath.Join(t.TempDir(), "more.csv")
	if err := os.WriteFile(log, []byte("time [s],power [W]\n"+strings.Repeat("0,1\n1,2\n2,3\n", 1000)), 0o644); err != nil {
		t.Fatal(err)
	}
	before := snapshotOf(t, disk)
	for _, args := range [][]string{
		{"run", "note", sled, "--run", "2026-05-03-ladder", "--power", "1 kW", "--place", "battery", "--thrust", "14 kgf"},
		{"run", "add", log, "--run", "2026-05-16-logs", "--in", sled},
		{"run", "add", log, "--run", "new", "--in", sled},
		{"set", "nozzle.diameter", "60 mm", sled},
		{"report", sled, "--gaussian", "--draws", "20"},
		{"reduce", sled, "--csv", filepath.Join(sled, "tables")},
		{"limits", sled, "--nominal", "--svg", filepath.Join(sled, "l.svg")},
		{"stand", sled, "--nominal", "--html", filepath.Join(sled, "s.html")},
		{"new", filepath.Join(disk, "another")},
	} {
		var errs bytes.Buffer
		if code := run(args, io.Discard, &errs); code != exitUnusable || !strings.Contains(errs.String(), "nothing was changed: no space left on device") || !strings.Contains(errs.String(), "make room for") {
			t.Errorf("%v: exit %d: %s", args, code, errs.String())
		}
	}
	if snapshotOf(t, disk) != before {
		t.Error("the disk holds something else")
	}
}

// An export that does not fit on the disk leaves none of its files.
func TestExportFullDisk(t *testing.T) {
	t.Parallel()
	disk := t.TempDir()
	if said, err := exec.Command("mount", "-t", "tmpfs", "-o", "size=900k", "none", disk).CombinedOutput(); err != nil {
		t.Skipf("no small disk may be made here (%v: %s)", err, said)
	}
	defer func() { _ = exec.Command("umount", disk).Run() }()
	lake := filepath.Join(disk, "lake")
	if code := run([]string{"new", lake, "--scene", "lake-sled"}, io.Discard, io.Discard); code != 0 {
		t.Fatal("no lake")
	}
	before := snapshotOf(t, disk)
	var errs bytes.Buffer
	if code := run([]string{"export", lake, "--tolerance", "0.2 mm"}, io.Discard, &errs); code != exitUnusable || !strings.Contains(errs.String(), "nothing was changed: no space left on device") || !strings.Contains(errs.String(), "make room for") {
		t.Errorf("exit %d: %s", code, errs.String())
	}
	if snapshotOf(t, disk) != before {
		t.Error("the disk holds something else")
	}
}
