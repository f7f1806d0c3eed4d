package wordproc

import (
	"slices"
	"strings"
)

// profile is what most of a document's text looks like.
type profile struct {
	align              Align
	left, right, first int
	size               int
	face               Face
	gap                int // empty paragraphs that stand between two as a rule
	space              int // above and below together
	look               Style
	double             bool // speech has double marks
}

// ownFace tells a paragraph in another face than the text.
func (m *Manuscript) ownFace(l *line) bool {
	f := l.face()
	return f != Face{} && f != m.profile.face
}

// profileOf finds how most of the text looks. Letters count, not paragraphs:
// short lines are those that stand out.
func profileOf(ls []*line) profile {
	var pr profile
	type count = map[int]int
	align, left, right, first, size, space := count{}, count{}, count{}, count{}, count{}, count{}
	letters, italic, bold, spaced, double, single := 0, 0, 0, 0, 0, 0
	face := map[Face]int{}
	gaps := count{}
	transitions := 0
	long := slices.ContainsFunc(ls, func(l *line) bool { return l.kind == textLine && len(l.text) > 60 })
	for _, l := range ls {
		if l.kind == textLine && (len(l.text) > 60 || !long) { // or nothing but verse
			n := len(l.text)
			align[int(l.Align)] += n
			left[l.Left] += n
			right[l.Right] += n
			first[l.First] += n
			size[l.Size()] += n
			face[l.face()] += n
			space[l.Before+l.After] += n
			double += strings.Count(l.text, "“") + strings.Count(l.text, `"`)
			single += strings.Count(l.text, "‘")
		}
		if l.kind == textLine {
			for _, r := range l.Runs {
				letters += len(r.Text)
				if r.Style&Emphasis != 0 {
					italic += len(r.Text)
				}
				if r.Style&Strong != 0 {
					bold += len(r.Text)
				}
				if r.Style&Spaced != 0 {
					spaced += len(r.Text)
				}
			}
		}
	}
	pr.align, pr.left, pr.right, pr.first = Align(commonest(align)), commonest(left), commonest(right), commonest(first)
	pr.size, pr.space = commonest(size), commonest(space)
	for f, n := range face {
		if best := face[pr.face]; n > best || n == best && f.String() < pr.face.String() {
			pr.face = f
		}
	}
	// between paragraphs of running text alone: title pages and headings have
	// gaps of their own
	var previous *line
	page := false
	for _, l := range ls {
		page = page || l.PageBefore
		if l.kind == emptyLine {
			continue
		}
		plain := l.kind == textLine && l.Align == pr.align
		if plain && previous != nil && !page {
			gaps[min(l.after, 3)]++
			transitions++
		}
		previous, page = nil, false
		if plain {
			previous = l
		}
	}
	for k := 1; k <= 3 && transitions > 0; k++ {
		if 2*gaps[k] > transitions {
			pr.gap = k
		}
	}
	if 5*italic > 4*letters {
		pr.look |= Emphasis
	}
	if 5*bold > 4*letters {
		pr.look |= Strong
	}
	if 5*spaced > 4*letters {
		pr.look |= Spaced
	}
	pr.double = double >= single
	return pr
}

// centred, slanted, bold and larger tell a line that stands out of the text so.
func (pr *profile) centred(l *line) bool { return l.Align == Centre && pr.align != Centre }
func (pr *profile) slanted(l *line) bool { return l.all(Emphasis) && pr.look&Emphasis == 0 }
func (pr *profile) bold(l *line) bool    { return l.all(Strong) && pr.look&Strong == 0 }

// larger tells a line whose letters have so many tenths of the text's size, or
// more.
func (pr *profile) larger(l *line, tenths int) bool {
	return pr.size > 0 && l.Size()*10 >= pr.size*tenths
}

// commonest is the key of most, the least of several.
func commonest(count map[int]int) (best int) {
	n := -1
	for k, v := range count {
		if v > n || v == n && k < best {
			best, n = k, v
		}
	}
	return best
}
