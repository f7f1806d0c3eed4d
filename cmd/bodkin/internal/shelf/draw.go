package shelf

import (
	"cmp"
	"fmt"
	"html"
	"slices"
	"strings"
	"unicode"

	"bodkin/typeset/length"
)

// The colours are told apart by their lightness as well as by their hue, and
// what they mean stands beside them in words. They stand as attributes for
// programs that know no style sheets; the style sheet is for dark screens.
const style = `<style>
@media screen and (prefers-color-scheme: dark) {
.ground { fill: #191d22 } .ink { fill: #e9e6df } .soft { fill: #a9b0b8 } .rule { stroke: #a9b0b8 }
.board { fill: #6d5c45 } .median { stroke: #c3cad2 }
.paperback { fill: #6f8aa3; stroke: #191d22 } .case { fill: #2f4254; stroke: #8fa6bb }
.paperback-ink { fill: #0e1318 } .case-ink { fill: #eef2f6 } .band { fill: #8fa6bb }
.unknown { fill: #191d22; stroke: #a9b0b8 } .unknown-ink { fill: #e9e6df }
.front { fill: #262c33; stroke: #8fa6bb }
.name1 { fill: #f08a4b } .line1 { stroke: #f08a4b } .name2 { fill: #c79ae0 } .line2 { stroke: #c79ae0 } .name3 { fill: #4fc4b4 } .line3 { stroke: #4fc4b4 }
}
</style>
`

var (
	fills = map[string]string{
		"paperback": `fill="#a9bdcf" stroke="#fbfaf6"`, "case": `fill="#3c5268" stroke="#fbfaf6"`,
		"paperback unknown": `fill="#fbfaf6" stroke="#5d666f" stroke-dasharray="1 0.6"`, "case unknown": `fill="#fbfaf6" stroke="#5d666f" stroke-dasharray="1 0.6"`,
	}
	inks = map[string]string{
		"paperback": `class="paperback-ink" fill="#16202a"`, "case": `class="case-ink" fill="#ffffff"`,
		"paperback unknown": `class="unknown-ink" fill="#16202a"`, "case unknown": `class="unknown-ink" fill="#16202a"`,
		"candidate": `fill="#ffffff"`,
	}
	// accents are the colours of the candidates, and how their lines are broken.
	accents = []accent{{"#c4500f", "3 1"}, {"#8a4fa8", "1 1"}, {"#0f7f70", "4 1 1 1"}}
)

type accent struct{ colour, dash string }

func accentOf(candidate int) accent { return accents[(candidate-1)%len(accents)] }

// name are the attributes of words, and stroke those of lines, that belong to
// a candidate.
func name(candidate int) string {
	return fmt.Sprintf(`class="name%d" fill="%s"`, (candidate-1)%len(accents)+1, accentOf(candidate).colour)
}

func stroke(candidate int) string {
	a := accentOf(candidate)
	return fmt.Sprintf(`class="line%d" fill="none" stroke="%s" stroke-dasharray="%s"`, (candidate-1)%len(accents)+1, a.colour, a.dash)
}

// mm writes a length on paper in millimetres, to hundredths.
func mm(l length.Length) string { return length.Decimal(int64(l.Scale(2540, int64(length.Inch))), 2) }

func (p *picture) add(format string, args ...any) { fmt.Fprintf(p, format, args...) }

// text writes words at a place. attributes are of the element; size is in
// tenths of a millimetre.
func (p *picture) text(x, y length.Length, size int64, attributes, s string) {
	p.add("<text x=\"%s\" y=\"%s\" font-size=\"%s\" %s>%s</text>\n", mm(x), mm(y), length.Decimal(size, 1), attributes, html.EscapeString(s))
}

const (
	ink  = `class="ink" fill="#16202a"`
	soft = `class="soft" fill="#59626b"`
	bold = ` font-weight="bold"`
)

