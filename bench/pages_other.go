//go:build !linux

package bench

func hugePages([]float64) {}
