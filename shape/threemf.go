package shape

import (
	"archive/zip"
	"bufio"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// About is what a file says of itself: whose part it is, and what it must not be used for.
type About struct {
	Title string
	Lines []string // revision, hand of rotation, grade of the model, warnings; one line each
}

// Text is all of it in one line.
func (a About) Text() string { return strings.Join(append([]string{a.Title}, a.Lines...), "; ") }

// Body3MF is a closed surface of triangles that is one part of a file; its triangles run counter-clockwise seen from outside.
type Body3MF struct {
	Name      string
	Points    [][3]float64 // m
	Triangles [][3]int     // of points
}

const (
	model3MF = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
	types3MF = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
`
	links3MF = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
`
)

// Write3MF writes bodies as a 3MF package in millimetres (3MF Core Specification 1.3: three parts of a zip, units and names of parts).
// The bytes are the same each time. A body without triangles, or with one that names a point that is not there, is an error.
func Write3MF(w io.Writer, bodies []Body3MF, about About) error {
	if len(bodies) == 0 {
		return errors.New("3MF: there is no body to write")
	}
	for _, b := range bodies {
		if len(b.Triangles) == 0 {
			return fmt.Errorf("3MF: %s has no triangles", b.Name)
		}
		for i, t := range b.Triangles {
			for _, k := range t {
				if k < 0 || k >= len(b.Points) {
					return fmt.Errorf("3MF: triangle %d of %s has no point %d; there are %d", i, b.Name, k, len(b.Points))
				}
			}
		}
	}
	z := zip.NewWriter(w)
	for _, f := range []struct{ name, text string }{{"[Content_Types].xml", types3MF}, {"_rels/.rels", links3MF}} {
		part, err := z.Create(f.name)
		if err != nil {
			return err
		}
		if _, err = io.WriteString(part, f.text); err != nil {
			return err
		}
	}
	part, err := z.Create("3D/3dmodel.model")
	if err != nil {
		return err
	}
	out := bufio.NewWriterSize(part, 1<<16)
	fmt.Fprintf(out, "%s<model unit=\"millimeter\" xml:lang=\"en\" xmlns=\"%s\">\n", xml.Header, model3MF)
	fmt.Fprintf(out, " <metadata name=\"Title\">%s</metadata>\n <metadata name=\"Description\">%s</metadata>\n <resources>\n", escaped(about.Title), escaped(strings.Join(about.Lines, "\n")))
	var number []byte
	for i, b := range bodies {
		fmt.Fprintf(out, "  <object id=\"%d\" type=\"model\" name=\"%s\">\n   <mesh>\n    <vertices>\n", i+1, escaped(b.Name))
		for _, p := range b.Points {
			number = append(number[:0], `<vertex x="`...)
			number = appendMillimetres(number, p[0])
			number = append(number, `" y="`...)
			number = appendMillimetres(number, p[1])
			number = append(number, `" z="`...)
			number = appendMillimetres(number, p[2])
			number = append(number, "\"/>\n"...)
			out.Write(number)
		}
		out.WriteString("    </vertices>\n    <triangles>\n")
		for _, t := range b.Triangles {
			number = append(number[:0], `<triangle v1="`...)
			number = strconv.AppendInt(number, int64(t[0]), 10)
			number = append(number, `" v2="`...)
			number = strconv.AppendInt(number, int64(t[1]), 10)
			number = append(number, `" v3="`...)
			number = strconv.AppendInt(number, int64(t[2]), 10)
			number = append(number, "\"/>\n"...)
			out.Write(number)
		}
		out.WriteString("    </triangles>\n   </mesh>\n  </object>\n")
	}
	out.WriteString(" </resources>\n <build>\n")
	for i := range bodies {
		fmt.Fprintf(out, "  <item objectid=\"%d\"/>\n", i+1)
	}
	out.WriteString(" </build>\n</model>\n")
	if err := out.Flush(); err != nil { // it holds the first error of all that was written
		return err
	}
	return z.Close()
}

// appendMillimetres appends a length in metres as a number of millimetres, to a tenth of a micrometre.
func appendMillimetres(b []byte, metres float64) []byte {
	from := len(b)
	b = strconv.AppendFloat(b, 1e3*metres, 'f', 4, 64)
	for len(b) > from && b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b[from:]) == "-0" {
		b = append(b[:from], '0')
	}
	return b
}

func escaped(text string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(text)) // a builder takes everything
	return b.String()
}
