package report

import (
	"fmt"
	"math"
)

// SmallMultiples lays several charts in one picture, row by row. Their key stands above them
// once; so do the names of the curves where all charts have the same.
func SmallMultiples(id, title, about string, charts []Chart, columns int) string {
	columns = max(1, min(columns, 6, len(charts)))
	const width, gap = 760.0, 16.0
	if len(charts) == 0 {
		return nothing(id, title, about, width)
	}
	cell := (width - gap*float64(columns-1)) / float64(columns)
	height := math.Max(190, math.Min(300, 0.68*cell))
	if h := charts[0].Height; h >= 100 && h < 2000 {
		height = h
	}
	rows := (len(charts) + columns - 1) / columns
	p := newPencil(id, width, 0)
	top := 0.0
	if title != "" {
		p.text(8, 20, shortened(title, 15, width-16), lettering{size: 15, bold: true})
		top = 28
	}
	common, same := shared(charts)
	if end := common.key(p, box{0, 0, width, 0}, top, same, true); end > top {
		top = end + 8
	}
	p.h = top + float64(rows)*height + gap*float64(rows-1)
	for i, c := range charts {
		x, y := float64(i%columns)*(cell+gap), top+float64(i/columns)*(height+gap)
		c.draw(p, fmt.Sprintf("part%d-", i), box{x, y, cell, height}, !same, false)
	}
	return p.svg(title, about)
}

// shared gathers what the charts have in common: the marks of all, and the curves if all
// charts that have any have the same.
func shared(charts []Chart) (Chart, bool) {
	var all Chart
	same, seen := true, 0
	for _, c := range charts {
		all.Marks = append(all.Marks, c.Marks...)
		if len(c.Curves) == 0 {
			continue
		}
		if seen == 0 {
			all.Curves = c.Curves
		}
		seen++
		same = same && len(c.Curves) == len(all.Curves)
		for i := 0; same && i < len(c.Curves); i++ {
			same = c.Curves[i].Name == all.Curves[i].Name && c.Curves[i].Dashed == all.Curves[i].Dashed
		}
	}
	return all, same && seen > 1
}
