package wordproc

import (
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"
)

// The heads of scenes stand inside a chapter: "2", "Tuesday, 4:15 a.m.", "The
// Salt Road, evening". They are told by coming again and again in one look.

// sceneLook is how the head of a scene looks, apart from its words.
type sceneLook struct {
	outlook
	slanted, shouts bool
}

func (l *line) sceneLook() sceneLook {
	return sceneLook{l.outlook(), l.all(Emphasis) || l.all(Underline), isUpper(l.text)}
}

// when is a time or a date; roughly tells those that are less exact.
var (
	when = regexp.MustCompile(`(?i)\d[:.]\d\d|(^|[^\pL\d])([ap]\.?m|\d{1,4}(st|nd|rd|th|\.)?|(mon|tues|wednes|thurs|fri|satur|sun)day|january|february|march|april|may|june|july|august|september|october|november|december|` +
		`((mon|diens|donners|frei|sams|sonn)tag|mittwoch)(morgen|vormittag|mittag|nachmittag|abend|nacht)?|januar|februar|märz|juni|juli|oktober|dezember|lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche|janvier|février|avril|mai|juin|juillet|août|septembre|octobre|novembre|décembre|` +
		`lunes|martes|miércoles|jueves|viernes|sábado|domingo|enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|noviembre|diciembre|lunedì|martedì|mercoledì|giovedì|venerdì|sabato|domenica|gennaio|febbraio|aprile|maggio|giugno|luglio|settembre|ottobre|novembre|dicembre)([^\pL\d]|$)`)
	roughly = regexp.MustCompile(`(?i)(^|\PL)(noon|midnight|dawn|dusk|morning|evening|afternoon|night|days?|weeks?|months?|years?|later|earlier|before|after|ago|spring|summer|autumn|fall|winter|` +
		`tage?|morgens?|abends?|nachts?|mittags?|nachmittags?|mitternacht|später|uhr|jours?|matin|midi|soir|nuit|minuit|tard|días?|mañana|tarde|noche|medianoche|giorn[oi]|mattina|sera|notte|mezzanotte)(\PL|$)`)
)

// sceneNumber is a number in figures or small numerals, alone.
var sceneNumber = regexp.MustCompile(`^[(\[–—-]?\s*([ivxl]{1,6}|\d{1,3})\s*[.)\]–—-]?$`)

// fewestScenes is how often a look comes at the least that is one of scenes.
const fewestScenes = 3

// sceneHeads marks the heads of scenes, those that stand below the heading of a
// chapter too.
func (m *Manuscript) sceneHeads(ls []*line) {
	groups := map[sceneLook]*sceneGroup{}
	var previous *line
	next := following(ls, 0)
	may := next >= 0 && m.mayHeadScene(ls[next]) // the next line
	for i, l := range ls {
		if l.kind == emptyLine {
			continue
		}
		head := may
		next = following(ls, i+1)
		may = next >= 0 && m.mayHeadScene(ls[next])
		if previous != nil && next >= 0 && head && !may && isText(ls[next]) && !ls[next].page &&
			(previous.kind == headLine || previous.kind == ornamentLine || isSentence(previous.text) || endsSentence(previous.text)) {
			look := l.sceneLook()
			g := groups[look]
			if g == nil {
				g = &sceneGroup{names: map[string]int{}}
				groups[look] = g
			}
			g.add(l, previous.kind, m.profile.gap)
		}
		previous = l
	}
	for look, g := range groups {
		if m.areScenes(look, g) {
			for _, l := range g.all {
				l.scene = true
			}
		}
	}
}

// sceneGroup is what lines of one look have for heads of scenes.
type sceneGroup struct {
	all          []*line
	dated, rough int            // with a time; with one that is less exact
	apart        int            // with room above
	begin        int            // below the heading of a chapter
	broken       int            // below an ornament
	names        map[string]int // how often each comes
}

func (g *sceneGroup) add(l *line, above lineKind, gap int) {
	g.all = append(g.all, l)
	g.names[fold(l.text)]++
	if when.MatchString(l.text) || sceneNumber.MatchString(l.text) {
		g.dated++
	} else if roughly.MatchString(l.text) {
		g.rough++
	}
	if l.after > gap {
		g.apart++
	}
	switch above {
	case headLine:
		g.begin++
	case ornamentLine:
		g.broken++
	}
}

