package quantity

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

// FieldKind says what a field of a part holds.
type FieldKind int8

// Kinds of field.
const (
	KindNumber   FieldKind = iota // float64: a quantity that has to be known
	KindOptional                  // Optional: a quantity that may be left out
	KindWhole                     // int: a whole number
	KindText                      // string: a choice, or free text
	KindFlag                      // bool: yes or no
	KindList                      // []float64: quantities
)

// String returns the kind in words.
func (k FieldKind) String() string {
	switch k {
	case KindOptional:
		return "number that may be left out"
	case KindWhole:
		return "whole number"
	case KindText:
		return "text"
	case KindFlag:
		return "true or false"
	case KindList:
		return "list of numbers"
	}
	return "number"
}

// Bounds are two ends, both included, in SI.
type Bounds struct{ Low, High float64 }

// Contains tells whether x, in SI, lies within b.
func (b Bounds) Contains(x float64) bool { return b.Low <= x && x <= b.High }

// Text writes the bounds in unit u: "5 .. 500 mm".
func (b Bounds) Text(u Unit) string {
	if b.Low == b.High {
		return Exact(b.Low, u).String()
	}
	return Between(b.Low, b.High, u).String()
}

// Field is what the struct tags of one field declare. Range, Usual and Assume are nil
// where the tag is absent.
type Field struct {
	Path    string // "nozzle.diameter": Section and Key
	Section string // "nozzle"; empty for a field of the outermost struct
	Key     string // "diameter"
	Doc     string // meaning, one phrase
	Source  string // key of the source of what is assumed
	Unit    Unit   // of the tags, and to show the field in
	Kind    FieldKind
	Range   *Bounds // impossible outside
	Usual   *Bounds // suspicious outside
	Assume  *Bounds // used where nothing is typed; equal ends are one number
	// AssumeText is the tag itself: figures, or a word for a KindText or KindFlag.
	AssumeText string
	Choices    []string // the words that a KindText may be; nil for free text
	Was        []string // former paths
	Index      []int    // of the field in the outermost struct, for reflection

	assumed Value
}

// Required tells whether the field has to be typed: it is a number or whole number for
// which nothing is assumed.
func (f Field) Required() bool {
	if f.AssumeText != "" {
		return false
	}
	return f.Kind == KindNumber || f.Kind == KindWhole
}

// Assumed returns what is assumed where nothing is typed, with its origin, and false for
// a field that assumes no number.
func (f Field) Assumed() (Value, bool) {
	return f.assumed, f.Assume != nil
}

// JSONKey returns the key with the unit behind it: "thrust_N".
func (f Field) JSONKey() string {
	if token := f.Unit.Token(); token != "" {
		return f.Key + "_" + token
	}
	return f.Key
}

// Schema is what a struct of parts, or a struct of results, declares: its fields in
// order, found by path. It never changes after it is made and may be used by many
// goroutines.
type Schema struct {
	model  reflect.Type
	fields []Field
	byPath map[string]int
	old    map[string]int // former paths
}

// SchemaOf reads the struct tags of model, a struct or a pointer to one. A field that is
// a struct is a section, named in snake_case like every key (TipGap is tip_gap); a
// section in a section has a path of its own (heat.bridge); the fields of an embedded
// struct belong to the section they stand in.
//
// The tags of a number, of a text and of a flag:
//
//	unit:"mm"               unit of range, usual and assume, and to show it in; "1" for none
//	doc:"bore at the outlet" meaning, one phrase without full stop; has to be there
//	range:"5 .. 500"        impossible outside
//	usual:"20 .. 200"       suspicious outside
//	assume:"0.02 .. 0.06"   used where nothing is typed: a number, or a word of choices
//	source:"key"            source of the assumption
//	choices:"fresh|sea"     the words a text may be
//	was:"old,older"         former keys in the section, or former paths
//	key:"name"              another key than the field's name; "-" leaves the field out
//	section:"name"          the same for a section
//
// Fields of other kinds (slices of structs, maps, functions) are left out unless they
// have such tags. An error names the field and the tag.
func SchemaOf(model any) (*Schema, error) {
	t := reflect.TypeOf(model)
	if t != nil && t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if t == nil || t.Kind() != reflect.Struct {
		return nil, fmt.Errorf("quantity: a schema is read from a struct, not from %v", t)
	}
	s := &Schema{model: t, byPath: make(map[string]int), old: make(map[string]int)}
	if err := s.gather(t, "", nil); err != nil {
		return nil, err
	}
	for i, f := range s.fields {
		for _, was := range f.Was {
			if j, ok := s.byPath[was]; ok {
				return nil, fmt.Errorf("quantity: %s was called %s, but that is a field (%s)", f.Path, was, s.fields[j].Path)
			}
			if j, ok := s.old[was]; ok {
				return nil, fmt.Errorf("quantity: both %s and %s were called %s", s.fields[j].Path, f.Path, was)
			}
			s.old[was] = i
		}
	}
	return s, nil
}

// tags are the struct tags that declare a field.
var tags = [...]string{"unit", "doc", "range", "usual", "assume", "source", "choices", "was"}

