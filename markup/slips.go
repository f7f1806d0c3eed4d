package markup

import (
	"bytes"
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// frontMatter is the fault of a file that begins with keys for another
// program, between lines of --- or +++. They would be printed.
func frontMatter(name string, text []byte) error {
	first, rest, _ := strings.Cut(string(text[:min(len(text), 1<<14)]), "\n")
	first = strings.TrimRight(first, " \t")
	if first != "---" && first != "+++" {
		return nil
	}
	keys := 0
	for line := range strings.SplitSeq(rest, "\n") {
		line = strings.TrimRight(line, " \t")
		switch {
		case line == first || first == "---" && line == "...":
			if keys == 0 {
				return nil
			}
			return &Error{Pos: Pos{name, 1}, What: "the file begins with front matter (the lines between " + first + "), which is not read",
				Mend: "put title, author and language into book.toml and take these lines away"}
		case keyLine.MatchString(line):
			keys++
		case line == "" || line[0] == ' ' || line[0] == '\t' || line[0] == '-' || line[0] == '#' || line[0] == '[' || line[0] == ']':
		default:
			return nil
		}
	}
	return nil
}

var keyLine = regexp.MustCompile(`^[A-Za-z_][\w-]*\s*(:(\s|$)|=)`)

// unspaced reports a heading whose # stands close to its text: Markdown takes
// it for text.
func (c *chapter) unspaced(n ast.Node) {
	if n.Kind() != ast.KindParagraph || n.Lines().Len() == 0 {
		return
	}
	seg := n.Lines().At(0)
	line := bytes.TrimSpace(seg.Value(c.src))
	text := bytes.TrimLeft(line, "#")
	if level := len(line) - len(text); level == 0 || level > 6 || len(text) == 0 {
		return
	}
	signs := string(line[:len(line)-len(text)])
	c.fault(c.at(seg.Start), "there is no space behind "+signs+", so this is no heading", "write "+quoted(signs+" "+oneLine(text))+`, or \# for the sign itself`)
}

// checkFence reports a fence that is never closed, and one whose word is
// nearly that of a form.
func (c *chapter) checkFence(n ast.Node) {
	f, ok := n.(*ast.FencedCodeBlock)
	if !ok {
		return
	}
	at := c.at(f.Pos())
	line := bytes.TrimLeft(c.line(at.Line), "> \t")
	fence := line[:len(line)-len(bytes.TrimLeft(line, string(line[:min(1, len(line))])))]
	if _, closed := f.AttributeString(closedKey); !closed {
		c.neverClosed(at, string(fence))
	}
	word := strings.ToLower(string(f.Language(c.src)))
	if near := Nearest(word, fenceForms); near != "" {
		c.fault(at, "there is no form "+quoted(oneLine([]byte(word)))+" for what is between fences", "did you mean "+quoted(near)+"?")
	}
}

// unreadPicture reports a picture that Markdown takes for text, at the [ of
// its words: mostly its address has a space.
func (t *textBuilder) unreadPicture(i int) {
	src := t.c.src
	if i == 0 || src[i-1] != '!' || i > 1 && src[i-2] == '\\' {
		return
	}
	line := src[i:]
	if n := bytes.IndexByte(line, '\n'); n >= 0 {
		line = line[:n]
	}
	if m := pictureLike.FindSubmatch(line); m != nil {
		t.c.fault(t.c.at(i), "this picture is not read: "+oneLine(m[0]), "write its address between < and >, and its caption between straight quotation marks: ![](<my map.png> \"Caption\")")
	}
}

var pictureLike = regexp.MustCompile(`^\[[^\[\]]*\]\([^()]*\)`)
