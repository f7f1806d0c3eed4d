// Package hyphen finds the places where a word may be divided at the end of a line, by the method of
// F. M. Liang, "Word Hy-phen-a-tion by Com-put-er", Stanford 1983.
//
// # Model
//
// A language is a set of patterns. A pattern is a few letters with digits between them; "." stands for the edge of a
// word. Every pattern that occurs in a word writes its digits between the word's letters, the greatest digit wins at
// each place, and a break is allowed where the winner is odd. Liang's example, with the American English patterns:
//
//	hy3ph he2n hena4 hen5at 1na n2at 1tio 2io o2n     patterns in "hyphenation"
//	.h0y3p0h0e2n5a4t2i0o2n.                           the greatest digits
//	hy-phen-ation                                     a break at each odd one
//
// A list of exceptions, words written out with their hyphens, overrides the patterns. Last, a language keeps a least
// number of letters before and after a hyphen (two and three in English), and breaks nearer to an edge are dropped.
//
// The patterns live in a trie packed into one array, see trie.go. A word costs a walk from each of its letters, no
// longer than the longest pattern, and no allocation.
//
// # What a word is
//
// [Dictionary.Points] takes a word as it stands in the text, with its punctuation:
//
//   - Breaks are found inside runs of letters; marks that combine with a letter belong to it. Digits, dashes,
//     punctuation and whatever else is no letter end a run.
//   - An apostrophe (U+0027, U+2019 or U+02BC) between two letters stays in the run. Where the patterns of the language
//     know the apostrophe (French, Italian) they are matched across it; where they do not (English), the letters on
//     either side are matched as two words. In both cases the letters kept before and after a hyphen are counted from
//     the apostrophe, so that nothing like "l'a-mi" comes out.
//   - A soft hyphen (U+00AD) is the author's word: in a word that has one, only the soft hyphens are points.
//   - A hard hyphen (U+002D, U+2010) ends a run. It is no point itself: a line may always break after it, and that is
//     the line breaker's business. The parts on either side are hyphenated each on its own, with its own minima.
//   - Capitals count as small letters. Decomposed letters (e + U+0301) count as the composed ones, and a point never
//     stands between a letter and its mark.
//
// # Pattern files
//
// A pattern file is UTF-8 text, one entry a line. Lines that begin with "#" or "%" are comments; blank lines count for
// nothing. Lines that begin with ":" are directives:
//
//	# Anything about origin and licence.
//	:minima 2 3
//
//	:patterns
//	.ach4
//	hen5at
//
//	:exceptions
//	as-so-ciate
//	present
//
// ":minima" states the letters kept before and after a hyphen, 2 and 3 if it is absent. A file begins as if it had said
// ":patterns". A pattern has at least one letter and one digit, no two digits in a row, and "." only at its ends. Two
// patterns of the same letters must have the same digits. An exception has its hyphens written in; without any, the
// word is never divided.
//
// # Adding a language
//
// data/README.md says what is at hand and from where, and what a new language takes: a file of patterns, its licence, a
// line in languages.go, and known words in languages_test.go.
package hyphen
