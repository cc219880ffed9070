// Package shape is geometry and nothing else: sections, surfaces, solids, and the files that hold them. Lengths are metres inside and
// millimetres in every file.
package shape
