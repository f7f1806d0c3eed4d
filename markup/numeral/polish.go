package numeral

import "strings"

// Polish: words apart (CLDR pl). In an ordinal, tens and ones are inflected
// and the hundred is not, unless it stands alone (Wielki słownik
// ortograficzny PWN). The endings are those of "pierwszy", "pierwsza" and
// "pierwsze". The ordinals are from memory: neither the CLDR nor Debian's
// num2words has them.
var (
	polish = language{
		cardinal: polishWords,
		ordinals: func(n int) []string {
			s := polishOrdinal(n)
			return []string{s, polishEnding(s, "a"), polishEnding(s, "e")}
		},
	}

	plOnes = strings.Fields("- jeden dwa trzy cztery pięć sześć siedem osiem dziewięć dziesięć jedenaście dwanaście " +
		"trzynaście czternaście piętnaście szesnaście siedemnaście osiemnaście dziewiętnaście")
	plTens = strings.Fields("- - dwadzieścia trzydzieści czterdzieści pięćdziesiąt sześćdziesiąt siedemdziesiąt " +
		"osiemdziesiąt dziewięćdziesiąt")
	plOrdinals = strings.Fields("- pierwszy drugi trzeci czwarty piąty szósty siódmy ósmy dziewiąty dziesiąty jedenasty dwunasty " +
		"trzynasty czternasty piętnasty szesnasty siedemnasty osiemnasty dziewiętnasty")
	plOrdinalTens = strings.Fields("- - dwudziesty trzydziesty czterdziesty pięćdziesiąty sześćdziesiąty siedemdziesiąty " +
		"osiemdziesiąty dziewięćdziesiąty")
)

func polishWords(n int) string {
	switch {
	case n == 100:
		return "sto"
	case n > 100:
		return "sto " + polishWords(n-100)
	case n < 20:
		return plOnes[n]
	case n%10 == 0:
		return plTens[n/10]
	}
	return plTens[n/10] + " " + plOnes[n%10]
}

func polishOrdinal(n int) string {
	switch {
	case n == 100:
		return "setny"
	case n > 100:
		return "sto " + polishOrdinal(n-100)
	case n < 20:
		return plOrdinals[n]
	case n%10 == 0:
		return plOrdinalTens[n/10]
	}
	return plOrdinalTens[n/10] + " " + plOrdinals[n%10]
}

// polishEnding puts an ending in place of the y or i of each inflected word.
// After k and g the neuter keeps its i, as trzeci does in both.
func polishEnding(s, ending string) string {
	words := strings.Fields(s)
	for i, w := range words {
		stem := strings.TrimRight(w, "yi")
		switch {
		case w == "sto":
		case w == "trzeci", w == "drugi" && ending == "e":
			words[i] = w + ending
		default:
			words[i] = stem + ending
		}
	}
	return strings.Join(words, " ")
}
