package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// excerpt is a part of the output that the README shows: a heading and how many lines from it.
type excerpt struct {
	heading string
	lines   int
}

var readmeExcerpts = []excerpt{
	{"State at the design point", 12},
	{"Readings beside the prediction", 9},
	{"Calibrated model", 6},
	{"Claim:", 8},
	{"Audit of the promise", 9},
	{"Limits, nearest first", 14},
	{"How far the next test may go", 5},
}

// TestReadmeOutput holds the README's output to what the program prints; JETWRIGHT_UPDATE=1
// writes it anew.
func TestReadmeOutput(t *testing.T) {
	readme := filepath.Join("..", "..", "README.md")
	raw, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	if code := run([]string{"reckon", filepath.Join("..", "..", "examples", "rescue-sled")}, &out, &errs); code != 0 {
		t.Fatal(errs.String())
	}
	var show []string
	lines := strings.Split(out.String(), "\n")
	for _, x := range readmeExcerpts {
		found := false
		for i, l := range lines {
			if !strings.HasPrefix(l, x.heading) {
				continue
			}
			end := min(i+x.lines, len(lines))
			part := lines[i:end]
			for k, p := range part {
				if k > 0 && p == "" {
					part = part[:k]
					break
				}
			}
			show = append(show, part...)
			if end < len(lines) && lines[end] != "" && len(part) == x.lines {
				show = append(show, "  …")
			}
			show = append(show, "")
			found = true
			break
		}
		if !found {
			t.Errorf("the output has no %q", x.heading)
		}
	}
	const from, to = "<!-- output -->\n", "<!-- end of output -->"
	head, rest, ok1 := strings.Cut(string(raw), from)
	_, tail, ok2 := strings.Cut(rest, to)
	if !ok1 || !ok2 {
		t.Fatal("the README has no place for the output")
	}
	want := head + from + "```text\n" + strings.TrimRight(strings.Join(show, "\n"), "\n") + "\n```\n" + to + tail
	if os.Getenv("JETWRIGHT_UPDATE") != "" {
		if err := os.WriteFile(readme, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if string(raw) != want {
		t.Error("the README's output is stale; write it with: JETWRIGHT_UPDATE=1 go test ./cmd/jetwright -run Readme")
	}
}
