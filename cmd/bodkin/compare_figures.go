package main

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// figure is a row of the table.
type figure struct {
	name, means string
	choice      bool                            // it is a part of the setting, not what came of it
	show        func(e *compared) string        // "" where there is nothing to tell
	differ      func(e, first *compared) string // by how much; nil where that is no number
}

// whole and tenths are figures that are numbers.
func whole(name, means string, of func(*compared) int) figure {
	return figure{name: name, means: means, show: func(e *compared) string { return thousands(of(e)) },
		differ: func(e, first *compared) string { return signed(float64(of(e)-of(first)), 0, "") }}
}

func tenths(name, means string, of func(*compared) float64) figure {
	return figure{name: name, means: means, show: func(e *compared) string { return fmt.Sprintf("%.1f", of(e)) },
		differ: func(e, first *compared) string { return signed(of(e)-of(first), 1, "") }}
}

func money(name, means string, of func(*compared) *edition.Money) figure {
	return figure{name: name, means: means,
		show: func(e *compared) string {
			if m := of(e); m != nil {
				return edition.Show(*m)
			}
			return ""
		},
		differ: func(e, first *compared) string {
			a, b := of(e), of(first)
			if a == nil || b == nil {
				return ""
			}
			by, err := a.Sub(*b)
			switch {
			case err != nil || by.IsZero(): // two currencies have no difference
				return ""
			case by.IsPositive():
				return "+" + edition.Show(by)
			}
			by, _ = by.Mul("-1")
			return "−" + edition.Show(by)
		}}
}

// signed writes a difference; "" for none.
func signed(by float64, places int, unit string) string {
	s := strconv.FormatFloat(math.Abs(by), 'f', places, 64)
	if strings.Trim(s, "0.") == "" {
		return ""
	}
	if by < 0 {
		return "−" + s + unit
	}
	return "+" + s + unit
}

// figures are the rows of the table, in their order.
func (r *comparison) figures() []figure {
	// What the program found is told in the unit of the first trim, so that it compares.
	unit := r.Editions[0].setting.Trim.Width.Unit
	own := []figure{
		{name: "trim", means: "the finished page, width by height", choice: true, show: func(e *compared) string { return describeTrim(e.setting.Trim) }},
		{name: "face", means: "the design of the letters", choice: true, show: func(e *compared) string { return e.layout.Setting.Face }},
		{name: "size", means: "of the letters", choice: true, show: func(e *compared) string { return e.layout.Setting.Size.String() },
			differ: func(e, first *compared) string { return signed(e.Size-first.Size, decimals(e.Size-first.Size), "pt") }},
		{name: "leading", means: "from one line to the next", choice: true,
			show: func(e *compared) string {
				if l := &e.layout.Setting.Leading; l.Kind != typeset.Fixed {
					return fmt.Sprintf("%s (%vpt)", l, e.Leading)
				}
				return e.layout.Setting.Leading.String()
			},
			differ: func(e, first *compared) string {
				return signed(e.Leading-first.Leading, decimals(e.Leading-first.Leading), "pt")
			}},
		margin("back margin", "at the binding", func(l *typeset.Layout) length.Value {
			return length.Value{Length: l.Back, Unit: unit}
		}),
		margin("fore-edge margin", "at the outer side", func(l *typeset.Layout) length.Value { return l.Setting.Margins.ForeEdge }),
		margin("head margin", "above the text", func(l *typeset.Layout) length.Value { return l.Setting.Margins.Head }),
		margin("foot margin", "below the text", func(l *typeset.Layout) length.Value { return l.Setting.Margins.Foot }),
	}
	own = append(own, otherKeys()...)
	return append(own,
		whole("pages", "as the printer counts them, both sides of each leaf", func(e *compared) int { return e.Pages }),
		whole("blank pages", "among them, with nothing on them", func(e *compared) int { return e.Blank }),
		whole("words a page", "on pages of text", func(e *compared) int { return e.WordsPerPage }),
		whole("characters a line", "45 to 75 read well (Bringhurst, §2.1.2)", func(e *compared) int { return e.Characters }),
		whole("lines a page", "on a full one", func(e *compared) int { return e.Lines }),
		tenths("loose lines in 1000", "with wide spaces between words; fewer are better", func(e *compared) float64 { return e.Loose }),
		tenths("hyphens in 1000", "lines that end in a divided word", func(e *compared) float64 { return e.Hyphens }),
		whole("uneven spreads", "facing pages that end on different lines", func(e *compared) int { return e.Uneven }),
		figure{name: "paper", means: "that the thickness is reckoned with", choice: true, show: func(e *compared) string { return e.copy.Stock.Name }},
		figure{name: "binding", means: "perfect: a paperback; case: a hardcover", choice: true, show: func(e *compared) string { return e.copy.Binding }},
		figure{name: "spine", means: "the thickness of a copy", show: func(e *compared) string { return edition.Near(e.copy.Spine, unit).String() },
			differ: func(e, first *compared) string {
				by := e.copy.Spine - first.copy.Spine
				s := edition.Near(max(by, -by), unit).String()
				switch {
				case s == edition.Near(0, unit).String():
					return ""
				case by < 0:
					return "−" + s
				}
				return "+" + s
			}},
		figure{name: "weight", means: "of a copy, in grams", show: func(e *compared) string {
			if e.copy.Grams == 0 {
				return ""
			}
			return fmt.Sprintf("%d g", e.copy.Grams)
		}, differ: func(e, first *compared) string {
			if e.copy.Grams == 0 || first.copy.Grams == 0 {
				return ""
			}
			return signed(float64(e.copy.Grams-first.copy.Grams), 0, " g")
		}},
		money("charge", "what the printer takes for a copy", func(e *compared) *edition.Money { return e.copy.Charge }),
		money("list price", "what the reader pays", func(e *compared) *edition.Money { return e.copy.List }),
		money("earnings", "what a copy leaves to you, before taxes", func(e *compared) *edition.Money { return e.copy.Earnings }),
	)
}

