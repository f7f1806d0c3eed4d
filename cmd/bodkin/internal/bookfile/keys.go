package bookfile

import (
	"encoding"
	"reflect"
	"strconv"
	"strings"

	"bodkin/cmd/bodkin/internal/strict"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// key is a key of a setting as it is written: with a value, or, where it is a
// table such as margins, with the keys that it holds.
type key struct {
	name  string
	value string // in TOML
	parts []key
}

// text returns what stands behind the equals sign.
func (k *key) text() string {
	if k.parts == nil {
		return k.value
	}
	return inline(k.parts)
}

// inline writes keys as a table in one line.
func inline(keys []key) string {
	if len(keys) == 0 {
		return "{}"
	}
	var b strings.Builder
	for i := range keys {
		b.WriteString([]string{"{ ", ", "}[min(i, 1)] + keys[i].name + " = " + keys[i].text())
	}
	return b.String() + " }"
}

// find returns the key of that name; nil for none.
func find(keys []key, name string) *key {
	for i := range keys {
		if keys[i].name == name {
			return &keys[i]
		}
	}
	return nil
}

// value returns the text of a key, or of a part of it; "" for none.
func valueOf(keys []key, path ...string) string {
	k := find(keys, path[0])
	if k != nil && len(path) > 1 {
		k = find(k.parts, path[1])
	}
	if k == nil {
		return ""
	}
	return k.text()
}

// differing returns the keys in which s is not as the house setting, in the
// order of the fields.
func differing(house, s *typeset.Setting) []key {
	return unlike(reflect.ValueOf(house).Elem(), reflect.ValueOf(s).Elem())
}

func unlike(a, b reflect.Value) []key {
	var keys []key
	for i := range b.NumField() {
		name := b.Type().Field(i).Tag.Get("toml")
		if name == "-" || a.Field(i).Equal(b.Field(i)) {
			continue
		}
		k := key{name: name}
		if _, ok := b.Field(i).Interface().(encoding.TextMarshaler); !ok && b.Field(i).Kind() == reflect.Struct {
			k.parts = unlike(a.Field(i), b.Field(i))
		} else {
			k.value = value(b.Field(i))
		}
		keys = append(keys, k)
	}
	return keys
}

// value writes the value of a field.
func value(v reflect.Value) string {
	if m, ok := v.Interface().(encoding.TextMarshaler); ok {
		text, err := m.MarshalText()
		if err != nil {
			return strict.Quote("") // which is seen when it is read again
		}
		return strict.Quote(string(text))
	}
	switch v.Kind() {
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10)
	}
	return strict.Quote(v.String())
}

// writable returns s with every length in a unit in which it can be written
// down: one that was reckoned may have too many decimals in inches, and none
// has in points. What the press asks of the pages is no key of a setting.
func writable(s typeset.Setting) typeset.Setting {
	s.Press = nil
	for _, v := range []*length.Value{&s.Trim.Width, &s.Trim.Height, &s.Size, &s.Leading.Value, &s.Margins.Back.Value,
		&s.Margins.ForeEdge, &s.Margins.Head, &s.Margins.Foot, &s.Indent.Value, &s.HeadingSize.Value, &s.NumberSize.Value,
		&s.Subheading.Value, &s.Bleed} {
		if back, err := length.Parse(v.String()); err != nil || back != *v {
			v.Unit = length.Pt
		}
	}
	return s
}
