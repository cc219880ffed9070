package synth_test

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"jetwright/synth"
)

// sceneDay is the bench day of the rescue sled's logs: the ladder, with the controller's log kept
// small.
func sceneDay() synth.Day {
	d := synth.Ladder()
	d.ControllerRate = 10
	return d
}

// The logs of the rescue sled are those that the generator makes, and their truth is recorded
// beside it. JETWRIGHT_UPDATE=1 writes them anew.
func TestSceneFresh(t *testing.T) {
	files, truth := sceneDay().Make()
	record, err := json.MarshalIndent(truth, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	run := filepath.Join("..", "examples", "rescue-sled", "runs", "2026-05-16-logs")
	for path, want := range map[string][]byte{
		filepath.Join(run, "scale.csv"):                     files.Scale,
		filepath.Join(run, "controller.csv"):                files.Controller,
		filepath.Join("testdata", "rescue-sled-truth.json"): append(record, '\n'),
	} {
		if os.Getenv("JETWRIGHT_UPDATE") != "" {
			if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, want, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		have, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(have, want) {
			t.Errorf("%s is stale; write it with: JETWRIGHT_UPDATE=1 go test ./synth", path)
		}
	}
}
