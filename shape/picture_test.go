package shape

import (
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"testing"
)

// picture draws a mesh into a depth buffer, to be looked at. turn and tilt are in rad.
func picture(m *Mesh, size int, turn, tilt float64) image.Image {
	st, ct := math.Sincos(turn)
	sp, cp := math.Sincos(tilt)
	see := func(v Vec) Vec { // z of the part lies to the right, then turned and tilted
		x, y, z := v[2], v[1], -v[0]
		x, z = ct*x+st*z, -st*x+ct*z
		y, z = cp*y-sp*z, sp*y+cp*z
		return Vec{x, y, z}
	}
	p := make([]Vec, len(m.Points))
	low, high := Vec{math.Inf(1), math.Inf(1), 0}, Vec{math.Inf(-1), math.Inf(-1), 0}
	for i, v := range m.Points {
		p[i] = see(v)
		for k := range 2 {
			low[k], high[k] = min(low[k], p[i][k]), max(high[k], p[i][k])
		}
	}
	scale := 0.94 * float64(size) / max(high[0]-low[0], high[1]-low[1])
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	depth := make([]float64, size*size)
	for i := range depth {
		depth[i] = math.Inf(-1)
		img.Set(i%size, i/size, color.White)
	}
	mid := low.Plus(high).Times(0.5)
	for _, t := range m.Triangles {
		var q [3]Vec
		for k := range q {
			v := p[t[k]]
			q[k] = Vec{float64(size)/2 + scale*(v[0]-mid[0]), float64(size)/2 - scale*(v[1]-mid[1]), v[2]}
		}
		n := p[t[1]].Minus(p[t[0]]).Cross(p[t[2]].Minus(p[t[0]]))
		if n.Norm() == 0 {
			continue
		}
		n = n.Unit()
		light := 0.25 + 0.75*max(0, n.Dot(Vec{0.4, 0.6, 0.7}.Unit()))
		c := color.RGBA{uint8(70 + 150*light), uint8(90 + 140*light), uint8(110 + 120*light), 255}
		if n[2] < 0 { // the inside, which must not be seen
			c = color.RGBA{200, 30, 30, 255}
		}
		den := (q[1][1]-q[2][1])*(q[0][0]-q[2][0]) + (q[2][0]-q[1][0])*(q[0][1]-q[2][1])
		if den == 0 {
			continue
		}
		x0, x1 := int(min(q[0][0], q[1][0], q[2][0])), int(max(q[0][0], q[1][0], q[2][0]))+1
		y0, y1 := int(min(q[0][1], q[1][1], q[2][1])), int(max(q[0][1], q[1][1], q[2][1]))+1
		for y := max(y0, 0); y <= min(y1, size-1); y++ {
			for x := max(x0, 0); x <= min(x1, size-1); x++ {
				fx, fy := float64(x)+0.5, float64(y)+0.5
				a := ((q[1][1]-q[2][1])*(fx-q[2][0]) + (q[2][0]-q[1][0])*(fy-q[2][1])) / den
				b := ((q[2][1]-q[0][1])*(fx-q[2][0]) + (q[0][0]-q[2][0])*(fy-q[2][1])) / den
				if a < -1e-6 || b < -1e-6 || a+b > 1+1e-6 {
					continue
				}
				if z := a*q[0][2] + b*q[1][2] + (1-a-b)*q[2][2]; z > depth[y*size+x] {
					depth[y*size+x] = z
					img.Set(x, y, c)
				}
			}
		}
	}
	return img
}

// With JETWRIGHT_PICTURES naming a folder the parts are drawn there, to be looked at. Whatever the view, no triangle's inside
// may be seen.
func TestPicturesLaw(t *testing.T) {
	folder := os.Getenv("JETWRIGHT_PICTURES")
	for name, p := range someParts() {
		m, f := p.Mesh(5e-5)
		if f != nil {
			t.Fatal(f)
		}
		size := 160
		if folder != "" {
			size = 900
		}
		img := picture(m, size, 0.7, 0.5)
		red := 0
		for y := range size {
			for x := range size {
				if r, g, _, _ := img.At(x, y).RGBA(); r>>8 == 200 && g>>8 == 30 {
					red++
				}
			}
		}
		if red > size*size/2000 { // along outlines a pixel may fall through
			t.Errorf("%s: %d pixels show the inside", name, red)
		}
		if folder != "" {
			w, err := os.Create(folder + "/" + name + ".png")
			if err != nil {
				t.Fatal(err)
			}
			if err := png.Encode(w, img); err != nil {
				t.Fatal(err)
			}
			_ = w.Close()
		}
	}
}
