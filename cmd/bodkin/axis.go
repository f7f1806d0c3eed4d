package main

import (
	"encoding"
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"bodkin/typeset"

	"github.com/spf13/pflag"
)

// axis is a key of the setting that a castoff varies: the values that were
// asked for, each as a change of a setting. It is a flag.
type axis struct {
	name    string
	steps   map[string]string // the step of a range that names none, by unit
	unit    string            // of a number that has none; "" where it must have one
	sample  string            // of what is written
	value   func(*typeset.Setting) encoding.TextUnmarshaler
	changes []func(*typeset.Setting)
}

// axes returns the keys that a castoff can vary, in the order in which they
// are combined: the last changes quickest.
func axes() []*axis {
	lengths := map[string]string{"pt": "0.5", "mm": "1", "in": "0.125", "%": "5", " lines": "0.05"}
	length := func(name, unit, sample string, value func(*typeset.Setting) encoding.TextUnmarshaler) *axis {
		return &axis{name: name, unit: unit, steps: lengths, sample: sample, value: value}
	}
	return []*axis{
		{name: "trim", sample: "5x8in,B-format", value: func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Trim }},
		{name: "face", sample: `"EB Garamond,Literata"`, value: func(s *typeset.Setting) encoding.TextUnmarshaler { return (*text)(&s.Face) }},
		length("size", "pt", "10pt,11pt", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Size }),
		length("leading", "pt", "14pt,127%", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Leading }),
		length("back", "", "auto,0.75in", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Back }),
		length("fore-edge", "", "0.5in,0.6in", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.ForeEdge }),
		length("head", "", "0.6in,0.75in", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Head }),
		length("foot", "", "0.6in,0.75in", func(s *typeset.Setting) encoding.TextUnmarshaler { return &s.Margins.Foot }),
	}
}

// text is a word of the setting that stands for itself.
type text string

func (t *text) UnmarshalText(b []byte) error {
	*t = text(strings.TrimSpace(string(b)))
	return nil
}

var _ pflag.Value = (*axis)(nil)

func (a *axis) String() string { return "" }
func (a *axis) Type() string   { return "VALUES" }

// Set reads values that commas part, and ranges: "10pt..12pt/0.25pt".
func (a *axis) Set(list string) error {
	for _, one := range strings.Split(list, ",") {
		if strings.TrimSpace(one) == "" {
			return fmt.Errorf("there is no value between the commas of %q: write values as in %s", list, a.sample)
		}
		values, err := a.expand(strings.TrimSpace(one))
		if err != nil {
			return err
		}
		for _, v := range values {
			if err := a.value(new(typeset.Setting)).UnmarshalText([]byte(v)); err != nil {
				return err
			}
			a.changes = append(a.changes, func(s *typeset.Setting) {
				_ = a.value(s).UnmarshalText([]byte(v)) // it was read before
			})
		}
		if len(a.changes) > mostSettings {
			return fmt.Errorf("these are more than %s values: take a larger step", thousands(mostSettings))
		}
	}
	return nil
}

var (
	rangeOf = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?)(pt|mm|in|%|)\.\.([0-9]+(?:\.[0-9]+)?)(pt|mm|in|%| lines|)(?:/([0-9]+(?:\.[0-9]+)?)(pt|mm|in|%| lines|))?$`)
	bare    = regexp.MustCompile(`^[0-9]+(\.[0-9]+)?$`)
)

// expand returns the values of a range, or a value as it is.
func (a *axis) expand(s string) ([]string, error) {
	if a.steps == nil || !strings.Contains(s, "..") {
		if a.unit != "" && bare.MatchString(s) {
			s += a.unit
		}
		return []string{s}, nil
	}
	m := rangeOf.FindStringSubmatch(s)
	if m == nil {
		return nil, fmt.Errorf("%q is not a range: write it as 10pt..12pt/0.25pt, from, to and step", s)
	}
	unit := m[4]
	if unit == "" {
		unit = m[2]
	}
	if unit == "" {
		unit = a.unit
	}
	if unit == "" {
		return nil, fmt.Errorf("%q has no unit: write in, mm or pt after its numbers", s)
	}
	if m[2] != "" && m[2] != unit || m[6] != "" && m[6] != unit {
		return nil, fmt.Errorf("%q has more than one unit", s)
	}
	step := m[5]
	if step == "" {
		step = a.steps[unit]
	}
	var n [3]int64 // in thousandths
	for i, digits := range []string{m[1], m[3], step} {
		var err error
		if n[i], err = thousandth(digits); err != nil {
			return nil, fmt.Errorf("%q: %w", s, err)
		}
	}
	from, to, by := n[0], n[1], n[2]
	switch {
	case from > to:
		return nil, fmt.Errorf("%q runs backwards: write the smaller value first", s)
	case by == 0:
		return nil, fmt.Errorf("%q has a step of nothing", s)
	case (to-from)/by >= mostSettings:
		return nil, fmt.Errorf("%q has %s values, and %s settings are the most: take a larger step", s, thousands(int((to-from)/by+1)), thousands(mostSettings))
	}
	var values []string
	for v := from; v <= to; v += by {
		values = append(values, number(float64(v)/1000)+unit)
	}
	return values, nil
}

// thousandth reads a number with at most three decimals.
func thousandth(s string) (int64, error) {
	whole, part, _ := strings.Cut(s, ".")
	if len(part) > 3 || len(whole) > 6 || whole == "" {
		return 0, fmt.Errorf("%q is not a number with at most three decimals", s)
	}
	return strconv.ParseInt(whole+part+"000"[len(part):], 10, 64)
}

// number writes a number with the fewest decimals.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// combine returns every combination of the axes, as changes of a setting. Each
// will be set so many times, once for each printer.
func combine(all []*axis, s typeset.Setting, times int) ([]typeset.Setting, error) {
	n := times
	for _, a := range all {
		n *= max(1, len(a.changes))
		if n > mostSettings {
			return nil, fmt.Errorf("these are more than %s settings, and each is really set: take larger steps, or vary fewer things at once", thousands(mostSettings))
		}
	}
	settings := []typeset.Setting{s}
	for _, a := range all {
		if len(a.changes) == 0 {
			continue
		}
		var next []typeset.Setting
		for _, s := range settings {
			for _, change := range a.changes {
				one := s
				change(&one)
				next = append(next, one)
			}
		}
		settings = next
	}
	return settings, nil
}
