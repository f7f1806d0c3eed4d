package wordproc

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/unicode/norm"
)

// places counts the paragraphs that a reader goes through.
type places struct {
	n      int // of the last paragraph
	noted  int // of the last paragraph of a note, below 0
	inNote bool
}

// next numbers a paragraph: those of the text from 1 up, those of notes from
// -1 down.
func (r *places) next() int {
	if r.inNote {
		r.noted--
		return r.noted
	}
	r.n++
	return r.n
}

// builder gathers the runs of one paragraph: their letters in one piece, cut
// into strings when the paragraph ends.
type builder struct {
	d    *Document
	n    int // the number of the paragraph
	buf  []byte
	runs []builtRun
	look Run // of what is written next
}

type builtRun struct {
	a, b int
	run  Run
}

// empty tells whether nothing has been put into the paragraph but spaces.
func (b *builder) empty() bool {
	for _, r := range b.runs {
		if r.run.Break || r.run.Note > 0 || r.run.Picture > 0 {
			return false
		}
	}
	return len(strings.TrimSpace(string(b.buf))) == 0
}

// mark puts a run without letters.
func (b *builder) mark(r Run) {
	b.d.load.pieces++
	b.runs = append(b.runs, builtRun{len(b.buf), len(b.buf), r})
}

// typedTab stands for a tab: several spaces, which are one in the text, and an
// indent before it.
const typedTab = "    "

// lineEnd puts a forced line end.
func (b *builder) lineEnd() { b.mark(Run{Break: true}) }

// write puts letters of the present look.
func (b *builder) write(text string) {
	b.clean(text)
	b.flush()
}

// flush gives a run to the letters that have none yet.
func (b *builder) flush() {
	from := 0
	k := len(b.runs) - 1
	if k >= 0 {
		from = b.runs[k].b
	}
	b.d.load.letters += len(b.buf) - from
	switch {
	case from == len(b.buf):
	case k >= 0 && b.runs[k].run == b.look:
		b.runs[k].b = len(b.buf)
	default:
		b.d.load.pieces++
		b.runs = append(b.runs, builtRun{from, len(b.buf), b.look})
	}
}

// clean puts text without what cannot stand in a manuscript.
func (b *builder) clean(text string) {
	plain := true
	for i := 0; i < len(text) && plain; i++ {
		plain = text[i] >= ' ' && text[i] < 0x7F
	}
	if plain {
		b.buf = append(b.buf, text...)
		return
	}
	for i, r := range text {
		switch {
		case r == '\n' || r == '\r' || r == '\t':
			b.buf = append(b.buf, ' ')
		case r == '\u2028' || r == '\u2029' || r == '\v':
			b.flush()
			b.lineEnd()
		case 0x80 <= r && r < 0xA0:
			// Bytes of Windows-1252 that were taken for Latin-1.
			if m := charmap.Windows1252.DecodeByte(byte(r)); m >= 0xA0 && m != utf8.RuneError {
				b.buf = utf8.AppendRune(b.buf, m)
				b.d.found(KindMended, b.n, around(text, i))
				continue
			}
			b.d.found(KindLost, b.n, around(text, i))
		case r < ' ' || r == 0x7F || r == utf8.RuneError || r == '\uFEFF' || 0xFDD0 <= r && r <= 0xFDEF || r&0xFFFE == 0xFFFE:
			if r != '\uFEFF' {
				b.d.found(KindLost, b.n, around(text, i))
			}
		default:
			b.buf = utf8.AppendRune(b.buf, r)
		}
	}
}

// oneLine is text from outside the paragraphs, such as what a picture shows, in
// one line and without what cannot stand in a manuscript.
func oneLine(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		if unicode.IsControl(r) || r == utf8.RuneError || r == '\uFEFF' || 0xFDD0 <= r && r <= 0xFDEF || r&0xFFFE == 0xFFFE {
			return -1
		}
		return r
	}, s)
	return nfc(spaced(s))
}

// around is the words at a place that can only be shown by them.
func around(text string, i int) string {
	from, to := max(0, i-20), min(len(text), i+20)
	return strings.ToValidUTF8(text[from:to], "")
}

// finish returns the runs, in Normalization Form C.
func (b *builder) finish() []Run {
	if len(b.runs) == 0 {
		return nil
	}
	s := string(b.buf)
	runs := make([]Run, 0, len(b.runs))
	for _, r := range b.runs {
		r.run.Text = nfc(s[r.a:r.b])
		runs = append(runs, r.run)
	}
	return runs
}

func nfc(s string) string {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return norm.NFC.String(s)
		}
	}
	return s
}

// isSymbol tells a character that only the face of the document could show.
func isSymbol(r rune) bool { return unicode.Is(unicode.Co, r) }