func margin(name, means string, of func(*typeset.Layout) length.Value) figure {
	return figure{name: name, means: means, choice: true, show: func(e *compared) string { return of(e.layout).String() }}
}

// decimals is how many decimals a difference of points needs, at most three.
func decimals(by float64) int {
	s := strconv.FormatFloat(math.Abs(math.Round(by*1000)/1000), 'f', -1, 64)
	_, part, _ := strings.Cut(s, ".")
	return len(part)
}

// otherKeys are the keys of a setting that have no row of their own. They show
// where they differ.
func otherKeys() []figure {
	shown := map[string]bool{"trim": true, "face": true, "size": true, "leading": true, "margins": true}
	var rows []figure
	t := reflect.TypeFor[typeset.Setting]()
	for i := range t.NumField() {
		key := t.Field(i).Tag.Get("toml")
		if key == "" || key == "-" || shown[key] {
			continue
		}
		name := strings.ReplaceAll(key, "-", " ")
		if key == "pages" { // which is the name of a figure
			name = "page ends"
		}
		rows = append(rows, figure{name: name, means: keyMeans[key], choice: true, show: func(e *compared) string {
			return inWords(reflect.ValueOf(&e.layout.Setting).Elem().Field(i))
		}})
	}
	return rows
}

// keyMeans says what the other keys of a setting are.
var keyMeans = map[string]string{
	"indent":          "of a paragraph's first line",
	"hyphenate":       "words are divided at line ends",
	"pages":           "even, or the fewest that the rules allow",
	"widen":           "how much wider or narrower letters may be",
	"hang":            "marks at line ends stand a little in the margin",
	"figures":         "the shape of figures in the text",
	"opening":         "a chapter's first words",
	"drop-lines":      "lines beside a large first letter",
	"opens":           "the page on which a chapter begins",
	"sink":            "lines left empty above a chapter's title",
	"heading-size":    "of a chapter's title",
	"scene-break":     "the ornament between scenes",
	"heads":           "the lines above the text",
	"folios":          "where page numbers stand",
	"numbers":         "of chapters, as the first would be written",
	"part-numbers":    "of parts, as the first would be written",
	"number-size":     "of a chapter's number",
	"subheading-size": "of headings inside a chapter",
	"ornament":        "between a chapter's title and its text",
	"contents":        "leaders are dots that lead to the page numbers",
	"notes":           "where they stand",
	"note-numbers":    "from one in each chapter, or on each page",
	"sign-face":       "the letters of signs and inscriptions",
	"bleed":           "by how much pictures reach past the trim",
	"bleed-back":      "at the back edge as well",
	"colour":          "pictures keep their colours",
	"most-ppi":        "the most pixels to the inch of a picture",
}

// inWords writes a value of a setting as book.toml has it.
func inWords(v reflect.Value) string {
	switch m, is := v.Interface().(encoding.TextMarshaler); {
	case is:
		text, err := m.MarshalText()
		if err != nil || len(text) == 0 {
			return "none"
		}
		return string(text)
	case v.Kind() == reflect.Struct:
		var parts []string
		for i := range v.NumField() {
			parts = append(parts, v.Type().Field(i).Tag.Get("toml")+" "+inWords(v.Field(i)))
		}
		return strings.Join(parts, ", ")
	case v.Kind() == reflect.Bool:
		return map[bool]string{true: "yes", false: "no"}[v.Bool()]
	case v.Kind() == reflect.String && v.String() == "":
		return "none"
	}
	return fmt.Sprint(v.Interface())
}
