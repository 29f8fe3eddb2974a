package model

import (
	"bytes"
	"reflect"
)

// Alike tells whether two values of the model say the same, wherever they were written.
func Alike(a, b any) bool { return alike(reflect.ValueOf(a), reflect.ValueOf(b)) }

var sourceType = reflect.TypeFor[Source]()

func alike(a, b reflect.Value) bool {
	if a.IsValid() != b.IsValid() {
		return false
	}
	if !a.IsValid() {
		return true
	}
	if a.Type() != b.Type() {
		return false
	}
	switch a.Kind() {
	case reflect.Struct:
		if a.Type() == sourceType {
			return true
		}
		for i := range a.NumField() {
			if !alike(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Slice:
		if a.Type().Elem().Kind() == reflect.Uint8 { // a file's bytes, of which there may be millions
			return bytes.Equal(a.Bytes(), b.Bytes())
		}
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !alike(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return a.IsNil() == b.IsNil()
		}
		return alike(a.Elem(), b.Elem())
	}
	return a.Equal(b)
}
