package desk

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

var (
	bibEntry = regexp.MustCompile(`(?ms)^@\w+\{([^,]+),\n(.*?)^\}`)
	bibField = regexp.MustCompile(`(?m)^\s*(\w+)\s*=\s*\{(.*)\},?\s*$`)
)

// accents are the spellings of letters that the bibliography uses.
var accents = strings.NewReplacer(`{\"u}`, "ü", `{\"o}`, "ö", `{\"a}`, "ä", `{\ss}`, "ß", `{\'e}`, "é", `{\'\i}`, "í", `{\'i}`, "í", `\%`, "%", `\&`, "&", "--", "–", "{", "", "}", "")

// gatherSources reads docs/sources.bib.
func gatherSources(t *testing.T) []Source {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("..", "docs", "sources.bib"))
	if err != nil {
		t.Fatal(err)
	}
	var out []Source
	for _, m := range bibEntry.FindAllStringSubmatch(string(raw), -1) {
		s := Source{Key: strings.TrimSpace(m[1])}
		for _, f := range bibField.FindAllStringSubmatch(m[2], -1) {
			text := accents.Replace(f[2])
			switch f[1] {
			case "author":
				s.Author = strings.ReplaceAll(text, " and ", "; ")
			case "title":
				s.Title = text
			case "year":
				s.Year = text
			case "note":
				s.Note = text
			}
		}
		out = append(out, s)
	}
	return out
}

// TestSourcesFresh holds the bibliography that the program carries to docs/sources.bib;
// JETWRIGHT_UPDATE=1 writes it anew.
func TestSourcesFresh(t *testing.T) {
	list := gatherSources(t)
	if len(list) < 20 {
		t.Fatalf("only %d sources were found", len(list))
	}
	for _, s := range list {
		if s.Title == "" || strings.ContainsAny(s.Author+s.Title, `\{}`) {
			t.Errorf("%s reads as %+v", s.Key, s)
		}
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	if err := enc.Encode(list); err != nil {
		t.Fatal(err)
	}
	if os.Getenv("JETWRIGHT_UPDATE") != "" {
		if err := os.WriteFile("sources.json", b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(b.Bytes(), sourcesFile) {
		t.Error("sources.json is stale; write it with: JETWRIGHT_UPDATE=1 go test ./desk -run Fresh")
	}
}
