// Package numeral reads and writes the numbers of chapters and parts: in
// figures, in roman numerals, and in the words of a language.
//
// A number has a value and a form, the way it is written. What [Read] finds,
// [Write] writes for another value, so that one example is enough to number a
// whole book:
//
//	n, form, _ := numeral.Read("fr", "première") // 1, an ordinal of the feminine
//	s, _ := numeral.Write("fr", form, 21)        // "vingt et unième"
//
// Number words run from 1 to [MostWords] in English, German, French, Spanish,
// Italian, Dutch, Portuguese, Swedish and Polish. Their spelling is that of
// the spellout rules of the Unicode CLDR (set %spellout-numbering and those of
// the ordinals), which follow the academies; where a language's file departs
// from them it says why.
package numeral
