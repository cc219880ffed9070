package project

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"jetwright/design"
	"jetwright/notice"
	"jetwright/quantity"
)

// Parts reads a file of parts to choose from, by its path or by its name in the folder.
func (p *Project) Parts(file string) (*design.Parts, notice.List, error) {
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) && !filepath.IsAbs(file) {
		data, err = os.ReadFile(filepath.Join(p.Folder, file))
	}
	if err != nil {
		n := notice.Notice{Kind: notice.Error, Place: quantity.Place{File: file}, What: "it cannot be read: " + err.Error()}
		if errors.Is(err, fs.ErrNotExist) {
			n.What, n.WayOut = "there is no such file of parts", "name a file with [[motor]], [[controller]] and [[battery]], each with a name; the scene rescue-sled has one, parts.toml"
		}
		return nil, nil, notice.List{n}
	}
	parts, faults := p.Design.ReadParts(filepath.ToSlash(file), data)
	return parts, faults, faults.Fatal()
}
