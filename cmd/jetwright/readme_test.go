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
	command string
	heading string
	lines   int
}

var readmeExcerpts = []excerpt{
	{"reckon", "State at the design point", 12},
	{"reduce", "2026-05-16-logs", 8},
	{"reduce", "Plateaus", 10},
	{"reduce", "Channels in doubt", 5},
	{"reckon", "Readings beside the prediction", 9},
	{"reckon", "Calibrated model", 6},
	{"reckon", "Claim:", 8},
	{"reckon", "Audit of the promise", 9},
	{"reckon", "Limits, nearest first", 14},
	{"reckon", "How far the next test may go", 5},
}

// TestReadmeOutput holds the README's output to what the program prints; JETWRIGHT_UPDATE=1
// writes it anew.
func TestReadmeOutput(t *testing.T) {
	readme := filepath.Join("..", "..", "README.md")
	raw, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	printed := map[string][]string{}
	for _, command := range []string{"reckon", "reduce"} {
		var out, errs bytes.Buffer
		if code := run([]string{command, filepath.Join("..", "..", "examples", "rescue-sled")}, &out, &errs); code != 0 {
			t.Fatal(errs.String())
		}
		printed[command] = strings.Split(out.String(), "\n")
	}
	var show []string
	for _, x := range readmeExcerpts {
		found := false
		lines := printed[x.command]
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