func (p *picture) head(title string, high length.Length) {
	r := p.r
	says := []string{title + "."}
	for i := range r.Standings {
		says = append(says, fmt.Sprintf("%s: %s.", r.Standings[i].Trim.Label(), count(r.Standings[i].Books, "book", "books")))
	}
	for i := range r.Candidates {
		says = append(says, r.Candidates[i].Says)
	}
	p.add(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" font-family="sans-serif" role="img" aria-labelledby="t d">`+"\n",
		mm(sheet), mm(high), mm(sheet), mm(high))
	p.add("<title id=\"t\">%s</title>\n<desc id=\"d\">%s</desc>\n%s", html.EscapeString(title), html.EscapeString(strings.Join(says, " ")), style)
	p.add("<rect class=\"ground\" width=\"%s\" height=\"%s\" fill=\"#fbfaf6\"/>\n", mm(sheet), mm(high))
	p.text(margin, margin+4*millimetre, 48, ink+bold, shortened(title, 48, sheet-2*margin))
	p.text(margin, margin+9*millimetre, 30, soft, fmt.Sprintf("Drawn at 1 : %d, books and trims alike. %s as they stand from %s to %s high; the middle is %s.",
		p.scale, count(len(r.Books), "book", "books"), r.show(r.Least), r.show(r.Most), r.show(r.Median)))
}

// line is a height across the shelf, with its name at the side.
type line struct {
	high       length.Length
	says       []string
	attributes string
	ink        string
}

// row draws some groups on a board whose top is at y.
func (p *picture) row(groups []group, y length.Length) {
	right := sheet - margin - beside
	p.add("<rect class=\"board\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"1.4\" fill=\"#c9b48f\"/>\n", mm(margin), mm(y), mm(right-margin))
	lines := []line{{p.r.Median, []string{"middle of the", "shelf, " + p.r.show(p.r.Median)},
		`class="median" stroke="#16202a" stroke-width="0.25" stroke-dasharray="0.4 0.8" fill="none"`, ink}}
	for i := range p.r.Candidates {
		c := &p.r.Candidates[i]
		lines = append(lines, line{c.Height, []string{c.Trim.Written() + ",", p.r.signed(c.Above)}, stroke(i+1) + ` stroke-width="0.4"`, name(i + 1)})
	}
	p.lines(lines, y, right) // behind the books
	x := margin
	for _, g := range groups {
		wide := p.wide(g.spines)
		at := x
		for i := range g.spines {
			p.spine(&g.spines[i], at, y)
			at += p.paper(g.spines[i].thick)
		}
		middle := y + 5*millimetre
		p.text(x, middle, 28, ink+bold, g.head)
		under := []string{g.books}
		if g.name != "" {
			under = []string{g.name, g.books}
		}
		for i, s := range under {
			p.text(x, middle+length.Length(i+1)*millimetre*7/2, 26, soft, s)
		}
		x += max(wide, atLeast) + between
	}
}

// lines draws heights across the shelf. The highest is named first; names that
// would stand on each other are moved down.
func (p *picture) lines(lines []line, y, right length.Length) {
	slices.SortStableFunc(lines, func(a, b line) int { return cmp.Compare(b.high, a.high) })
	free := -length.Max
	for _, l := range lines {
		at := y - p.paper(l.high)
		named := max(at+millimetre, free)
		p.add("<path d=\"M%s %sH%sL%s %s\" %s/>\n", mm(margin), mm(at), mm(right), mm(right+3*millimetre), mm(named-millimetre), l.attributes)
		for i, s := range l.says {
			p.text(right+4*millimetre, named+length.Length(i)*millimetre*7/2, 28, l.ink, s)
		}
		free = named + length.Length(len(l.says))*millimetre*7/2 + millimetre
	}
}

// signed tells how far a candidate is from the middle of the shelf.
func (r *Report) signed(above length.Length) string {
	s := r.show(abs(above))
	switch {
	case strings.HasPrefix(s, "0 "):
		return "level with it"
	case above > 0:
		return s + " higher"
	}
	return s + " lower"
}

