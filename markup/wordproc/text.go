package wordproc

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// readText reads a manuscript of one file: Markdown, or plain text.
func readText(name string, b []byte, d *Document) error {
	text, err := d.decode(name, b)
	if err != nil {
		return err
	}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	ext := strings.ToLower(filepath.Ext(name))
	if ext == ".md" || ext == ".markdown" || len(atxLine.FindAllStringIndex(text, 2)) > 1 {
		d.Format = "Markdown"
		d.readMarkdown(text)
		return nil
	}
	d.Format = "plain text"
	d.readPlain(text)
	return nil
}

var atxLine = regexp.MustCompile(`(?m)^#{1,6} +[^\s#]`)

func (d *Document) decode(name string, b []byte) (string, error) {
	switch {
	case bytes.HasPrefix(b, []byte{0xFF, 0xFE}), bytes.HasPrefix(b, []byte{0xFE, 0xFF}):
		t, err := unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM).NewDecoder().Bytes(b)
		return string(t), err
	case utf8.Valid(b):
		if n := bytes.IndexByte(b, 0); n >= 0 {
			return "", &Error{File: name, What: "this is no text: there is a NUL in it", Mend: "name a .docx, .odt, Markdown or text file"}
		}
		return string(bytes.TrimPrefix(b, []byte("\uFEFF"))), nil
	case bytes.IndexByte(b, 0) >= 0:
		return "", &Error{File: name, What: "this is no text: there is a NUL in it", Mend: "name a .docx, .odt, Markdown or text file"}
	}
	d.found(KindEncoding, 0, "the file is not UTF-8, and was read as Windows-1252")
	t, err := charmap.Windows1252.NewDecoder().Bytes(b)
	return string(t), err
}

// textBlock is what stands between empty lines.
type textBlock struct {
	lines []string
	gap   int  // empty lines before it
	page  bool // a form feed before it
}

func textBlocks(text string) []textBlock {
	var all []textBlock
	var now textBlock
	flush := func() {
		if len(now.lines) > 0 {
			all = append(all, now)
			now = textBlock{}
		}
	}
	for line := range strings.SplitSeq(text, "\n") {
		if i := strings.LastIndexByte(line, '\f'); i >= 0 {
			flush()
			now.page = true
			line = strings.ReplaceAll(line, "\f", "")
		}
		if strings.TrimSpace(line) == "" {
			flush()
			now.gap++
			continue
		}
		now.lines = append(now.lines, strings.TrimRight(line, " \t"))
	}
	flush()
	return all
}

// readPlain makes paragraphs of a text. Lines that were broken at a width are
// joined again; else every line is a paragraph.
func (d *Document) readPlain(text string) {
	blocks := textBlocks(text)
	// A line that was broken at a width ends within a sentence.
	long, sentences, several := 0, 0, false
	width := fullWidth(blocks)
	full, whole := 0, 0 // lines that can be full, and those that are whole paragraphs
	for _, b := range blocks {
		several = several || len(b.lines) > 1
		for i, l := range b.lines {
			n := utf8.RuneCountInString(l)
			if n > longLine {
				full++
			}
			if n > max(width+15, longLine) {
				whole++
			}
			if n >= 30 && i+1 < len(b.lines) {
				long++
				if n > 110 || ends(l) {
					sentences++
				}
			}
		}
	}
	broken := several && 2*sentences <= long && (long == 0 || sentences < long) && 2*whole <= full
	var w wrap
	if broken {
		w = wrap{width, paragraphIndent(blocks)}
	}
	n := 0
	add := func(page bool) *Paragraph {
		n++
		d.load.pieces++
		p := &Paragraph{N: n, PageBefore: page}
		d.Paragraphs = append(d.Paragraphs, p)
		return p
	}
	for i, b := range blocks {
		if d.load.full() != "" {
			return
		}
		page := b.page
		if i > 0 {
			for range min(b.gap, 9) {
				add(page)
				page = false
			}
		}
		for _, lines := range paragraphsOf(b.lines, broken, w) {
			p := add(page)
			page = false
			d.plain(p, lines, broken, w.width)
		}
	}
}

// fullWidth is the width that lines were broken at: that of the longest but
// for a few.
func fullWidth(blocks []textBlock) int {
	count := [128]int{}
	all := 0
	for _, b := range blocks {
		for _, l := range b.lines[:len(b.lines)-1] {
			count[min(utf8.RuneCountInString(l), 127)]++
			all++
		}
	}
	for w, seen := 127, 0; w > 0; w-- {
		if seen += count[w]; seen*20 > all {
			return w
		}
	}
	return 0
}

