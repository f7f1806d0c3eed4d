package markup

import (
	"strings"

	"golang.org/x/text/language"
)

// marks are the typographer's marks of a language: what the straight " and '
// become, and the spaces that go with points.
type marks struct {
	double, single pair // for " and for '

	// elided are words that begin with an apostrophe, without it and in small
	// letters; doubtful are those that are also words of their own, so that
	// the mark before them may open a quotation; first are those of the
	// doubtful that keep the apostrophe where a paragraph begins, and where a
	// quotation that goes on for several paragraphs is opened again.
	elided, doubtful, first map[string]bool

	inside string // the space inside double (French)
	points bool   // a narrow space before ; ! ?
	colon  bool   // a no-break space before :
	closed bool   // two hyphens closed up to words are an em dash (English)
}

type pair struct{ open, close string }

// opens tells whether r can only open a quotation.
func (p pair) opens(r rune) bool { return p.open != p.close && p.open == string(r) }

const (
	apostrophe    = "’"
	noBreak       = "\u00A0"
	narrowNoBreak = "\u202F"
)

var (
	high      = pair{"“", "”"}
	highOne   = pair{"‘", "’"}
	same      = pair{"”", "”"}
	sameOne   = pair{"’", "’"}
	low       = pair{"„", "“"}
	lowOne    = pair{"‚", "‘"}
	lowRight  = pair{"„", "”"}
	lowRight1 = pair{"‚", "’"}
	angle     = pair{"«", "»"}
	angleOne  = pair{"‹", "›"}
	inward    = pair{"»", "«"}
)

// quotation lists the marks by language, and by language and region where a
// region differs: the delimiters of the Unicode CLDR, from memory, with the
// nested marks of Spanish, Italian and Portuguese as “ ” (common practice).
var quotation = map[string]struct{ double, single pair }{
	"en":    {high, highOne},
	"nl":    {high, highOne},
	"pt":    {high, highOne},
	"pt-PT": {angle, high},
	"pt-AO": {angle, high},
	"pt-MZ": {angle, high},
	"tr":    {high, highOne},
	"ga":    {high, highOne},
	"cy":    {highOne, high},
	"de":    {low, lowOne},
	"de-CH": {angle, angleOne},
	"de-LI": {angle, angleOne},
	"cs":    {low, lowOne},
	"sk":    {low, lowOne},
	"sl":    {low, lowOne},
	"bg":    {low, lowOne},
	"is":    {low, lowOne},
	"et":    {low, angle},
	"lt":    {low, lowOne},
	"fr":    {angle, high},
	"es":    {angle, high},
	"ca":    {angle, high},
	"it":    {angle, high},
	"it-CH": {angle, angleOne},
	"el":    {angle, high},
	"nb":    {angle, highOne},
	"no":    {angle, highOne},
	"nn":    {angle, highOne},
	"da":    {inward, pair{"›", "‹"}},
	"sv":    {same, sameOne},
	"fi":    {same, sameOne},
	"pl":    {lowRight, lowRight1},
	"hu":    {lowRight, inward},
	"ro":    {lowRight, angle},
	"hr":    {lowRight, sameOne},
	"sr":    {lowRight, sameOne},
	"ru":    {angle, low},
	"uk":    {angle, low},
}

// elisions lists the words that lose their beginning, by language. They are
// common practice in dialogue; no list of them is complete, and an author can
// always type the apostrophe.
var elisions = map[string]struct{ sure, doubtful, first string }{
	"en": {
		"tis twas twere twill twould twon't twasn't tisn't twouldn't tain't em til bout n neath gainst mongst twixt tween " +
			"nuff kay scuse spose sposed pon nother specially tho thout tude cept course'n zackly lectric im e ud orse ospital " +
			"nless fraid lowed low less'n bacca taters gators possum deed taint tother longside nough pears sblood zounds swounds sdeath strewth struth",
		"cause round fore till is er ere ad ave as ome ouse ow ello ell and ard ead arry sides stead un uns ope eart ill ot " +
			"long most course tend bye night morning evening noon fess scape",
		"cause round fore night morning evening ello",
	},
	"nl": {"s t n k m r ns ie twas tis", "", ""},
	"de": {"s n ne nen nem ner nes ran rein raus rauf runter rum rüber bissl türlich nauf naus nunter", "ran rum", ""},
	"it": {"l n sto sta sti ste ndrangheta na nu ndo", "", ""},
	"fr": {"tain tit tite tits core pis soir jour lut", "soir jour core", ""},
}

// marksFor returns the marks of a language; one that is not listed has those
// of English.
func marksFor(tag language.Tag) *marks {
	base, _ := tag.Base()
	region, _ := tag.Region()
	key := base.String()
	q, ok := quotation[key+"-"+region.String()]
	if !ok {
		q, ok = quotation[key]
	}
	if !ok {
		q = quotation["en"]
	}
	m := &marks{double: q.double, single: q.single}
	e := elisions[key]
	m.elided, m.doubtful, m.first = set(e.sure), set(e.doubtful), set(e.first)
	m.closed = key == "en"
	if key == "fr" {
		m.inside, m.colon = narrowNoBreak, true
		m.points = region.String() != "CA"
	}
	return m
}

func set(words string) map[string]bool {
	s := map[string]bool{}
	for _, w := range strings.Fields(words) {
		s[w] = true
	}
	return s
}
