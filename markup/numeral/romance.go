package numeral

import "strings"

// French: hyphens between the words below a hundred, unless "et" joins them.
// CLDR (fr, %spellout-numbering) has the hyphens of 1990 around "et" as well;
// the Académie française allows both, and novels keep the older form. Belgium
// and Switzerland count by tens throughout, Belgium but for eighty (CLDR
// fr_BE, fr_CH). The endings are those of "premier" and "première".
var (
	french  = frenchBy(nil)
	belgian = frenchBy(map[int]string{7: "septante", 9: "nonante"})
	swiss   = frenchBy(map[int]string{7: "septante", 8: "huitante", 9: "nonante"})

	frOnes = strings.Fields("- un deux trois quatre cinq six sept huit neuf dix onze douze treize quatorze quinze seize " +
		"dix-sept dix-huit dix-neuf")
	frTens = strings.Fields("- - vingt trente quarante cinquante soixante soixante quatre-vingt quatre-vingt")
)

func frenchBy(tens map[int]string) language {
	return language{
		cardinal: func(n int) string { return frenchWords(n, tens) },
		ordinals: func(n int) []string {
			if n == 1 {
				return []string{"premier", "première"}
			}
			s := frenchOrdinal(frenchWords(n, tens))
			return []string{s, s}
		},
		others: func(n int) []string {
			if tens == nil {
				return nil
			}
			return []string{frenchWords(n, nil)}
		},
	}
}

func frenchWords(n int, tens map[int]string) string {
	switch {
	case n >= 100 && n%100 == 0:
		return "cent"
	case n >= 100:
		return "cent " + frenchWords(n-100, tens)
	case n < 20:
		return frOnes[n]
	}
	ten, one := frTens[n/10], n%10
	own := tens[n/10]
	switch {
	case own != "":
		ten = own
	case n/10 == 7 || n/10 == 9:
		one += 10
	}
	switch {
	case n == 80 && own == "":
		return "quatre-vingts"
	case one == 0:
		return ten
	case n%10 == 1 && ten != "quatre-vingt":
		return ten + " et " + frOnes[one]
	}
	return ten + "-" + frOnes[one]
}

// frenchOrdinal makes the ordinal of a cardinal.
func frenchOrdinal(s string) string {
	switch {
	case strings.HasSuffix(s, "cinq"):
		return s + "uième"
	case strings.HasSuffix(s, "neuf"):
		return strings.TrimSuffix(s, "f") + "vième"
	case strings.HasSuffix(s, "vingts"):
		return strings.TrimSuffix(s, "s") + "ième"
	}
	return strings.TrimSuffix(s, "e") + "ième"
}

// Spanish: one word below thirty, then "y" (CLDR es; Real Academia Española,
// Ortografía, 8). The endings are those of "primero", "primera", and of
// "primer", which stands before its noun.
var (
	spanish = language{
		cardinal: spanishWords,
		ordinals: func(n int) []string {
			s := inflected(n, esOrdinals, esOrdinalTens, "centésimo")
			short := s
			if rest := n % 10; (rest == 1 || rest == 3) && n%100 != 11 {
				short = strings.TrimSuffix(s, "o")
			}
			return []string{s, feminine(s), short}
		},
	}

	esOnes = strings.Fields("- uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince " +
		"dieciséis diecisiete dieciocho diecinueve veinte veintiuno veintidós veintitrés veinticuatro veinticinco " +
		"veintiséis veintisiete veintiocho veintinueve")
	esTens     = strings.Fields("- - - treinta cuarenta cincuenta sesenta setenta ochenta noventa")
	esOrdinals = strings.Fields("- primero segundo tercero cuarto quinto sexto séptimo octavo noveno décimo undécimo duodécimo " +
		"decimotercero decimocuarto decimoquinto decimosexto decimoséptimo decimoctavo decimonoveno")
	esOrdinalTens = strings.Fields("- - vigésimo trigésimo cuadragésimo quincuagésimo sexagésimo septuagésimo octogésimo nonagésimo")
)

func spanishWords(n int) string {
	switch {
	case n == 100:
		return "cien"
	case n > 100:
		return "ciento " + spanishWords(n-100)
	case n < 30:
		return esOnes[n]
	case n%10 == 0:
		return esTens[n/10]
	}
	return esTens[n/10] + " y " + esOnes[n%10]
}

// inflected writes an ordinal each of whose words is one: as many as there are
// ones, then tens and ones.
func inflected(n int, ones, tens []string, hundred string) string {
	switch {
	case n == 100:
		return hundred
	case n > 100:
		return hundred + " " + inflected(n-100, ones, tens, hundred)
	case n < len(ones):
		return ones[n]
	case n%10 == 0:
		return tens[n/10]
	}
	return tens[n/10] + " " + ones[n%10]
}

