package wordproc

import (
	"bodkin/markup"
	"fmt"
	"path"
	"strconv"
	"strings"
)

// The folders of the book.
const (
	chaptersDir = "chapters"
	frontDir    = "front"
	backDir     = "back"
	asideDir    = "aside"
	picturesDir = "pictures"
)

// name gives the pieces their files.
func (m *Manuscript) name() {
	body := 0
	for _, p := range m.Pieces {
		if p.Matter == markup.Body {
			body++
		}
	}
	width := max(2, len(strconv.Itoa(body)))
	taken := map[string]bool{}
	n, asides := 0, 0
	for _, p := range m.Pieces {
		name := m.slug(p)
		switch {
		case p.Role == Aside:
			asides++
			p.File = fmt.Sprintf("%s/%02d-before-the-book.md", asideDir, asides)
		case p.Matter == markup.Body:
			n++
			if name == "" {
				name = "text"
			}
			p.File = fmt.Sprintf("%s/%0*d-%s.md", chaptersDir, width, n, name)
		default:
			dir := frontDir
			if p.Matter == markup.Back {
				dir = backDir
			}
			switch p.Role {
			case Copyright:
				name = "copyright"
			case Dedication:
				name = "dedication"
			case Epigraph:
				name = "epigraph"
			}
			if name == "" {
				name = "text"
			}
			p.File = path.Join(dir, name+".md")
			for k := 2; taken[p.File]; k++ {
				p.File = path.Join(dir, strconv.Itoa(k)+"-"+name+".md")
			}
		}
		taken[p.File] = true
	}
}

// slug makes the title of a piece, or else its number, into a name for a file:
// small letters of ASCII, figures and hyphens.
func (m *Manuscript) slug(p *Piece) string {
	title := p.Title
	if s, ok := says(m.Language, title); ok && s.title != "" {
		title = s.title
	}
	return slug(title)
}

func slug(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range decompose(strings.ToLower(s)) {
		switch {
		case 'a' <= r && r <= 'z' || '0' <= r && r <= '9':
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			gap = false
			b.WriteRune(r)
		case r == 'ß':
			b.WriteString("ss")
		case r == 'æ':
			b.WriteString("ae")
		case r == 'œ':
			b.WriteString("oe")
		case r == 'ø':
			b.WriteString("o")
		case r == 'ł':
			b.WriteString("l")
		case r == '\'' || r == '’' || r >= 0x300 && r < 0x370:
		default:
			gap = true
		}
		if b.Len() > 40 {
			break
		}
	}
	out := b.String()
	if len(out) > 40 {
		out = out[:40]
		if i := strings.LastIndexByte(out, '-'); i > 15 {
			out = out[:i]
		}
	}
	return strings.Trim(out, "-")
}
