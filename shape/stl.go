package shape

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"
)

// STL writes a mesh as binary STL in mm. The 80 bytes at its head take what fits of the label; a file that begins with "solid"
// would be taken for text by many readers, so it never does.
func (m *Mesh) STL(w io.Writer, label string) error {
	if len(label) > 80 {
		return fmt.Errorf("the label of an STL file takes 80 bytes, not %d", len(label))
	}
	if len(label) >= 5 && label[:5] == "solid" {
		return fmt.Errorf("the label of a binary STL file must not begin with solid")
	}
	b := make([]byte, 0, 84+50*len(m.Triangles))
	b = append(b, label...)
	for len(b) < 80 {
		b = append(b, ' ')
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(len(m.Triangles)))
	put := func(v Vec, k float64) {
		for _, x := range v {
			b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(k*x)))
		}
	}
	for _, t := range m.Triangles {
		p, q, r := m.Points[t[0]], m.Points[t[1]], m.Points[t[2]]
		n := q.Minus(p).Cross(r.Minus(p))
		if l := n.Norm(); l > 0 {
			n = n.Times(1 / l)
		}
		put(n, 1)
		for _, v := range []Vec{p, q, r} {
			put(v, 1e3)
		}
		b = append(b, 0, 0)
	}
	_, err := w.Write(b)
	return err
}
