package wordproc

import (
	"strings"
	"unicode"

	"bodkin/markup"
	"bodkin/markup/numeral"
)

// saying is what a line says of its place in the book.
type saying struct {
	n      int
	part   bool
	worded bool   // the word for chapter or part stands beside the number
	title  string // what follows the number
	number string // the number with its word
}

// shortened are the words for a chapter that people shorten, in all languages.
var shortened = set("ch,chap,kap,cap,rozdz")

// wordFor tells whether a word is that for a chapter or a part.
func wordFor(lang, s string) (part, known bool) {
	if bare, ok := strings.CutSuffix(s, "."); ok && shortened[strings.ToLower(bare)] {
		return false, true
	}
	for _, l := range []string{lang, "en"} {
		if piece, ok := markup.HeadingWord(l, s); ok {
			return piece == markup.Part, true
		}
	}
	return false, false
}

// isWordAlone tells the word for a chapter or a part, and nothing else.
func isWordAlone(lang, s string) bool {
	_, known := wordFor(lang, s)
	return known
}

const mostAlone = 199 // 1984 is a title

// betweenSigns takes the signs off a line that has them at both ends, as in
// "- 7 -" or "~ VII ~".
func betweenSigns(s string) string {
	const signs = "-–—~*#·•_=+|<>[]() "
	head := strings.TrimLeft(s, signs)
	bare := strings.TrimRight(head, signs)
	if len(s) > 40 || head == s || bare == head || strings.TrimSpace(s[:len(s)-len(head)]) == "" {
		return s
	}
	return bare
}

// says reads a line as a number, perhaps with a title behind it.
func says(lang, line string) (saying, bool) {
	line = betweenSigns(line)
	f := strings.Fields(line)
	if len(f) == 0 || len(line) > longestHead {
		return saying{}, false
	}
	for k := min(len(f), 7); k > 0; k-- {
		head, title := strings.Join(f[:k], " "), strings.Join(f[k:], " ")
		bare := strings.TrimRight(head, ".:–—-)")
		pointed := bare != head
		if b, ok := strings.CutSuffix(head, ","); ok { // Chapter the First, in which ...
			if _, _, worded, _, ok := numbered(lang, strings.Fields(b)); ok && worded {
				bare, pointed = b, true
			}
		}
		if k < len(f) && !pointed && isDash(f[k]) {
			pointed, title = true, strings.Join(f[k+1:], " ")
		}
		n, part, worded, figures, ok := numbered(lang, strings.Fields(bare))
		switch {
		case !ok:
		case title == "", worded && (pointed || figures && startsTitle(title)), pointed && figures:
			return saying{n, part, worded, title, bare}, true
		}
	}
	// Chapter One—The Ebb
	for _, dash := range []string{"—", "–", ":"} {
		if head, title, ok := strings.Cut(line, dash); ok {
			if n, part, worded, _, ok := numbered(lang, strings.Fields(head)); ok && worded {
				return saying{n, part, worded, strings.TrimSpace(title), strings.TrimSpace(head)}, true
			}
		}
	}
	return saying{}, false
}

func isDash(s string) bool { return s == "-" || s == "–" || s == "—" || s == ":" }

func startsTitle(s string) bool {
	for _, r := range s {
		return unicode.IsUpper(r) || unicode.In(r, unicode.Pi)
	}
	return false
}

// numbered reads words as a number, alone or beside the word for a chapter or
// a part.
func numbered(lang string, f []string) (n int, part, worded, figures, ok bool) {
	read := func(f []string) (int, numeral.Form, bool) {
		if len(f) == 0 || len(f) > 5 {
			return 0, 0, false
		}
		s := strings.Join(f, " ")
		if n, form, ok := numeral.Read(lang, s); ok {
			return n, form, ok
		}
		return numeral.Read("en", s)
	}
	if n, form, ok := read(f); ok && form <= numeral.Cardinal && (form != numeral.Figures || n <= mostAlone) && form != numeral.Small {
		return n, false, false, form != numeral.Cardinal, true
	}
	if len(f) < 2 {
		return 0, false, false, false, false
	}
	if part, known := wordFor(lang, f[0]); known {
		rest := f[1:]
		if len(rest) > 1 && strings.EqualFold(rest[0], "the") {
			rest = rest[1:]
		}
		if n, form, ok := read(rest); ok {
			return n, part, true, form <= numeral.Small, true
		}
	}
	last := len(f) - 1
	if part, known := wordFor(lang, f[last]); known {
		first := f[:last]
		if len(first) > 1 {
			switch strings.ToLower(first[0]) {
			case "the", "das", "der", "die", "le", "la", "el", "il", "het", "de":
				first = first[1:]
			}
		}
		if n, form, ok := read(first); ok && form >= numeral.Ordinal {
			return n, part, true, false, true
		}
		if k := strings.TrimRight(first[len(first)-1], "."); len(first) == 1 && k != first[0] { // 1. Kapitel
			if n, form, ok := read([]string{k}); ok && form <= numeral.Capitals {
				return n, part, true, true, true
			}
		}
	}
	return 0, false, false, false, false
}

