// Package examples embeds the scenes that a new folder starts from.
package examples

import "embed"

// Scenes are the worked examples, a folder each.
//
//go:embed all:rescue-sled all:lake-sled all:pond-board
var Scenes embed.FS