// spine draws a book with the foot of its left side at x, y.
func (p *picture) spine(s *spine, x, y length.Length) {
	thick, high := p.paper(s.thick), p.paper(s.high)
	fill := fills[s.class]
	if s.candidate > 0 {
		fill = fmt.Sprintf(`fill="%s" stroke="#fbfaf6"`, accentOf(s.candidate).colour)
	}
	p.add("<g><title>%s</title><rect class=\"%s\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" stroke-width=\"0.3\" %s/>",
		html.EscapeString(s.says), s.class, mm(x), mm(y-high), mm(thick), mm(high), fill)
	edge := 2 * millimetre // of the lettering
	if s.class == "case" {
		for _, at := range []length.Length{y - high + millimetre*3/2, y - millimetre*5/2} {
			p.add("<rect class=\"band\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"0.8\" fill=\"#a9bdcf\"/>", mm(x), mm(at), mm(thick))
		}
		edge = 4 * millimetre
	}
	// The letters run down the spine, as in English. They are smaller where the
	// title is long, and none is smaller than 1.5 mm.
	const leastSize = 15
	size := min(int64(thick*10*6/10/millimetre), 30)
	for size > leastSize && estimate(s.title, size) > high-2*edge {
		size--
	}
	if size >= leastSize {
		weight := ""
		if s.candidate > 0 {
			weight = bold
		}
		p.add("<text transform=\"translate(%s %s) rotate(90)\" font-size=\"%s\" %s%s>%s</text>",
			mm(x+thick/2-length.Length(size)*millimetre*35/1000), mm(y-high+edge), length.Decimal(size, 1), inks[s.class], weight,
			html.EscapeString(shortened(s.title, size, high-2*edge)))
	}
	p.add("</g>\n")
}