// gather appends the fields of struct t, which is section.
func (s *Schema) gather(t reflect.Type, section string, index []int) error {
	for i := range t.NumField() {
		field := t.Field(i)
		key, named := field.Tag.Lookup("key")
		if key == "-" || !field.IsExported() && !field.Anonymous {
			continue
		}
		at := append(slices.Clone(index), i)
		kind, known := kindOf(field.Type)
		if !known && field.Type.Kind() == reflect.Struct {
			name := section
			if given, ok := field.Tag.Lookup("section"); ok {
				key, named = given, true
			}
			if named || !field.Anonymous {
				if !named {
					key = SnakeCase(field.Name)
				}
				name = joinPath(section, key)
			}
			if err := s.gather(field.Type, name, at); err != nil {
				return err
			}
			continue
		}
		if !field.IsExported() {
			continue
		}
		if !named {
			key = SnakeCase(field.Name)
		}
		if !known {
			for _, tag := range tags {
				if _, ok := field.Tag.Lookup(tag); ok {
					return fmt.Errorf("quantity: %s: a field of type %v cannot be declared with the tag %s",
						joinPath(section, key), field.Type, tag)
				}
			}
			continue
		}
		f := Field{Path: joinPath(section, key), Section: section, Key: key, Kind: kind, Index: at}
		if err := f.declare(field); err != nil {
			return fmt.Errorf("quantity: %s (%v.%s): %w", f.Path, t, field.Name, err)
		}
		if j, ok := s.byPath[f.Path]; ok {
			return fmt.Errorf("quantity: two fields are called %s (%v and %v)", f.Path, s.fields[j].Index, f.Index)
		}
		s.byPath[f.Path] = len(s.fields)
		s.fields = append(s.fields, f)
	}
	return nil
}

func joinPath(section, key string) string {
	if section == "" {
		return key
	}
	return section + "." + key
}

// kindOf returns the kind of field that a Go type is.
func kindOf(t reflect.Type) (FieldKind, bool) {
	if t == reflect.TypeFor[Optional]() {
		return KindOptional, true
	}
	switch t.Kind() {
	case reflect.Float64:
		return KindNumber, true
	case reflect.Int:
		return KindWhole, true
	case reflect.String:
		return KindText, true
	case reflect.Bool:
		return KindFlag, true
	case reflect.Slice:
		return KindList, t.Elem().Kind() == reflect.Float64
	}
	return 0, false
}

// declare reads the tags of one field.
func (f *Field) declare(field reflect.StructField) error {
	tag := field.Tag
	f.Doc, f.Source, f.AssumeText = tag.Get("doc"), tag.Get("source"), tag.Get("assume")
	if f.Doc == "" {
		return fmt.Errorf("no tag doc; write what it means, or key:\"-\" to leave the field out")
	}
	if strings.HasSuffix(f.Doc, ".") {
		return fmt.Errorf("doc ends in a full stop: %q", f.Doc)
	}
	if f.Key == "" || strings.ContainsAny(f.Key, ". \t\"'=#[]") {
		return fmt.Errorf("key %q cannot stand in a path", f.Key)
	}
	if was := tag.Get("was"); was != "" {
		for name := range strings.SplitSeq(was, ",") {
			name = strings.TrimSpace(name)
			if name == "" {
				return fmt.Errorf("was %q has an empty name", was)
			}
			if !strings.Contains(name, ".") {
				name = joinPath(f.Section, name)
			}
			f.Was = append(f.Was, name)
		}
	}
	if f.Kind == KindText || f.Kind == KindFlag {
		return f.declareWord(tag)
	}
	if err := f.declareUnit(tag); err != nil {
		return err
	}
	if _, ok := tag.Lookup("choices"); ok {
		return fmt.Errorf("choices are for text, this is a %v", f.Kind)
	}
	var err error
	if f.Range, _, err = f.bounds(tag, "range"); err != nil {
		return err
	}
	if f.Usual, _, err = f.bounds(tag, "usual"); err != nil {
		return err
	}
	if f.Assume, f.assumed, err = f.bounds(tag, "assume"); err != nil {
		return err
	}
	for _, inner := range []struct {
		name   string
		bounds *Bounds
	}{{"usual", f.Usual}, {"assume", f.Assume}} {
		if f.Range != nil && inner.bounds != nil && !(f.Range.Contains(inner.bounds.Low) && f.Range.Contains(inner.bounds.High)) {
			return fmt.Errorf("%s %q reaches outside range %q", inner.name, tag.Get(inner.name), tag.Get("range"))
		}
	}
	if f.Assume != nil {
		switch {
		case f.Kind == KindOptional || f.Kind == KindList:
			return fmt.Errorf("a %v assumes nothing, but assume is %q", f.Kind, f.AssumeText)
		case f.Kind == KindWhole && (!f.assumed.IsExact() || f.Assume.Low != math.Trunc(f.Assume.Low)):
			return fmt.Errorf("assume %q is not a whole number", f.AssumeText)
		}
		f.assumed = f.assumed.WithOrigin(Origin{Kind: Assumed, Source: f.Source})
	}
	return nil
}

