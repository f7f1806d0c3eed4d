package markup

import (
	"slices"
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

	inside   string // the space inside double (French)
	points   bool   // a narrow space before ; ! ?
	colon    bool   // a no-break space before :
	closed   bool   // two hyphens closed up to words are an em dash (English)
	american bool   // and so are two between spaces, which close up (The Chicago Manual of Style on dashes)

	lang string // BCP 47

	// For the headings: the words for chapter and part, those for pieces that
	// stand aside from the chapters' numbers, articles before an ordinal, and,
	// where a point makes one, the months that follow it.
	words                   map[string]Piece
	aside, articles, months map[string]bool
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
			"nless fraid lowed low less'n bacca taters gators possum deed taint tother longside nough pears allo ullo alf arf undred undreds usband usbands andsome appy eaven eavens ungry istory arriet erbert enry enery orace sblood zounds swounds sdeath strewth struth",
		"cause round fore till is er ere ad ave as ome ouse ow ello ell and ard ead arry sides stead un uns ope eart ill ot " +
			"long most course tend bye night morning evening noon fess scape " +
			"allo ullo alf arf alfway undred undreds usband usbands andsome appy eaven eavens ungry istory arriet erbert enry enery orace",
		"cause round fore night morning evening ello ere ead ome ouse ow eart arry ave ot un uns " +
			"allo ullo alf arf alfway undred undreds usband usbands andsome appy eaven eavens ungry istory arriet erbert enry enery orace",
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
	m := &marks{double: q.double, single: q.single, lang: tag.String()}
	m.headingWords(key)
	e := elisions[key]
	m.elided, m.doubtful, m.first = set(e.sure), set(e.doubtful), set(e.first)
	m.closed = key == "en"
	m.american = m.closed && (region.String() == "US" || region.String() == "CA")
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

// headingWords lists, by language, the words for a chapter and for a part of a
// book, those for pieces that stand aside from the chapters' numbers, and the
// articles that an ordinal may have; common practice in novels.
var headingWords = map[string]struct{ chapter, part, aside, articles, months string }{
	"en": {"chapter chap", "part book act volume",
		"prologue,prelude,preface,foreword,introduction,interlude,intermezzo,intermission,epilogue,postlude,afterword,postscript,coda," +
			"acknowledgements,acknowledgments,about the author,author's note,note,a note on the text,appendix,glossary,dramatis personae,also by the author",
		"the", ""},
	"de": {"kapitel", "teil buch band akt",
		"prolog,vorspiel,vorwort,geleitwort,einleitung,zwischenspiel,intermezzo,epilog,nachspiel,nachwort,danksagung,dank,über den autor,über die autorin,anhang,glossar,personen",
		"der die das", "januar jänner februar märz april mai juni juli august september oktober november dezember"},
	"fr": {"chapitre", "partie livre tome acte",
		"prologue,prélude,préface,avant-propos,introduction,interlude,intermède,épilogue,postface,post-scriptum,remerciements,à propos de l'auteur,note de l'auteur,annexe,glossaire",
		"le la", ""},
	"es": {"capítulo capitulo", "parte libro tomo acto",
		"prólogo,preludio,prefacio,introducción,interludio,intermedio,epílogo,posfacio,posdata,agradecimientos,sobre el autor,sobre la autora,nota del autor,apéndice,glosario",
		"el la", ""},
	"it": {"capitolo", "parte libro tomo atto",
		"prologo,preludio,prefazione,introduzione,interludio,intermezzo,epilogo,postfazione,ringraziamenti,l'autore,l'autrice,nota dell'autore,appendice,glossario",
		"il la", ""},
	"pt": {"capítulo capitulo", "parte livro tomo ato acto",
		"prólogo,prelúdio,prefácio,introdução,interlúdio,epílogo,posfácio,agradecimentos,sobre o autor,sobre a autora,nota do autor,apêndice,glossário",
		"o a", ""},
	"nl": {"hoofdstuk", "deel boek bedrijf",
		"proloog,voorwoord,inleiding,intermezzo,tussenspel,epiloog,nawoord,dankwoord,over de auteur,verantwoording,bijlage,verklarende woordenlijst",
		"het de", ""},
	"sv": {"kapitel kapitlet", "del delen bok boken akt akten",
		"prolog,förspel,förord,inledning,mellanspel,epilog,efterspel,efterord,tack,om författaren,bilaga,ordlista",
		"", ""},
	"pl": {"rozdział", "część księga tom akt",
		"prolog,przedmowa,wstęp,interludium,intermezzo,epilog,posłowie,podziękowania,o autorze,o autorce,od autora,dodatek,słowniczek",
		"", ""},
}

// HeadingWord tells whether a word, in any case, stands beside the numbers of
// chapters or of parts in a language: Chapter for "Kapitel", Part for "Buch".
// lang is a BCP 47 tag.
func HeadingWord(lang, word string) (Piece, bool) {
	base, _, _ := strings.Cut(strings.ToLower(lang), "-")
	w := headingWords[base]
	word = strings.ToLower(word)
	switch {
	case slices.Contains(strings.Fields(w.chapter), word):
		return Chapter, true
	case slices.Contains(strings.Fields(w.part), word):
		return Part, true
	}
	return Chapter, false
}

// headingWords fills in what is known of the headings of a language.
func (m *marks) headingWords(key string) {
	w := headingWords[key]
	m.words = map[string]Piece{}
	for _, s := range strings.Fields(w.part) {
		m.words[s] = Part
	}
	for _, s := range strings.Fields(w.chapter) {
		m.words[s] = Chapter
	}
	m.aside = map[string]bool{}
	for s := range strings.SplitSeq(w.aside, ",") {
		m.aside[s] = s != ""
		m.aside[strings.ReplaceAll(s, "'", apostrophe)] = s != ""
	}
	m.articles, m.months = set(w.articles), set(w.months)
}
