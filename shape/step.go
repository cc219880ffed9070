package shape

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// WriteSTEP writes bodies as one product: closed shells of planes, cylinders, cones, swept and spline surfaces, each a named solid, in
// millimetres (ISO 10303-21 and -214, whose entities for shape those of -242 are). The bytes are the same each time. No body is an error.
func WriteSTEP(w io.Writer, bodies []Solid, about About) error {
	if len(bodies) == 0 {
		return errors.New("STEP: there is no body to write")
	}
	for _, b := range bodies {
		if len(b.faces) == 0 {
			return fmt.Errorf("STEP: %s has no face", b.Name)
		}
	}
	o := &stepFile{Writer: bufio.NewWriterSize(w, 1<<16)}
	description := make([]string, 0, len(about.Lines)+1)
	for _, l := range append([]string{about.Title}, about.Lines...) {
		description = append(description, quoted(l))
	}
	fmt.Fprintf(o, "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION((%s),'2;1');\n", strings.Join(description, ","))
	// the time is left as it is in every file, so that the same parts are the same bytes
	fmt.Fprintf(o, "FILE_NAME(%s,'1970-01-01T00:00:00',(''),(''),'jetwright','jetwright','');\n", quoted(about.Title))
	o.WriteString("FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));\nENDSEC;\nDATA;\n")
	application := o.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')")
	o.add("APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#%d)", application)
	mechanical := o.add("PRODUCT_CONTEXT('',#%d,'mechanical')", application)
	product := o.add("PRODUCT(%s,%s,%s,(#%d))", quoted(about.Title), quoted(about.Title), quoted(strings.Join(about.Lines, "; ")), mechanical)
	o.add("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#%d))", product)
	formation := o.add("PRODUCT_DEFINITION_FORMATION('','',#%d)", product)
	stage := o.add("PRODUCT_DEFINITION_CONTEXT('part definition',#%d,'design')", application)
	definition := o.add("PRODUCT_DEFINITION('design','',#%d,#%d)", formation, stage)
	shape := o.add("PRODUCT_DEFINITION_SHAPE('','',#%d)", definition)
	length := o.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))")
	angle := o.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))")
	solid := o.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())")
	sharp := o.add("UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-5),#%d,'distance_accuracy_value','points that are nearer are one')", length)
	context := o.add("(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#%d))GLOBAL_UNIT_ASSIGNED_CONTEXT((#%d,#%d,#%d))REPRESENTATION_CONTEXT('',''))", sharp, length, angle, solid)
	items := []int{o.frame(Vec{}, Vec{0, 0, 1}, Vec{1, 0, 0})}
	for i := range bodies {
		items = append(items, o.solid(&bodies[i]))
	}
	representation := o.add("ADVANCED_BREP_SHAPE_REPRESENTATION(%s,%s,#%d)", quoted(about.Title), list(items), context)
	o.add("SHAPE_DEFINITION_REPRESENTATION(#%d,#%d)", shape, representation)
	o.WriteString("ENDSEC;\nEND-ISO-10303-21;\n")
	return o.Flush() // it holds the first error of all that was written
}

type stepFile struct {
	*bufio.Writer
	last int
}

// add writes an entity and returns its number.
func (o *stepFile) add(format string, args ...any) int {
	o.last++
	fmt.Fprintf(o, "#%d=", o.last)
	fmt.Fprintf(o, format, args...)
	o.WriteString(";\n")
	return o.last
}

func (o *stepFile) point(p Vec) int {
	o.last++
	b := o.AvailableBuffer()
	b = append(b, '#')
	b = strconv.AppendInt(b, int64(o.last), 10)
	b = append(b, "=CARTESIAN_POINT('',("...)
	for i := range 3 {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendReal(b, 1e3*p[i])
	}
	b = append(b, "));\n"...)
	o.Write(b)
	return o.last
}

func (o *stepFile) direction(v Vec) int {
	return o.add("DIRECTION('',(%s,%s,%s))", number(v[0]), number(v[1]), number(v[2]))
}

func (o *stepFile) frame(origin, axis, towards Vec) int {
	p, a, t := o.point(origin), o.direction(axis), o.direction(towards)
	return o.add("AXIS2_PLACEMENT_3D('',#%d,#%d,#%d)", p, a, t)
}

func (o *stepFile) round(c *circle) int {
	return o.add("CIRCLE('',#%d,%s)", o.frame(c.centre, c.axis, c.towards), number(1e3*c.radius))
}

func (o *stepFile) curve(c *Curve) int {
	ids := make([]int, len(c.Control))
	for i, p := range c.Control {
		ids[i] = o.point(p)
	}
	often, knots := counted(c.Knots)
	return o.add("B_SPLINE_CURVE_WITH_KNOTS('',%d,%s,.UNSPECIFIED.,.F.,.F.,%s,%s,.UNSPECIFIED.)", c.Degree, list(ids), often, knots)
}