// feminine turns the o at the end of each word into a.
func feminine(s string) string {
	words := strings.Fields(s)
	for i, w := range words {
		words[i] = strings.TrimSuffix(w, "o") + "a"
	}
	return strings.Join(words, " ")
}

// Italian: in one word; a ten and cento lose their vowel before uno and otto, cento
// keeps it before uno; tre at the end has an accent (CLDR it). The endings are
// those of "primo" and "prima".
var (
	italian = language{
		cardinal: italianWords,
		ordinals: func(n int) []string { s := italianOrdinal(n); return []string{s, feminine(s)} },
		others: func(n int) []string {
			if n%100 != 8 || n < 100 {
				return nil
			}
			return []string{"centootto"}
		},
	}

	itOnes = strings.Fields("- uno due tre quattro cinque sei sette otto nove dieci undici dodici tredici quattordici quindici " +
		"sedici diciassette diciotto diciannove")
	itOrdinals = strings.Fields("- primo secondo terzo quarto quinto sesto settimo ottavo nono decimo")
	itTens     = strings.Fields("- - venti trenta quaranta cinquanta sessanta settanta ottanta novanta")
)

func italianWords(n int) string {
	switch {
	case n == 100:
		return "cento"
	case n > 100 && (n == 108 || n >= 180 && n < 190):
		return "cent" + italianWords(n-100)
	case n > 100:
		return "cento" + accentTre(italianWords(n-100))
	case n < 20:
		return itOnes[n]
	case n%10 == 0:
		return itTens[n/10]
	}
	ten := itTens[n/10]
	if n%10 == 1 || n%10 == 8 {
		ten = ten[:len(ten)-1]
	}
	return ten + accentTre(itOnes[n%10])
}

func accentTre(s string) string {
	if s == "tre" {
		return "tré"
	}
	return s
}

// italianOrdinal ends in -esimo, which takes the place of the last vowel but
// after tre and sei.
func italianOrdinal(n int) string {
	if n <= 10 {
		return itOrdinals[n]
	}
	s := italianWords(n)
	switch {
	case n == 110:
		return "cento" + itOrdinals[10]
	case n == 101:
		s = "cent" + itOnes[1]
	case n >= 180 && n < 190:
		s = "cento" + italianWords(n-100)
	}
	if n%100 == 0 || n%100 > 20 || n > 100 {
		switch {
		case n%10 == 3 && n%100 != 13:
			return strings.TrimSuffix(s, "é") + "eesimo"
		case n%10 == 6 && n%100 != 16:
			return s + "esimo"
		}
	}
	return s[:len(s)-1] + "esimo"
}

// Portuguese: "e" between all words (CLDR pt and pt_PT, which differ in 16, 17
// and 19). The endings are those of "primeiro" and "primeira".
var (
	portuguese = language{cardinal: func(n int) string { return portugueseWords(n, ptTeens) }, ordinals: portugueseOrdinals,
		others: func(n int) []string { return []string{portugueseWords(n, brTeens)} }}
	brazilian = language{cardinal: func(n int) string { return portugueseWords(n, brTeens) }, ordinals: portugueseOrdinals,
		others: func(n int) []string { return []string{portugueseWords(n, ptTeens), portugueseWords(n, brOther)} }}

	ptOnes     = strings.Fields("- um dois três quatro cinco seis sete oito nove")
	ptTeens    = strings.Fields("dez onze doze treze catorze quinze dezasseis dezassete dezoito dezanove")
	brTeens    = strings.Fields("dez onze doze treze catorze quinze dezesseis dezessete dezoito dezenove")
	brOther    = strings.Fields("dez onze doze treze quatorze quinze dezesseis dezessete dezoito dezenove")
	ptTens     = strings.Fields("- - vinte trinta quarenta cinquenta sessenta setenta oitenta noventa")
	ptOrdinals = strings.Fields("- primeiro segundo terceiro quarto quinto sexto sétimo oitavo nono")
	// From ten on each word is one.
	ptOrdinalTens = strings.Fields("- décimo vigésimo trigésimo quadragésimo quinquagésimo sexagésimo septuagésimo octogésimo nonagésimo")
)

func portugueseWords(n int, teens []string) string {
	switch {
	case n == 100:
		return "cem"
	case n > 100:
		return "cento e " + portugueseWords(n-100, teens)
	case n < 10:
		return ptOnes[n]
	case n < 20:
		return teens[n-10]
	case n%10 == 0:
		return ptTens[n/10]
	}
	return ptTens[n/10] + " e " + ptOnes[n%10]
}

func portugueseOrdinals(n int) []string {
	s := inflected(n, ptOrdinals, ptOrdinalTens, "centésimo")
	return []string{s, feminine(s)}
}