// wrap is how a text was broken into lines: how wide, and by how much the first
// line of a paragraph is set in; 0 where that does not tell paragraphs.
type wrap struct{ width, indent int }

// paragraphIndent is how far the lines are set in that begin paragraphs in a text
// whose other lines are not.
func paragraphIndent(blocks []textBlock) int {
	count, at := map[int]int{}, map[int]int{} // above a line that is not set in; of all
	flush, in := 0, 0
	for _, b := range blocks {
		for i, l := range b.lines {
			switch k := indent(l); {
			case k < 2:
				flush++
			default:
				in++
				at[k]++
				if i+1 < len(b.lines) && indent(b.lines[i+1]) < 2 {
					count[k]++
				}
			}
		}
	}
	most := commonest(count)
	if count[most] < 3 || in > flush && 5*at[most] < 4*in {
		return 0
	}
	return most
}

// paragraphsOf divides the lines between two empty ones into paragraphs.
func paragraphsOf(lines []string, broken bool, w wrap) [][]string {
	var all [][]string
	if !broken {
		for _, l := range lines {
			all = append(all, []string{l})
		}
		return all
	}
	from := 0
	for i := 1; i < len(lines); i++ {
		// a typescript begins a paragraph with an indent and no empty line
		a, b := indent(lines[i-1]), indent(lines[i])
		begins := b >= 2 && a < 2 || w.indent > 0 && b == w.indent ||
			i-from == 1 && b >= 2 && b == a && ends(lines[i-1]) && utf8.RuneCountInString(lines[i-1]) < w.width*3/4
		if begins || isOrnament(strings.TrimSpace(lines[i])) || isOrnament(strings.TrimSpace(lines[i-1])) {
			all = append(all, lines[from:i])
			from = i
		}
	}
	return append(all, lines[from:])
}

// ends tells a line that ends with a sentence, or with a quotation.
func ends(line string) bool {
	r, _ := utf8.DecodeLastRuneInString(line)
	return strings.ContainsRune(".!?…\"'”’»›“", r)
}

func indent(line string) int {
	n := 0
	for _, r := range line {
		switch r {
		case ' ', '\u00A0':
			n++
		case '\t':
			n += 4
		default:
			return n
		}
	}
	return n
}

// plain fills in a paragraph. Lines that end before they had to hold.
func (d *Document) plain(p *Paragraph, lines []string, broken bool, width int) {
	b := &builder{d: d, n: p.N}
	held := len(lines) > 1
	least := indent(lines[0])
	for i, l := range lines {
		least = min(least, indent(l))
		if i+1 < len(lines) && utf8.RuneCountInString(l)+1+firstWord(lines[i+1]) <= width-6 {
			continue
		}
		if i+1 < len(lines) {
			held = false
		}
	}
	first := indent(lines[0])
	if body := strings.TrimSpace(lines[0]); len(lines) == 1 && first >= 12 && len(body) <= 60 {
		p.Align = Centre
	} else if len(lines) > 1 && least > 0 {
		p.Left = 120 * least
		p.First = 120 * (first - least)
	} else {
		p.First = 120 * first
	}
	var text strings.Builder
	for i, l := range lines {
		switch {
		case i == 0:
		case held:
			text.WriteByte('\v')
		default:
			text.WriteByte(' ')
		}
		if held {
			text.WriteString(strings.Repeat(" ", max(indent(l)-least, 0)))
		}
		text.WriteString(strings.TrimSpace(l))
	}
	for _, part := range emphasised(text.String()) {
		b.look = Run{Style: part.style}
		b.write(part.text)
	}
	p.Runs = b.finish()
}

func firstWord(line string) int {
	line = strings.TrimSpace(line)
	if i := strings.IndexByte(line, ' '); i > 0 {
		line = line[:i]
	}
	return utf8.RuneCountInString(line)
}

type styledText struct {
	text  string
	style Style
}

var between = regexp.MustCompile(`(^|[^\pL\pN_*])(_([^_\s](?:[^_]*[^_\s])?)_|\*([^*\s](?:[^*]*[^*\s])?)\*)`)

// emphasised divides a text where words stand between underscores or
// asterisks, as people type emphasis.
func emphasised(text string) []styledText {
	var parts []styledText
	from := 0
	for _, m := range between.FindAllStringSubmatchIndex(text, maxPieces) {
		next, _ := utf8.DecodeRuneInString(text[m[1]:])
		inner := 6
		if m[6] < 0 {
			inner = 8
		}
		if m[4] < from || isWord(next) {
			continue
		}
		parts = append(parts, styledText{text[from:m[4]], 0}, styledText{text[m[inner]:m[inner+1]], Emphasis})
		from = m[1]
	}
	return append(parts, styledText{text[from:], 0})
}
