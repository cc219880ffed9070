// Package second asks for second opinions: scripts beside the comparisons, by the first Python that has SciPy.
package second

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"

	"jetwright/design"
	"jetwright/drive"
	"jetwright/quantity"
)

// SciPy hands a question to a script below sidebyside as JSON, and reads its answer into another value.
func SciPy(script string, question, answer any) error {
	text, err := json.Marshal(question)
	if err != nil {
		return err
	}
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import scipy").Run() != nil {
			continue
		}
		cmd := exec.Command(python, filepath.Join("sidebyside", script))
		cmd.Stdin, cmd.Stderr = bytes.NewReader(text), os.Stderr
		out, err := cmd.Output()
		if err != nil {
			return err
		}
		return json.Unmarshal(out, answer)
	}
	return errors.New("no Python with SciPy was found; on Debian: apt-get install python3-scipy")
}

// Plain is a drive as nested maps of SI numbers.
func Plain(d drive.Drive) map[string]map[string]any {
	schema := design.Schema()
	out := map[string]map[string]any{}
	for _, f := range schema.Fields() {
		if out[f.Section] == nil {
			out[f.Section] = map[string]any{}
		}
		if x, ok := schema.Get(&d, f); ok {
			out[f.Section][f.Key] = x
		} else if w, ok := schema.Text(&d, f); ok && f.Kind == quantity.KindText {
			out[f.Section][f.Key] = w
		} else if list, ok := schema.List(&d, f); ok {
			out[f.Section][f.Key] = list
		}
	}
	return out
}
