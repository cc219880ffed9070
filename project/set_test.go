package project

import (
	"os"
	"path/filepath"
	"testing"
)

// Drives are written together into a folder that is not there or empty; what is there stays as it is, and nothing is left
// behind beside it.
func TestNewSet(t *testing.T) {
	dir := t.TempDir()
	set := []File{{Name: "a", Data: []byte("# a\n")}, {Name: "b", Data: []byte("# b\n")}}
	empty := filepath.Join(dir, "empty")
	if err := os.Mkdir(empty, 0o755); err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{filepath.Join(dir, "deep", "sled"), empty} {
		if err := NewSet(to, set); err != nil {
			t.Fatal(err)
		}
		for _, f := range set {
			if got, err := os.ReadFile(filepath.Join(to, f.Name, DesignFile)); err != nil || string(got) != string(f.Data) {
				t.Errorf("%s/%s: %q, %v", to, f.Name, got, err)
			}
		}
	}
	full, file := filepath.Join(dir, "full"), filepath.Join(dir, "file")
	if err := os.MkdirAll(filepath.Join(full, "mine"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, to := range []string{full, file, filepath.Join(file, "below")} {
		if err := NewSet(to, set); err == nil {
			t.Errorf("%s was written over", to)
		}
	}
	if got, _ := os.ReadFile(file); string(got) != "mine" {
		t.Errorf("the file holds %q", got)
	}
	// a name that cannot be made: all or none
	if err := NewSet(filepath.Join(dir, "new", "set"), append(set, File{Name: "a"})); err == nil {
		t.Error("two drives of one name were written")
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != 4 {
		t.Errorf("%d entries are left, %v", len(entries), err)
	}
}