// fronts draws the most common trims, flat, with the candidates over them, and
// returns where it ends.
func (p *picture) fronts(y length.Length) length.Length {
	r := p.r
	heading := "The fronts of the most common trims, and the outline of your book"
	if len(r.Candidates) > 1 {
		heading = "The fronts of the most common trims, and the outlines of yours"
	}
	p.text(margin, y, 34, ink+bold, heading)
	if len(r.Candidates) == 0 || len(r.Standings) == 0 {
		p.Reset()
		return y - 7*millimetre
	}
	tall, wide := length.Length(0), length.Length(0)
	for i := range r.Candidates {
		size := r.Candidates[i].Trim.Size()
		tall, wide = max(tall, size.Height), max(wide, size.Width)
	}
	var shown []*Standing
	for i, x := 0, margin; i < len(r.Standings); i++ {
		size := r.Standings[i].Trim.Size()
		x += max(p.paper(max(size.Width, wide)), atLeast) + 2*between
		if x-2*between > sheet-margin {
			break
		}
		shown = append(shown, &r.Standings[i])
		tall = max(tall, size.Height)
	}
	x, foot := margin, y+4*millimetre+p.paper(tall)
	for _, st := range shown {
		size := st.Trim.Size()
		w, h := p.paper(size.Width), p.paper(size.Height)
		p.add("<rect class=\"front\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"#e4ebf1\" stroke=\"#3c5268\" stroke-width=\"0.3\"/>\n", mm(x), mm(foot-h), mm(w), mm(h))
		p.text(x+w/2, foot-h/2, 44, ink+bold+` text-anchor="middle"`, fmt.Sprint(st.Books))
		p.text(x+w/2, foot-h/2+4*millimetre, 28, soft+` text-anchor="middle"`, strings.TrimLeft(count(st.Books, "book", "books"), "0123456789 "))
		for i := range r.Candidates {
			size := r.Candidates[i].Trim.Size()
			p.add("<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" stroke-width=\"0.5\" %s/>\n",
				mm(x), mm(foot-p.paper(size.Height)), mm(p.paper(size.Width)), mm(p.paper(size.Height)), stroke(i+1))
		}
		p.text(x, foot+4*millimetre, 28, ink+bold, st.Trim.Written())
		if st.Trim.Name != "" {
			p.text(x, foot+millimetre*15/2, 26, soft, st.Trim.Name)
		}
		x += max(p.paper(max(size.Width, wide)), atLeast) + 2*between
	}
	return foot + 8*millimetre
}

// foot draws what the colours mean, the scale, and the notes, and returns the
// height of the picture.
func (p *picture) foot(y length.Length) length.Length {
	y += 6 * millimetre
	x, top := margin, y
	key := func(class, fill, says string) {
		if x > margin && x+4*millimetre+estimate(says, 28) > p.barLeft()-3*millimetre {
			x, y = margin, y+7*millimetre
		}
		p.add("<rect class=\"%s\" x=\"%s\" y=\"%s\" width=\"3\" height=\"5\" stroke-width=\"0.3\" %s/>", class, mm(x), mm(y), fill)
		if class == "case" {
			p.add("<rect class=\"band\" x=\"%s\" y=\"%s\" width=\"3\" height=\"0.6\" fill=\"#a9bdcf\"/>", mm(x), mm(y+millimetre*7/10))
		}
		p.text(x+4*millimetre, y+millimetre*7/2, 28, ink, says)
		x += 8*millimetre + estimate(says, 28)
	}
	has := func(class string) bool {
		return slices.ContainsFunc(p.groups, func(g group) bool {
			return slices.ContainsFunc(g.spines, func(s spine) bool { return s.class == class })
		})
	}
	if has("paperback") {
		key("paperback", fills["paperback"], "paperback")
	}
	if has("case") {
		key("case", fills["case"], "case-bound")
	}
	if has("paperback unknown") || has("case unknown") {
		key("paperback unknown", fills["paperback unknown"], "of no known trim")
	}
	for i := range p.r.Candidates {
		key("candidate", `fill="`+accentOf(i+1).colour+`"`, "your book at "+p.r.Candidates[i].Trim.Written())
	}
	p.bar(top + millimetre*2)
	y += 6 * millimetre
	for _, note := range append([]string{p.r.sayThickness()}, p.notes...) {
		y += 4 * millimetre
		p.text(margin, y, 26, soft, note)
	}
	y += 4 * millimetre
	p.text(margin, y, 26, soft, fmt.Sprintf("Printed at its own size, 100 %%, the scale is 1 : %d. Hold a printed sheet of the trim against the shelf before you choose.", p.scale))
	return y + margin
}

func (p *picture) barLeft() length.Length {
	return sheet - margin - p.paper(6*length.Inch) - 14*millimetre
}

// bar draws the scale at the right: inches above, centimetres below.
func (p *picture) bar(y length.Length) {
	in := func(n length.Length) length.Length { return p.paper(n * length.Inch) }
	cm := func(n length.Length) length.Length { return p.paper((n * 10 * length.Inch).Scale(5, 127)) }
	x := p.barLeft()
	p.add("<path class=\"rule\" fill=\"none\" stroke=\"#59626b\" stroke-width=\"0.25\" d=\"M%s %sH%s", mm(x), mm(y), mm(x+in(6)))
	for n := range length.Length(7) {
		p.add("M%s %sv-1.6", mm(x+in(n)), mm(y))
	}
	for n := range length.Length(16) {
		p.add("M%s %sv1.6", mm(x+cm(n)), mm(y))
	}
	p.add("\"/>\n")
	p.text(x-3*millimetre, y+millimetre, 26, soft, "0")
	p.text(x+in(6)+millimetre, y-millimetre/4, 26, soft, "6 in")
	p.text(x+in(6)+millimetre, y+3*millimetre, 26, soft, "15 cm")
}

// estimate guesses how wide words are in some sans serif, in letters of size
// tenths of a millimetre; rather too wide than too narrow.
func estimate(s string, size int64) length.Length {
	hundredths := int64(0)
	for _, r := range s {
		switch {
		case strings.ContainsRune("iljtfrI.,:;'’!| ", r):
			hundredths += 36
		case r >= 0x1100 && !unicode.Is(unicode.Latin, r):
			hundredths += 105
		case unicode.IsUpper(r) || strings.ContainsRune("mwMW@%&—", r):
			hundredths += 80
		default:
			hundredths += 60
		}
	}
	return (millimetre * length.Length(size)).Scale(hundredths, 1000)
}

// shortened cuts words that have no room.
func shortened(s string, size int64, room length.Length) string {
	if estimate(s, size) <= room {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 && estimate(string(runes)+"…", size) > room {
		runes = runes[:len(runes)-1]
	}
	if len(runes) == 0 {
		return ""
	}
	return strings.TrimRight(string(runes), " ") + "…"
}