// areScenes tells whether lines of one look are the heads of scenes: they say
// when it is, or stand where scenes begin, or the same come again, as the names of
// those do who tell the story.
func (m *Manuscript) areScenes(look sceneLook, g *sceneGroup) bool {
	n, inside := len(g.all), len(g.all)-g.begin
	if n < fewestScenes || inside < 2 {
		return false
	}
	times := g.dated + g.rough
	plain := look.align == m.profile.align && !look.strong && !look.slanted && !look.shouts
	placed := g.begin > 0 || 2*g.broken >= inside || 2*(n-len(g.names)) >= n
	switch {
	case plain: // the text's own look: nothing but dates, and room above
		return 2*g.dated >= n && times == n && g.apart >= inside
	case 2*times >= n:
		return placed || !look.shouts && (g.apart >= inside || g.dated == n) // else telegrams
	}
	return placed && 2*g.apart >= inside && (look.align != Centre || look.strong || g.apart >= inside)
}

// isText tells a line of running text, and no line of verse.
func isText(l *line) bool {
	return l.kind == textLine && (utf8.RuneCountInString(l.text) > longLine || isSentence(l.text))
}

// mayHeadScene tells a short line that is no sentence and no speech.
func (m *Manuscript) mayHeadScene(l *line) bool {
	switch {
	case !m.mayBeOfLetter(l) || l.page || strings.Contains(l.text, "\n"):
		return false
	case len(l.text) <= 12 && sceneNumber.MatchString(l.text):
		return true
	case !beginsHead(l.text) || beginsSpeech(l.text) || isSentence(l.text) && !isAbbreviated(l.text) || hasMarks(l.Paragraph):
		return false
	case endsSentence(l.text) && !isAbbreviated(l.text) && !when.MatchString(l.text):
		return false
	}
	return !m.isSalutation(l.text) && !isSource(l.text) && !entry.MatchString(l.text) && !m.saysEnd(l.text)
}

// numberedScenes marks numbers alone that begin anew in chapters that have
// names, and that begin no page: they are those of scenes.
func (cr *crowd) numberedScenes(ls []*line) {
	var bare []int
	begins, paged, aloud, last := 0, 0, 0, mostAlone+1
	from := 0 // the line behind the last number
	named := false
	for k, c := range cr.all {
		switch {
		case c.number && c.says.part && c.says.worded:
			return // they begin anew in each part
		case c.number && c.says.title == "" && !c.says.worded:
			bare = append(bare, k)
			if n := c.says.n; n <= last { // the first scene often has none
				if n > 2 || !named && !slices.ContainsFunc(ls[from:c.at], func(l *line) bool { return l.kind == headLine }) {
					return // no chapter begins before it
				}
				begins++
			}
			last, from, named = c.says.n, c.end, false
			if said := strings.Trim(c.says.number, "IVXLC0123456789"); c.plain && c.ends && (said != "" || c.says.number == "I") {
				aloud++ // "One." is speech
			}
			if c.page && c.at > 0 {
				paged++
			}
		case !c.number:
			named = named || c.points >= 2 || c.alone || c.page
		}
	}
	if begins < 2 || 2*paged > len(bare) || 2*aloud > len(bare) {
		return
	}
	for _, k := range bare {
		ls[cr.all[k].at].scene = true
		if cr.all[k].points >= 3 {
			cr.numbered--
		}
	}
	cr.all = slices.DeleteFunc(cr.all, func(c candidate) bool { return ls[c.at].scene })
}

// sceneLevel is the level of the heads of scenes: a heading of level 2 right below
// a number alone would be the chapter's title.
func (m *Manuscript) sceneLevel(ls []*line, open []opening) int {
	for _, o := range open {
		if next := following(ls, o.end); o.numbers && len(o.head) == 1 && o.saying.title == "" && next >= 0 && ls[next].scene {
			return 3
		}
	}
	return 2
}

// sceneHead adds the head of a scene.
func (c *composer) sceneHead(l *line) {
	c.bs = append(c.bs, block{kind: heading, level: c.m.headLevel, paras: []*Paragraph{l.Paragraph}})
	c.m.guess(false, l.Paragraph, "heading inside a chapter", "the head of a scene: a short line whose look comes again")
}