func (f *Field) declareUnit(tag reflect.StructTag) error {
	symbol, ok := tag.Lookup("unit")
	if !ok {
		if f.Kind != KindWhole {
			return fmt.Errorf(`no tag unit; write unit:"1" if it has none`)
		}
		symbol = "1"
	}
	u, ok := LookupUnit(symbol)
	if !ok {
		guess := ""
		if near := NearestUnits(symbol); len(near) > 0 {
			guess = "; did you mean " + near[0].Symbol + "?"
		}
		return fmt.Errorf("no unit is called %q%s", symbol, guess)
	}
	if f.Kind == KindWhole && !u.IsOne() {
		return fmt.Errorf("a whole number has unit 1, not %q", symbol)
	}
	f.Unit = u
	return nil
}

// declareWord reads the tags of a text or a flag.
func (f *Field) declareWord(tag reflect.StructTag) error {
	for _, name := range [...]string{"unit", "range", "usual"} {
		if _, ok := tag.Lookup(name); ok {
			return fmt.Errorf("a %v has no %s", f.Kind, name)
		}
	}
	f.Unit = One
	choices, ok := tag.Lookup("choices")
	if f.Kind == KindFlag {
		if ok {
			return fmt.Errorf("choices are for text, this is a %v", f.Kind)
		}
		if f.AssumeText != "" && f.AssumeText != "true" && f.AssumeText != "false" {
			return fmt.Errorf("assume %q is neither true nor false", f.AssumeText)
		}
		return nil
	}
	if !ok {
		return nil
	}
	f.Choices = strings.Split(choices, "|")
	for i, c := range f.Choices {
		if c == "" || c != strings.TrimSpace(c) || slices.Contains(f.Choices[:i], c) {
			return fmt.Errorf("choices %q hold an empty, padded or repeated word", choices)
		}
	}
	if f.AssumeText != "" && !slices.Contains(f.Choices, f.AssumeText) {
		return fmt.Errorf("assume %q is not among choices %q", f.AssumeText, choices)
	}
	return nil
}

// bounds reads a tag that holds a number or two ends in the field's unit.
func (f *Field) bounds(tag reflect.StructTag, name string) (*Bounds, Value, error) {
	text, ok := tag.Lookup(name)
	if !ok {
		return nil, Value{}, nil
	}
	v, err := ParseIn(text, f.Unit)
	if err != nil {
		bare, fault := Parse(text)
		switch {
		case fault != nil:
			err = fault
		case bare.Unit().IsOne():
			v, err = ParseIn(withUnit(text, f.Unit), f.Unit)
		}
	}
	if err != nil {
		return nil, Value{}, fmt.Errorf("%s %q: %w", name, text, err)
	}
	if name != "assume" && v.Spread() != SpreadRange {
		return nil, Value{}, fmt.Errorf("%s %q is not of the form \"5 .. 500\"", name, text)
	}
	return &Bounds{v.Low(), v.High()}, v, nil
}

// Fields returns the fields in the order of their declaration. They are the schema's own and must not be changed.
func (s *Schema) Fields() []Field { return s.fields[:len(s.fields):len(s.fields)] }

// Sections returns the names of the sections in the order they are declared.
func (s *Schema) Sections() []string {
	var names []string
	for i := range s.fields {
		if name := s.fields[i].Section; !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// Section returns the fields of one section.
func (s *Schema) Section(name string) []Field {
	var fields []Field
	for _, f := range s.fields {
		if f.Section == name {
			fields = append(fields, f)
		}
	}
	return fields
}

// Lookup finds a field by its path or by a former path. The latter was used if the
// Path of the field differs from path; see Renamed.
func (s *Schema) Lookup(path string) (Field, bool) {
	if i, ok := s.byPath[path]; ok {
		return s.fields[i], true
	}
	if i, ok := s.old[path]; ok {
		return s.fields[i], true
	}
	return Field{}, false
}

// Renamed returns the present path of a field that path is a former name of.
func (s *Schema) Renamed(path string) (now string, renamed bool) {
	if i, ok := s.old[path]; ok {
		return s.fields[i].Path, true
	}
	return "", false
}

// SnakeCase writes the name of a Go field as a key: TipGap is tip_gap, NPSHAvailable is
// npsh_available, SuctionSpecificSpeed3 is suction_specific_speed_3, KV is kv.
func SnakeCase(name string) string {
	letters := []rune(name)
	var b strings.Builder
	for i, c := range letters {
		if i > 0 && c != '_' && letters[i-1] != '_' {
			last := letters[i-1]
			next := rune(0)
			if i+1 < len(letters) {
				next = letters[i+1]
			}
			switch {
			case unicode.IsUpper(c) && !unicode.IsUpper(last),
				unicode.IsUpper(c) && unicode.IsUpper(last) && unicode.IsLower(next),
				unicode.IsDigit(c) && !unicode.IsDigit(last):
				b.WriteByte('_')
			}
		}
		b.WriteRune(unicode.ToLower(c))
	}
	return b.String()
}
