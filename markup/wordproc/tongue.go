package wordproc

import (
	"strings"
	"unicode"
)

// common are the words that no page of a language does without (common
// practice; from memory). A word that two languages share counts for both. A
// document that says another language than these is believed: its words may be
// like those of one of them.
var common = map[string]map[string]bool{
	"en": set("the,and,of,to,in,that,it,was,is,he,she,his,her,had,with,for,not,you,on,at,but,they,as,be,from,have,were,said"),
	"de": set("der,die,das,und,in,ich,er,sie,es,nicht,war,den,dem,ein,eine,mit,zu,auf,ist,sich,von,hatte,wie,so,im,daß,dass,als,auch,sagte"),
	"fr": set("le,la,les,de,des,et,un,une,il,elle,à,que,qui,ne,pas,dans,en,du,était,je,se,ce,sur,son,sa,avec,pour,au,plus,dit"),
	"es": set("el,la,los,las,de,que,y,en,un,una,no,se,a,su,por,con,lo,al,del,para,era,como,más,le,había,pero,me,dijo"),
	"it": set("il,la,di,che,e,un,una,non,in,si,le,lo,i,per,con,del,della,era,è,da,al,come,ma,aveva,suo,più,gli,disse"),
	"pt": set("o,a,os,as,de,que,e,um,uma,não,em,se,do,da,no,na,por,com,para,era,ao,mais,como,mas,seu,sua,ele,disse"),
	"nl": set("de,het,een,en,van,in,ik,hij,zij,ze,niet,was,dat,die,op,te,met,voor,er,aan,zijn,haar,had,maar,zei,naar,om,ook"),
	"sv": set("och,att,i,det,som,en,på,är,var,av,för,med,den,till,han,hon,inte,jag,ett,om,hade,men,sig,de,hans,sade,från,vid"),
	"pl": set("i,w,nie,na,się,z,to,że,do,jest,był,była,jak,a,co,o,ale,po,tak,za,od,przez,jego,jej,tylko,już,powiedział,było"),
}

// mostSpoken is how many words are listened to.
const mostSpoken = 20_000

// spoken is the language that the words of a document are in; "" where they do
// not say it clearly. reason tells by how many words.
func (d *Document) spoken() (tag, reason string) {
	all := 0
	hits := map[string]int{}
	for _, p := range d.Paragraphs {
		if all > mostSpoken {
			break
		}
		for _, w := range strings.FieldsFunc(strings.ToLower(p.Text()), func(r rune) bool { return !unicode.IsLetter(r) }) {
			all++
			for lang, words := range common {
				if words[w] {
					hits[lang]++
				}
			}
		}
	}
	best, second := "", 0
	for _, lang := range sortedKeys(hits) {
		switch n := hits[lang]; {
		case n > hits[best]:
			best, second = lang, hits[best]
		case n > second:
			second = n
		}
	}
	if all < 40 || 6*hits[best] < all || 4*hits[best] < 5*second {
		return "", ""
	}
	return best, itoa(hits[best]) + " of its " + itoa(all) + " words are among the commonest of that language"
}