func (o *stepFile) surface(f *face) int {
	switch {
	case f.plane != nil:
		return o.add("PLANE('',#%d)", o.frame(f.plane.origin, f.plane.normal, f.plane.towards))
	case f.cylinder != nil:
		return o.add("CYLINDRICAL_SURFACE('',#%d,%s)", o.frame(f.cylinder.centre, f.cylinder.axis, f.cylinder.towards), number(1e3*f.cylinder.radius))
	case f.cone != nil:
		return o.add("CONICAL_SURFACE('',#%d,%s,%s)", o.frame(f.cone.centre, f.cone.axis, f.cone.towards), number(1e3*f.cone.radius), number(f.widening))
	case f.turned != nil:
		origin, up := o.point(Vec{}), o.direction(Vec{0, 0, 1})
		axis := o.add("AXIS1_PLACEMENT('',#%d,#%d)", origin, up)
		return o.add("SURFACE_OF_REVOLUTION('',#%d,#%d)", o.curve(f.turned), axis)
	}
	rows := make([]string, len(f.patch.Control))
	for i, row := range f.patch.Control {
		ids := make([]int, len(row))
		for j, p := range row {
			ids[j] = o.point(p)
		}
		rows[i] = list(ids)
	}
	oftenU, u := counted(f.patch.Knots[0])
	oftenV, v := counted(f.patch.Knots[1])
	return o.add("B_SPLINE_SURFACE_WITH_KNOTS('',%d,%d,(%s),.UNSPECIFIED.,.F.,.F.,.F.,%s,%s,%s,%s,.UNSPECIFIED.)", f.patch.Degree[0], f.patch.Degree[1], strings.Join(rows, ","), oftenU, oftenV, u, v)
}

func (o *stepFile) solid(s *Solid) int {
	vertices := make([]int, len(s.vertices))
	for i, p := range s.vertices {
		vertices[i] = o.add("VERTEX_POINT('',#%d)", o.point(p))
	}
	edges := make([]int, len(s.edges))
	for i, e := range s.edges {
		var c int
		switch {
		case e.circle != nil:
			c = o.round(e.circle)
		case e.spline != nil:
			c = o.curve(e.spline)
		default:
			from, to := s.vertices[e.from], s.vertices[e.to]
			along := to.Minus(from)
			p, d := o.point(from), o.direction(along.Unit())
			c = o.add("LINE('',#%d,#%d)", p, o.add("VECTOR('',#%d,%s)", d, number(1e3*along.Norm())))
		}
		edges[i] = o.add("EDGE_CURVE('',#%d,#%d,#%d,.T.)", vertices[e.from], vertices[e.to], c)
	}
	faces := make([]int, len(s.faces))
	for i := range s.faces {
		f := &s.faces[i]
		bounds := make([]int, len(f.loops))
		for k, loop := range f.loops {
			uses := make([]int, len(loop))
			for j, u := range loop {
				uses[j] = o.add("ORIENTED_EDGE('',*,*,#%d,%s)", edges[u.edge], truth(!u.back))
			}
			kind := "FACE_BOUND"
			if k == 0 {
				kind = "FACE_OUTER_BOUND"
			}
			bounds[k] = o.add("%s('',#%d,.T.)", kind, o.add("EDGE_LOOP('',%s)", list(uses)))
		}
		faces[i] = o.add("ADVANCED_FACE('',%s,#%d,%s)", list(bounds), o.surface(f), truth(f.outward))
	}
	return o.add("MANIFOLD_SOLID_BREP(%s,#%d)", quoted(s.Name), o.add("CLOSED_SHELL('',%s)", list(faces)))
}

func truth(b bool) string {
	if b {
		return ".T."
	}
	return ".F."
}

func list(ids []int) string {
	b := []byte{'('}
	for i, id := range ids {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, '#')
		b = strconv.AppendInt(b, int64(id), 10)
	}
	return string(append(b, ')'))
}

// counted are the multiplicities of knots, and the knots without their repetitions.
func counted(knots []float64) (string, string) {
	var often, at []string
	for i := 0; i < len(knots); {
		j := i
		for j < len(knots) && knots[j] == knots[i] {
			j++
		}
		often, at = append(often, strconv.Itoa(j-i)), append(at, number(knots[i]))
		i = j
	}
	return "(" + strings.Join(often, ",") + ")", "(" + strings.Join(at, ",") + ")"
}

func number(x float64) string { return string(appendReal(nil, x)) }

// appendReal writes a number as the exchange structure wants it: with a point always, twelve digits.
func appendReal(b []byte, x float64) []byte {
	if x == 0 {
		return append(b, "0."...)
	}
	from := len(b)
	b = strconv.AppendFloat(b, x, 'G', 12, 64)
	for i := from; i < len(b); i++ {
		switch b[i] {
		case '.':
			return b
		case 'E':
			tail := string(b[i:])
			return append(append(b[:i], '.'), tail...)
		}
	}
	return append(b, '.')
}

// quoted writes a text: quotes doubled, signs beyond ASCII by their numbers (ISO 10303-21, 6.4.3).
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('\'')
	for _, r := range text {
		switch {
		case r == '\'':
			b.WriteString("''")
		case r == '\\':
			b.WriteString(`\\`)
		case r >= ' ' && r < 127:
			b.WriteRune(r)
		case r < ' ':
			b.WriteByte(' ')
		case r < 0x10000:
			fmt.Fprintf(&b, `\X2\%04X\X0\`, r)
		default:
			fmt.Fprintf(&b, `\X4\%08X\X0\`, r)
		}
	}
	b.WriteByte('\'')
	return b.String()
}
