package wordproc

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

func isWord(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }

var (
	fenceLine   = regexp.MustCompile("^ {0,3}(```+|~~~+)")
	atx         = regexp.MustCompile(`^ {0,3}(#{1,6})(?:[ \t]+(.*?))?[ \t]*$`)
	setextLine  = regexp.MustCompile(`^ {0,3}(=+|-+)[ \t]*$`)
	noteLine    = regexp.MustCompile(`^ {0,3}\[(\^[^\[\]]+)\]:`)
	addressLine = regexp.MustCompile(`^ {0,3}\[([^^\[\]][^\[\]]*)\]:[ \t]*(?:<[^<>]*>|(?:[^<\s()]|\([^\s()]*\))(?:[^\s()]|\([^\s()]*\))*)(?:[ \t]+(?:"[^"]*"|'[^']*'|\([^()]*\)))?[ \t]*$`)
	closingATX  = regexp.MustCompile(`(^|[ \t]+)#+$`)
	attributes  = regexp.MustCompile(`[ \t]*\{[^{}]*\}$`)
	signsOfLook = strings.NewReplacer("*", "", "_", "", "`", "", `\`, "")
)

// readMarkdown divides a manuscript into blocks and keeps their lines as they
// are written: the chapters get them so. Definitions of notes and addresses
// are taken out, to go where they are used.
func (d *Document) readMarkdown(text string) {
	d.references = map[string]string{}
	lines := strings.Split(text, "\n")
	n, gap, at := 0, 0, 0
	add := func(p *Paragraph) {
		n++
		d.load.pieces++
		p.N, p.Line = n, at+1
		d.Paragraphs = append(d.Paragraphs, p)
	}
	for i := 0; i < len(lines) && d.load.full() == ""; {
		at = i
		line := lines[i]
		if strings.TrimSpace(line) == "" {
			gap++
			i++
			continue
		}
		for ; gap > 1 && n > 0; gap-- {
			add(&Paragraph{}) // more than the empty line that divides paragraphs
		}
		gap = 0
		if label := defined(line); label != "" && d.references[label] == "" {
			end := i + 1
			if label[0] == '^' {
				end = blockEnd(lines, i, true)
			}
			d.references[label] = strings.TrimRight(strings.Join(lines[i:end], "\n"), "\n ")
			i = end
			continue
		}
		if m := atx.FindStringSubmatch(line); m != nil && strings.TrimSpace(m[2]) != "" {
			add(headingOf(len(m[1]), closingATX.ReplaceAllString(m[2], "")))
			i++
			continue
		}
		end := blockEnd(lines, i, false)
		raw := strings.Join(lines[i:end], "\n")
		if end-i == 2 {
			if m := setextLine.FindStringSubmatch(lines[i+1]); m != nil && isHeadingText(lines[i]) {
				level := 2
				if m[1][0] == '=' {
					level = 1
				}
				add(headingOf(level, strings.TrimSpace(lines[i])))
				i = end
				continue
			}
		}
		p := &Paragraph{Raw: strings.TrimRight(raw, "\n ")}
		p.Runs = looked(p.Raw)
		add(p)
		i = end
	}
}

// defined returns the label of a note or an address that is written in a line.
func defined(line string) string {
	m := noteLine.FindStringSubmatch(line)
	if m == nil {
		m = addressLine.FindStringSubmatch(line)
	}
	if m == nil {
		return ""
	}
	return strings.ToLower(m[1])
}

// isHeadingText tells what package markup takes for a heading above a line of
// hyphens.
func isHeadingText(line string) bool {
	line = strings.TrimSpace(line)
	return utf8.RuneCountInString(line) <= 60 && !strings.ContainsAny(line[len(line)-1:], ".?!:,;-") && !strings.HasSuffix(line, "…") && !strings.HasSuffix(line, "—")
}

func headingOf(level int, text string) *Paragraph {
	return &Paragraph{Level: level, Raw: text, Runs: looked(attributes.ReplaceAllString(text, ""))}
}

// blockEnd returns the line behind a block: a paragraph ends at an empty line
// or a heading, a fence where it is closed, a remark at -->. What is indented
// behind a list or a note belongs to it.
func blockEnd(lines []string, i int, note bool) int {
	if m := fenceLine.FindStringSubmatch(lines[i]); m != nil {
		for k := i + 1; k < len(lines); k++ {
			t := strings.TrimSpace(lines[k])
			if len(t) >= len(m[1]) && strings.Trim(t, m[1][:1]) == "" {
				return k + 1
			}
		}
		return len(lines)
	}
	if strings.HasPrefix(strings.TrimSpace(lines[i]), "<!--") {
		for k := i; k < len(lines); k++ {
			if strings.Contains(lines[k], "-->") {
				return k + 1
			}
		}
		return len(lines)
	}
	list := note || isItem(lines[i])
	k := i + 1
	for ; k < len(lines); k++ {
		line := lines[k]
		if strings.TrimSpace(line) == "" {
			if !list {
				break
			}
			next := k
			for next < len(lines) && strings.TrimSpace(lines[next]) == "" {
				next++
			}
			if next == len(lines) || indent(lines[next]) < 2 && !(isItem(lines[next]) && !note) || lines[next][0] == '\t' {
				break
			}
			k = next - 1
			continue
		}
		if m := atx.FindStringSubmatch(line); m != nil && strings.TrimSpace(m[2]) != "" || fenceLine.MatchString(line) || note && defined(line) != "" {
			break
		}
	}
	return k
}

var itemLine = regexp.MustCompile(`^ {0,3}([-+*]|\d{1,9}[.)])[ \t]+\S`)

func isItem(line string) bool { return itemLine.MatchString(line) && !isOrnament(line) }

// looked is the text of Markdown as it looks, for judging it.
func looked(raw string) []Run {
	s := strings.TrimSpace(raw)
	style := Style(0)
	switch {
	case len(s) > 4 && strings.HasPrefix(s, "**") && strings.HasSuffix(s, "**") && strings.Count(s, "**") == 2:
		style = Strong
	case len(s) > 2 && (s[0] == '*' || s[0] == '_') && s[len(s)-1] == s[0] && strings.Count(s, s[:1]) == 2:
		style = Emphasis
	}
	t := signsOfLook.Replace(s)
	if t == "" {
		t = s // an ornament
	}
	return []Run{{Text: nfc(strings.ReplaceAll(t, "\n", " ")), Style: style}}
}
