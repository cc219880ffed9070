package project

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"jetwright/notice"
	"jetwright/quantity"
)

// NewSet starts a folder with several drives in it, a folder each, by their names and the text of their drive.toml. All of
// them come at once or none; a folder that holds anything is left as it is.
func NewSet(folder string, drives []File) (err error) {
	if err := Vacant(folder); err != nil {
		return err
	}
	place, err := filepath.Abs(folder)
	if err != nil {
		return unmade(folder, err)
	}
	above := filepath.Dir(place)
	undo, err := makeFolders(above)
	if err != nil {
		return unmade(above, err)
	}
	beside, err := os.MkdirTemp(above, ".sized-*")
	if err != nil {
		undo()
		return unmade(folder, err)
	}
	defer func() {
		if err != nil {
			_ = os.RemoveAll(beside)
			undo()
		}
	}()
	if err := os.Chmod(beside, 0o755); err != nil {
		return unmade(folder, err)
	}
	var outputs []output
	for _, d := range drives {
		to := filepath.Join(beside, d.Name)
		if err := os.Mkdir(to, 0o755); err != nil {
			return unmade(folder, err)
		}
		outputs = append(outputs, output{path: filepath.Join(to, DesignFile), data: d.Data})
	}
	if err := replace(outputs...); err != nil {
		return err
	}
	// An empty folder gives way to the new one; one that was filled meanwhile stays and does not.
	_ = os.Remove(place)
	if err := os.Rename(beside, place); err != nil {
		if taken := Vacant(folder); taken != nil {
			return taken
		}
		return unmade(folder, err)
	}
	if d, err := os.Open(above); err == nil {
		_ = d.Sync()
		_ = d.Close()
	}
	return nil
}

// Vacant tells whether drives may be written to a folder: it is not there, or is empty.
func Vacant(folder string) error {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) || err == nil && len(entries) == 0 {
		return nil
	}
	if info, bad := os.Stat(folder); err == nil || bad == nil && !info.IsDir() {
		return notice.List{{Kind: notice.Error, Place: quantity.Place{File: folder}, What: "it is there and holds something; nothing is written over it", WayOut: "name a new folder"}}
	}
	return explain(folder, err)
}

// KnownKeys reads the text of a file with keys of drive.toml.
func KnownKeys(file string) ([]byte, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, notice.List{{Kind: notice.Error, Place: quantity.Place{File: file}, What: "it cannot be read: " + plain(err), WayOut: "name a file with keys of " + DesignFile}}
	}
	return data, nil
}
