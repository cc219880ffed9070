package desk

import (
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jetwright/project"
)

const killedIn = "JETWRIGHT_TEST_FOLDER"

// TestKilledChild saves on and on until it is killed; it is run by TestKills.
func TestKilledChild(t *testing.T) {
	folder := os.Getenv(killedIn)
	if folder == "" {
		t.Skip("it is run by TestKills")
	}
	for i := 0; ; i++ {
		b, err := OpenBook(folder)
		if err != nil {
			t.Fatal(err)
		}
		if b.Page().Faults != nil {
			t.Fatal(b.Page().Faults)
		}
		if err := b.Edit("nozzle.diameter", fmt.Sprintf("%d.%02d mm ± 0.2 mm", 58+i%5, i%100)); err != nil {
			t.Fatal(err)
		}
		if err := b.Save(); err != nil {
			t.Fatal(err)
		}
		if _, err := b.Note("kills", []Typed{{"power", fmt.Sprintf("%d W", 600+i%100)}, {"place", "battery"}, {"thrust", "90 N"}}); err != nil {
			t.Fatal(err)
		}
	}
}

// A program that is killed while it saves leaves a folder that can be read, with every line that was there before.
func TestKills(t *testing.T) {
	kills := 20
	if os.Getenv("JETWRIGHT_SLOW") != "" {
		kills = 200
	}
	_, file := bookIn(t)
	folder := filepath.Dir(file)
	if err := os.RemoveAll(filepath.Join(folder, "runs")); err != nil { // they only slow the opening down
		t.Fatal(err)
	}
	keep := []string{"# The rescue sled of a beach lifeguard", "# measured with a paper template", "[[claim]]", `temperature = "14 °C ± 1 K"`}
	random := rand.New(rand.NewPCG(7, 11))
	readings, saved := 0, map[string]bool{}
	for k := range kills {
		child := exec.Command(os.Args[0], "-test.run=^TestKilledChild$", "-test.count=1")
		child.Env = append(os.Environ(), killedIn+"="+folder)
		if err := child.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(15+random.IntN(120)) * time.Millisecond)
		_ = child.Process.Kill()
		if err := child.Wait(); err == nil || !strings.Contains(err.Error(), "killed") {
			t.Fatalf("kill %d: the child ended by itself: %v", k, err)
		}
		p, err := project.Open(folder)
		if err != nil {
			t.Fatalf("kill %d: the folder cannot be read: %v", k, err)
		}
		text := read(t, file)
		for _, line := range keep {
			if !strings.Contains(text, line) {
				t.Fatalf("kill %d: %q is gone", k, line)
			}
		}
		now, _ := typedText(p.Design, "nozzle.diameter")
		saved[now] = true
		n := 0
		for _, r := range p.Runs {
			n += len(r.Plateaus)
		}
		if n < readings {
			t.Fatalf("kill %d: %d readings where %d stood", k, n, readings)
		}
		readings = n
	}
	if readings == 0 || len(saved) < 2 {
		t.Fatalf("the children never came to save: %d readings, %d texts", readings, len(saved))
	}
	t.Logf("%d kills, %d readings kept", kills, readings)
}