// place is where a piece with a name of its own belongs.
type place uint8

const (
	nowhere place = iota
	inBody        // a prologue
	inFront       // a preface
	inBack        // an afterword
	either        // in front of the chapters or behind them, as it stands
)

// pieces are the names of pieces without a number.
var pieces = map[place]string{
	inBody: "prologue,prelude,introduction,interlude,intermezzo,intermission,epilogue,postlude,coda,conclusion,prolog,vorspiel,einleitung,zwischenspiel,epilog,nachspiel,schluss," +
		"prélude,intermède,épilogue,prólogo,preludio,introducción,interludio,epílogo,conclusión,introduzione,preludio,prologo,epilogo,conclusione,prelúdio,introdução,interlúdio," +
		"proloog,inleiding,tussenspel,epiloog,förspel,inledning,mellanspel,efterspel,wstęp",
	inFront: "preface,foreword,content warning,content warnings,content note,content notes,a note on content,trigger warning,trigger warnings,family tree,to the reader,an den leser,inhaltswarnung,au lecteur,al lector,al lettore,ao leitor," +
		"vorwort,geleitwort,avant-propos,préface,prefacio,prefazione,prefácio,voorwoord,förord,przedmowa",
	inBack: "afterword,postscript,historical note,author's historical note,discussion questions,questions for discussion,book club questions,reading group guide,reading group questions,reader's guide,thank you,thanks,coming soon,coming next," +
		"sneak peek,preview,bonus scene,bibliography,sources,further reading,about the publisher,newsletter,stay in touch,credits,colophon,historische anmerkung,nachbemerkung,quellen,leseprobe,note historique,bibliographie,nota histórica,nota del autor,nota de la autora,bibliografía,nota storica,nota dell'autore,nota dell'autrice,bibliografia," +
		"about the author,about the authors,author's note,a note from the author,appendix,glossary,nachwort,über den autor,über die autorin,anhang,glossar," +
		"postface,post-scriptum,à propos de l'auteur,posfacio,sobre el autor,sobre la autora,glosario,postfazione,l'autore,l'autrice,glossario,posfácio,sobre o autor,sobre a autora," +
		"nawoord,over de auteur,bijlage,efterord,om författaren,ordlista,posłowie,o autorze,o autorce,słowniczek",
	either: "acknowledgements,acknowledgments,also by the author,books by the author,by the same author,du même auteur,de la même autrice,vom selben autor,von derselben autorin,del mismo autor,de la misma autora,dello stesso autore,della stessa autrice,do mesmo autor,da mesma autora,van dezelfde auteur,danksagung,dank,remerciements,note de l'auteur,agradecimientos,ringraziamenti,agradecimentos,dankwoord,tack,podziękowania," +
		"dramatis personae,a note on the text,characters,cast of characters,list of characters,a letter to the reader,a letter from the author,dear reader,playlist,maps,personen,note,timeline,map",
}

var contentsNames = set("contents,table of contents,inhalt,inhaltsverzeichnis,table des matières,sommaire,índice,indice,sumário,inhoud,inhoudsopgave,innehåll,spis treści")

var placeOf = func() map[string]place {
	m := map[string]place{}
	for at, names := range pieces {
		for name := range set(names) {
			m[name] = at
		}
	}
	return m
}()

func set(names string) map[string]bool {
	m := map[string]bool{}
	for name := range strings.SplitSeq(names, ",") {
		m[name] = true
	}
	return m
}

// named tells where a piece with this heading belongs.
func named(text string) place {
	s := fold(text)
	if at, ok := placeOf[s]; ok {
		return at
	}
	for _, cut := range []string{":", " – ", " — ", " - "} {
		if head, _, ok := strings.Cut(s, cut); ok {
			if at := placeOf[strings.TrimSpace(head)]; at != nowhere {
				return at
			}
		}
	}
	if strings.HasPrefix(s, "also by ") || strings.HasPrefix(s, "other books by ") || strings.HasPrefix(s, "books by ") || strings.HasPrefix(s, "a note on ") {
		return either
	}
	if strings.HasPrefix(s, "praise for ") {
		return inFront
	}
	for _, begin := range []string{"appendix ", "coming soon ", "connect with ", "sources and ", "more by ", "an excerpt from ", "excerpt from ", "a preview of ", "preview of ", "a sneak peek ", "sneak peek "} {
		if strings.HasPrefix(s, begin) {
			return inBack
		}
	}
	return nowhere
}

// spaced is a text with one space between words.
func spaced(s string) string { return strings.Join(strings.Fields(s), " ") }

// fold makes headings that differ in case, spaces and apostrophes alike.
func fold(s string) string {
	s = strings.ReplaceAll(strings.ToLower(spaced(s)), "’", "'")
	return strings.Trim(s, ".:*_ ")
}
