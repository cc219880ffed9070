package quantity

import (
	"fmt"
	"math"
	"reflect"
)

// The accessors take the struct that the schema was made of, or a pointer to it; those
// that write take a pointer. A pointer saves copying the struct. A model of another type,
// or a field of another kind than the accessor is for, is a mistake of the program and
// panics; f is taken from the same schema.

// value returns the field of a model.
func (s *Schema) value(model any, f Field) reflect.Value { return s.at(model, &f) }

func (s *Schema) at(model any, f *Field) reflect.Value {
	v := reflect.ValueOf(model)
	if v.Kind() == reflect.Pointer {
		v = v.Elem()
	}
	if !v.IsValid() || v.Type() != s.model {
		panic(fmt.Sprintf("quantity: %s is a field of %v, not of %T", f.Path, s.model, model))
	}
	for _, i := range f.Index {
		v = v.Field(i)
	}
	return v
}

// target returns the field of a model to write to.
func (s *Schema) target(modelPtr any, f Field, kinds ...FieldKind) reflect.Value {
	for _, k := range kinds {
		if k == f.Kind {
			v := s.value(modelPtr, f)
			if !v.CanSet() {
				panic(fmt.Sprintf("quantity: %s can be set through a pointer only", f.Path))
			}
			return v
		}
	}
	panic(fmt.Sprintf("quantity: %s is a %v", f.Path, f.Kind))
}

// Get returns in SI the number, optional number or whole number in field f of model, and
// false where it is not known or f holds no single number.
func (s *Schema) Get(model any, f Field) (float64, bool) {
	switch f.Kind {
	case KindNumber:
		return s.value(model, f).Float(), true
	case KindWhole:
		return float64(s.value(model, f).Int()), true
	case KindOptional:
		v := s.value(model, f)
		return v.Field(0).Float(), v.Field(1).Bool()
	}
	return 0, false
}

// Set writes x, in SI, into the number, optional number or whole number f of the model
// that modelPtr points to. A whole number takes the nearest one.
func (s *Schema) Set(modelPtr any, f Field, x float64) {
	put(s.target(modelPtr, f, KindNumber, KindWhole, KindOptional), f.Kind, x)
}

// Writer writes many numbers into one model.
type Writer struct{ root reflect.Value }

// Writer returns a writer for the model that modelPtr points to.
func (s *Schema) Writer(modelPtr any) Writer {
	v := reflect.ValueOf(modelPtr)
	if v.Kind() != reflect.Pointer || v.Type().Elem() != s.model {
		panic(fmt.Sprintf("quantity: a writer takes a pointer to %v, not %T", s.model, modelPtr))
	}
	return Writer{v.Elem()}
}

// Set is Schema.Set; f is a field of the writer's schema.
func (w Writer) Set(f *Field, x float64) {
	v := w.root
	for _, i := range f.Index {
		v = v.Field(i)
	}
	if !put(v, f.Kind, x) {
		panic(fmt.Sprintf("quantity: %s is a %v", f.Path, f.Kind))
	}
}

// put writes a number into a field of a kind that holds one.
func put(v reflect.Value, k FieldKind, x float64) bool {
	switch k {
	case KindNumber:
		v.SetFloat(x)
	case KindWhole:
		v.SetInt(int64(math.Round(x)))
	case KindOptional:
		v.Field(0).SetFloat(x)
		v.Field(1).SetBool(true)
	default:
		return false
	}
	return true
}

// Unset makes an optional number not known.
func (s *Schema) Unset(modelPtr any, f Field) {
	s.target(modelPtr, f, KindOptional).SetZero()
}

// Text returns the text in field f, and false if f holds none.
func (s *Schema) Text(model any, f Field) (string, bool) {
	if f.Kind != KindText {
		return "", false
	}
	return s.value(model, f).String(), true
}

// SetText writes a text. Whether it is among the choices is for the caller to check.
func (s *Schema) SetText(modelPtr any, f Field, text string) {
	s.target(modelPtr, f, KindText).SetString(text)
}

// Flag returns the flag in field f, and false, false if f holds none.
func (s *Schema) Flag(model any, f Field) (flag, ok bool) {
	if f.Kind != KindFlag {
		return false, false
	}
	return s.value(model, f).Bool(), true
}

// SetFlag writes a flag.
func (s *Schema) SetFlag(modelPtr any, f Field, flag bool) {
	s.target(modelPtr, f, KindFlag).SetBool(flag)
}

// List returns a copy of the list in field f in SI, and false if f holds none.
func (s *Schema) List(model any, f Field) ([]float64, bool) {
	if f.Kind != KindList {
		return nil, false
	}
	v := s.value(model, f)
	list := make([]float64, v.Len())
	for i := range list {
		list[i] = v.Index(i).Float()
	}
	return list, true
}

// SetList writes a copy of a list in SI.
func (s *Schema) SetList(modelPtr any, f Field, list []float64) {
	v := s.target(modelPtr, f, KindList)
	to := reflect.MakeSlice(v.Type(), len(list), len(list))
	for i, x := range list {
		to.Index(i).SetFloat(x)
	}
	v.Set(to)
}

// Reader returns a function that reads the number f, in SI, from a model: the column of
// a result over many states. It allocates nothing if it is given pointers. f is a
// KindNumber or KindWhole.
func (s *Schema) Reader(f Field) func(model any) float64 {
	light := &Field{Path: f.Path, Index: f.Index}
	at := func(model any) reflect.Value { return s.at(model, light) }
	switch f.Kind {
	case KindNumber:
		return func(model any) float64 { return at(model).Float() }
	case KindWhole:
		return func(model any) float64 { return float64(at(model).Int()) }
	}
	panic(fmt.Sprintf("quantity: %s is a %v and cannot be read as a number", f.Path, f.Kind))
}
