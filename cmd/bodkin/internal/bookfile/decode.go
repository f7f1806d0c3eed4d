package bookfile

import (
	"bytes"
	"errors"
	"fmt"
	"reflect"
	"strings"

	"bodkin/markup"

	"github.com/pelletier/go-toml/v2"
)

// decode reads text into v strictly. The error is one line with the file and
// the line: a key that is not known names the nearest that is.
func decode(path string, text []byte, v any) error {
	d := toml.NewDecoder(strings.NewReader(string(text)))
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil {
		return nil
	}
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) && len(strict.Errors) > 0 {
		first := strict.Errors[0]
		row, _ := first.Position()
		key := first.Key()
		return fmt.Errorf("%s:%d: the key %s is not known%s", path, row, strings.Join(key, "."), nearest(reflect.TypeOf(v), key))
	}
	var at *toml.DecodeError
	if errors.As(err, &at) {
		row, _ := at.Position()
		message := strings.TrimPrefix(at.Error(), "toml: ")
		switch {
		case strings.Contains(message, "cannot decode TOML"), strings.Contains(message, "cannot store"):
			message = "this key takes another kind of value; bodkin new writes a book.toml that shows each"
		case bytes.ContainsAny(text, "“”„«"):
			message += "; the quotation marks of this file must be straight, \""
		}
		if key := at.Key(); len(key) > 0 {
			message = strings.Join(key, ".") + ": " + message
		}
		return fmt.Errorf("%s:%d: %s", path, row, oneLine(message))
	}
	if row := lineOf(text, err, v); row > 0 {
		return fmt.Errorf("%s:%d: %s", path, row, oneLine(err.Error()))
	}
	return fmt.Errorf("%s: %s", path, oneLine(err.Error()))
}

// lineOf finds the line of a fault that the decoder reports without one (a
// number where a text is wanted): the last of the fewest lines that have it.
func lineOf(text []byte, fault error, v any) int {
	lines := bytes.SplitAfter(text, []byte("\n"))
	for n := range min(len(lines), 500) {
		fresh := reflect.New(reflect.TypeOf(v).Elem()).Interface()
		err := toml.Unmarshal(bytes.Join(lines[:n+1], nil), fresh)
		if err != nil && err.Error() == fault.Error() {
			return n + 1
		}
	}
	return 0
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// nearest suggests the known key that is spelt most like the last of key, in
// the table that the rest of key names.
func nearest(t reflect.Type, key []string) string {
	for _, step := range key[:len(key)-1] {
		next := fieldOf(t, step)
		if next == nil {
			return ""
		}
		t = next
	}
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return ""
	}
	var known []string
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("toml"); name != "" {
			known = append(known, name)
		}
	}
	if best := markup.Nearest(key[len(key)-1], known); best != "" {
		return "; did you mean " + best + "?"
	}
	return "; known here are " + strings.Join(known, ", ")
}

// fieldOf returns the type of the value that a key of t holds.
func fieldOf(t reflect.Type, key string) reflect.Type {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch t.Kind() {
	case reflect.Map:
		return t.Elem()
	case reflect.Struct:
		for i := range t.NumField() {
			if t.Field(i).Tag.Get("toml") == key {
				return t.Field(i).Type
			}
		}
	}
	return nil
}
