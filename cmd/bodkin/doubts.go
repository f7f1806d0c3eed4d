package main

// What a reader may find hard: lines outside 45 to 75 characters (R.
// Bringhurst, The Elements of Typographic Style, §2.1.2), type under 9 pt and
// leading under 115 % of the size (common practice).
const (
	leastCharacters, mostCharacters = 45, 75
	leastSize, leastLeading         = 9, 1.15
)

func doubts(row *castoffRow) []string {
	var d []string
	if n := row.Characters; n > 0 && n < leastCharacters {
		d = append(d, "short lines")
	} else if n > mostCharacters {
		d = append(d, "long lines")
	}
	if row.Size < leastSize {
		d = append(d, "small type")
	}
	if row.Leading < row.Size*leastLeading {
		d = append(d, "tight leading")
	}
	return d
}
