package project

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"jetwright/notice"
	"jetwright/quantity"
)

// UnsavedFile keeps changes that were typed on the page and are not written into the design yet.
const UnsavedFile = ".unsaved.json"

// Unsaved is one such change.
type Unsaved struct {
	Path string  `json:"path"`
	Was  *string `json:"was"` // text in the file when it was changed; null where it had none
	Now  *string `json:"now"` // null where the key was taken out
}

// WriteUnsaved keeps changes, whole or not at all; without any the file goes.
func WriteUnsaved(folder string, list []Unsaved) error {
	path := filepath.Join(folder, UnsavedFile)
	if len(list) == 0 {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return notice.List{{Kind: notice.Error, Place: quantity.Place{File: UnsavedFile}, What: "it cannot be taken away: " + plain(err), WayOut: "take it away by hand; what it holds is in " + DesignFile}}
		}
		return nil
	}
	data, err := json.MarshalIndent(list, "", "  ")
	if err != nil {
		return err
	}
	return replace(output{path: path, data: append(data, '\n')})
}

// ReadUnsaved returns the changes that were kept. A file that cannot be read is put aside under another name, and said.
func ReadUnsaved(folder string) ([]Unsaved, notice.List) {
	path := filepath.Join(folder, UnsavedFile)
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var list []Unsaved
	if err == nil {
		err = json.Unmarshal(data, &list)
	}
	if err == nil {
		for _, x := range list {
			if x.Path == "" {
				err = errors.New("a change does not say of which key")
			}
		}
	}
	if err == nil {
		return list, nil
	}
	aside := path
	for n := 1; ; n++ {
		aside = fmt.Sprintf("%s.%d", path, n)
		if _, there := os.Lstat(aside); errors.Is(there, fs.ErrNotExist) {
			break
		}
	}
	out := "look into it with a text editor"
	if os.Rename(path, aside) == nil {
		out = "it is kept as " + filepath.Base(aside) + "; " + out
	}
	return nil, notice.List{{Kind: notice.Warning, Place: quantity.Place{File: UnsavedFile}, What: "changes that were kept cannot be read: " + plain(err), WayOut: out}}
}
