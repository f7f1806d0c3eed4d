package markup

import (
	"slices"
	"strings"
	"unicode"
)

// common are the words that no page of a language does without (common
// practice; from memory). A word that two languages share counts for both.
var common = map[string]map[string]bool{
	"en": set("the and of to in that it was is he she his her had with for not you on at but they as be from have were said"),
	"de": set("der die das und in ich er sie es nicht war den dem ein eine mit zu auf ist sich von hatte wie so im daß dass als auch sagte"),
	"fr": set("le la les de des et un une il elle à que qui ne pas dans en du était je se ce sur son sa avec pour au plus dit"),
	"es": set("el la los las de que y en un una no se a su por con lo al del para era como más le había pero me dijo"),
	"it": set("il la di che e un una non in si le lo i per con del della era è da al come ma aveva suo più gli disse"),
	"pt": set("o a os as de que e um uma não em se do da no na por com para era ao mais como mas seu sua ele disse"),
	"nl": set("de het een en van in ik hij zij ze niet was dat die op te met voor er aan zijn haar had maar zei naar om ook"),
	"sv": set("och att i det som en på är var av för med den till han hon inte jag ett om hade men sig de hans sade från vid"),
	"pl": set("i w nie na się z to że do jest był była jak a co o ale po tak za od przez jego jej tylko już powiedział było"),
}

// mostHeard is how many words are listened to.
const mostHeard = 20_000

// A Listener tells the language of a text by its commonest words. The zero
// value is ready for use.
type Listener struct {
	words int
	hits  map[string]int
}

// Hear listens to a piece of the text. It reports whether more is wanted.
func (l *Listener) Hear(text string) bool {
	if l.hits == nil {
		l.hits = map[string]int{}
	}
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		l.words++
		for lang, words := range common {
			if words[w] {
				l.hits[lang]++
			}
		}
	}
	return l.words < mostHeard
}

// Language is the base of the BCP 47 tag of the text's language, with how many
// of its words are among the commonest there; "" where they do not say it
// clearly, or where the text is in none of the languages that are known.
func (l *Listener) Language() (lang string, hits, words int) {
	best, second := "", 0
	for _, lang := range heardLanguages {
		switch n := l.hits[lang]; {
		case n > l.hits[best]:
			best, second = lang, l.hits[best]
		case n > second:
			second = n
		}
	}
	if l.words < 40 || 6*l.hits[best] < l.words || 4*l.hits[best] < 5*second {
		return "", 0, l.words
	}
	return best, l.hits[best], l.words
}

// heardLanguages are those of common, in order.
var heardLanguages = func() (all []string) {
	for lang := range common {
		all = append(all, lang)
	}
	slices.Sort(all)
	return all
}()

// Mistaken tells whether a text can be in the language heard although it says
// another: it must say one that is known here, for languages that are not may
// be like one that is.
func Mistaken(said, heard string) bool {
	base, _, _ := strings.Cut(said, "-")
	return heard != "" && heard != base && common[base] != nil
}

// Heard is the language that the words of the book's own text are in, as
// Listener.Language has it.
func (b *Book) Heard() (lang string, hits, words int) {
	var l Listener
	for in := range b.inlines(false) {
		if in.Lang == "" && !l.Hear(in.Text) {
			break
		}
	}
	return l.Language()
}
