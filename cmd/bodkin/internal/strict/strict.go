// Package strict reads the files that a person writes for the program: TOML in
// which every key is known, with errors of one line that name the file and the
// line, and the nearest known key where one is misspelt.
package strict

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"reflect"
	"strings"
	"time"
	"unicode/utf8"

	"bodkin/markup"

	"github.com/pelletier/go-toml/v2"
)

// mostBytes bounds a file; one is a few dozen lines.
const mostBytes = 1 << 20

// Read returns the text of a file, and when it was written last.
func Read(path string) ([]byte, time.Time, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, time.Time{}, fmt.Errorf("%s: %w", path, Cause(err))
	case !info.Mode().IsRegular():
		return nil, time.Time{}, fmt.Errorf("%s: this is not a file", path)
	case info.Size() > mostBytes:
		return nil, time.Time{}, fmt.Errorf("%s: %d bytes are too many for a file of this kind", path, info.Size())
	}
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, time.Time{}, fmt.Errorf("%s: %w", path, Cause(err))
	}
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	if !utf8.Valid(text) {
		return nil, time.Time{}, fmt.Errorf("%s: this is not UTF-8 text; save it as UTF-8", path)
	}
	return text, info.ModTime(), nil
}

// Cause strips the operation and the paths that the os package adds, which a
// message has named already.
func Cause(err error) error {
	var at *os.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// Decode reads text, that of the file at path, into the struct that v points
// to. sample is the name of the file in which bodkin new shows such keys.
func Decode(path string, text []byte, v any, sample string) error {
	d := toml.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	err := d.Decode(v)
	if err == nil {
		return nil
	}
	var unknown *toml.StrictMissingError
	if errors.As(err, &unknown) && len(unknown.Errors) > 0 {
		first := unknown.Errors[0]
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
			message = "this key takes another kind of value; bodkin new writes a " + sample + " that shows each"
		case bytes.ContainsAny(text, "“”„«"):
			message += "; the quotation marks of this file must be straight, \""
		case strings.Contains(message, "at start of value"):
			message = "this value is no number and no word of the format; put a text between straight quotation marks, as in \"so\""
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
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Map || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct {
		return ""
	}
	var known []string
	for i := range t.NumField() {
		if name := t.Field(i).Tag.Get("toml"); name != "" && name != "-" {
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
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
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
