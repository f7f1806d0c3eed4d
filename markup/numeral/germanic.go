package numeral

import "strings"

// English: a hyphen between tens and ones; "and" after the hundred but for the
// United States (CLDR en, %spellout-cardinal and %spellout-cardinal-verbose).
var (
	american = language{
		cardinal: func(n int) string { return englishWords(n, "", enOnes) },
		ordinals: func(n int) []string { return []string{englishOrdinal(n, "")} },
		others:   func(n int) []string { return []string{englishWords(n, "and", enOnes)} },
	}
	english = language{
		cardinal: func(n int) string { return englishWords(n, "and", enOnes) },
		ordinals: func(n int) []string { return []string{englishOrdinal(n, "and")} },
		others:   func(n int) []string { return []string{englishWords(n, "", enOnes)} },
	}

	enOnes = strings.Fields("- one two three four five six seven eight nine ten eleven twelve thirteen fourteen " +
		"fifteen sixteen seventeen eighteen nineteen")
	enOrdinals = strings.Fields("- first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth " +
		"fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth")
	enTens = strings.Fields("- - twenty thirty forty fifty sixty seventy eighty ninety")
)

// englishWords takes its last word from ones.
func englishWords(n int, and string, ones []string) string {
	switch {
	case n >= 100 && n%100 == 0:
		return "one hundred"
	case n >= 100:
		return join(" ", "one hundred", and, englishWords(n-100, and, ones))
	case n < 20:
		return ones[n]
	case n%10 == 0:
		return enTens[n/10]
	}
	return enTens[n/10] + "-" + ones[n%10]
}

func englishOrdinal(n int, and string) string {
	s := englishWords(n, and, enOrdinals)
	switch {
	case n%100 == 0:
		return s + "th"
	case n%100 >= 20 && n%10 == 0:
		return strings.TrimSuffix(s, "y") + "ieth"
	}
	return s
}

// German: in one word, ones before tens; -te, from twenty on -ste (CLDR de;
// Duden). The endings are those of "der erste Teil", "Erster Teil" and
// "Erstes Kapitel".
var (
	german = language{
		cardinal: func(n int) string { return germanWords(n, "einhundert") },
		ordinals: func(n int) []string { s := germanStem(n); return []string{s + "e", s + "er", s + "es"} },
		others: func(n int) []string {
			if n < 100 {
				return nil
			}
			return []string{germanWords(n, "hundert"), germanWords(n, "einhundertund"), germanWords(n, "hundertund")}
		},
	}

	deOnes = strings.Fields("- eins zwei drei vier fünf sechs sieben acht neun zehn elf zwölf dreizehn vierzehn " +
		"fünfzehn sechzehn siebzehn achtzehn neunzehn")
	deStems = map[int]string{1: "erst", 3: "dritt", 7: "siebt", 8: "acht"}
	deTens  = strings.Fields("- - zwanzig dreißig vierzig fünfzig sechzig siebzig achtzig neunzig")
)

func germanWords(n int, hundred string) string {
	switch {
	case n >= 100 && n%100 == 0:
		return strings.TrimSuffix(hundred, "und")
	case n >= 100:
		return hundred + germanWords(n-100, hundred)
	case n < 20:
		return deOnes[n]
	case n%10 == 0:
		return deTens[n/10]
	}
	one := deOnes[n%10]
	if n%10 == 1 {
		one = "ein"
	}
	return one + "und" + deTens[n/10]
}

func germanStem(n int) string {
	rest := n % 100
	if rest == 0 || rest >= 20 {
		return germanWords(n, "einhundert") + "st"
	}
	hundred := ""
	if n > 100 {
		hundred = "einhundert"
	}
	if s, irregular := deStems[rest]; irregular {
		return hundred + s
	}
	return hundred + deOnes[rest] + "t"
}

// Dutch: in one word, ones before tens, with a diaeresis after twee and drie
// (CLDR nl; Woordenlijst Nederlandse Taal).
var (
	dutch = language{
		cardinal: dutchWords,
		ordinals: func(n int) []string { return []string{dutchOrdinal(n)} },
		others: func(n int) []string {
			if n <= 100 {
				return nil
			}
			return []string{"honderd en " + dutchWords(n-100), "honderden" + dutchWords(n-100)}
		},
	}

	nlOnes = strings.Fields("- een twee drie vier vijf zes zeven acht negen tien elf twaalf dertien veertien vijftien " +
		"zestien zeventien achttien negentien")
	nlOrdinals = strings.Fields("- eerste tweede derde vierde vijfde zesde zevende achtste negende tiende elfde twaalfde dertiende " +
		"veertiende vijftiende zestiende zeventiende achttiende negentiende")
	nlTens = strings.Fields("- - twintig dertig veertig vijftig zestig zeventig tachtig negentig")
)

func dutchWords(n int) string {
	switch {
	case n >= 100 && n%100 == 0:
		return "honderd"
	case n >= 100:
		return "honderd" + dutchWords(n-100)
	case n < 20:
		return nlOnes[n]
	case n%10 == 0:
		return nlTens[n/10]
	}
	and := "en"
	if n%10 == 2 || n%10 == 3 {
		and = "ën"
	}
	return nlOnes[n%10] + and + nlTens[n/10]
}

func dutchOrdinal(n int) string {
	switch rest := n % 100; {
	case n > 100 && rest > 0:
		return "honderd" + dutchOrdinal(rest)
	case rest == 0 || rest >= 20:
		return dutchWords(n) + "ste"
	default:
		return nlOrdinals[rest]
	}
}

// Swedish: in one word, tens before ones (CLDR sv). Above a hundred the rules
// put a space before the ordinal of the rest; here it is closed up as the
// cardinals are (common practice).
var (
	swedish = language{
		cardinal: func(n int) string { return swedishWords(n, "etthundra") },
		ordinals: func(n int) []string { return []string{swedishOrdinal(n)} },
		others: func(n int) []string {
			if n < 100 {
				return nil
			}
			return []string{swedishWords(n, "hundra")}
		},
	}

	svOnes = strings.Fields("- ett två tre fyra fem sex sju åtta nio tio elva tolv tretton fjorton femton sexton sjutton " +
		"arton nitton")
	svOrdinals = strings.Fields("- första andra tredje fjärde femte sjätte sjunde åttonde nionde tionde elfte tolfte trettonde " +
		"fjortonde femtonde sextonde sjuttonde artonde nittonde")
	svTens = strings.Fields("- - tjugo trettio fyrtio femtio sextio sjuttio åttio nittio")
)

func swedishWords(n int, hundred string) string {
	switch {
	case n >= 100 && n%100 == 0:
		return hundred
	case n >= 100:
		return hundred + swedishWords(n-100, hundred)
	case n < 20:
		return svOnes[n]
	case n%10 == 0:
		return svTens[n/10]
	}
	return svTens[n/10] + svOnes[n%10]
}

func swedishOrdinal(n int) string {
	switch {
	case n == 100:
		return "etthundrade"
	case n > 100:
		return "etthundra" + swedishOrdinal(n-100)
	case n < 20:
		return svOrdinals[n]
	case n%10 == 0:
		return svTens[n/10] + "nde"
	}
	return svTens[n/10] + svOrdinals[n%10]
}
