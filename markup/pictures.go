package markup

import (
	"bytes"
	"errors"
	"io/fs"
	"net/url"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// holdsPictures tells whether a paragraph is made of nothing but pictures.
func holdsPictures(n ast.Node, src []byte) bool {
	found := false
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		switch k := k.(type) {
		case *ast.Image:
			found = true
		case *ast.Text:
			if len(bytes.TrimSpace(k.Segment.Value(src))) > 0 {
				return false
			}
		default:
			return false
		}
	}
	return found
}

// pictures makes a block of each picture of a paragraph.
func (c *chapter) pictures(bs []Block, n ast.Node) []Block {
	for k := n.FirstChild(); k != nil; k = k.NextSibling() {
		if img, ok := k.(*ast.Image); ok {
			if p := c.picture(img); p != nil {
				bs = append(bs, p)
			}
		}
	}
	return bs
}

func (c *chapter) picture(n *ast.Image) *Picture {
	at := c.at(n.Pos())
	if c.depth > 0 {
		c.fault(at, "a picture cannot stand inside a quotation, a list or a note", "put it before or after, in a paragraph of its own")
		return nil
	}
	if hasNote(n) || bytes.Contains(n.Title, []byte("[^")) {
		c.fault(at, "the words of a picture cannot refer to a note", "put the note into the text, or its words into the caption")
		return nil
	}
	p := &Picture{Pos: at, Alt: c.plain(n), Caption: c.caption(n.Title, at)}
	if seg, ok := n.AttributeString(attributeKey); ok {
		c.place(p, c.attributes(seg.(text.Segment), "a picture", pictureAttributes))
	}
	if c.dir == nil {
		c.fault(at, "there is no folder to find the picture in", "put the text into a file")
		return nil
	}
	file, modified, fault := c.dir.picture(c.name, address(n.Destination))
	if fault != nil {
		c.fault(at, fault.What, fault.Mend)
		return nil
	}
	p.Path = file
	c.inputs = append(c.inputs, input{file, modified})
	return p
}

// input is a picture file, on this machine.
type input struct {
	file     string
	modified time.Time
}

func (c *chapter) place(p *Picture, a attributes) {
	n := 0
	for _, place := range [...]struct {
		name  string
		place Place
	}{{".page", FullPage}, {".bleed", Bleeding}, {".spread", Spread}} {
		if a.has(place.name) {
			p.Place = place.place
			n++
		}
	}
	if n > 1 {
		c.fault(p.Pos, "a picture has one place, and this one is given "+itoa(n), "keep one of {.page}, {.bleed}, {.spread}")
	}
	width, ok := a[widthKey]
	if !ok {
		return
	}
	if p.Place != InText {
		c.fault(p.Pos, "a width is for pictures between paragraphs, and this one has pages of its own", "take the width away, or the place")
		return
	}
	if p.Width = thousandths(width); p.Width == 0 {
		c.fault(p.Pos, "width "+quoted(width)+" is none", "write a part of the measure from 1% to 100%, as in {width=60%}")
	}
}

// thousandths reads a percentage from 1% to 100% with at most one decimal, and
// returns 0 for anything else.
func thousandths(s string) int {
	number, ok := strings.CutSuffix(s, "%")
	whole, decimal, point := strings.Cut(number, ".")
	if !point {
		decimal = "0"
	}
	n, err := strconv.ParseUint(whole+decimal, 10, 16)
	if !ok || err != nil || len(decimal) != 1 || n < 10 || n > 1000 {
		return 0
	}
	return int(n)
}

// newCaptionParser reads inlines and no blocks: a caption that begins with
// "1." is no list.
func newCaptionParser() parser.Parser {
	return parser.NewParser(
		parser.WithBlockParsers(util.Prioritized(indented{parser.NewParagraphParser()}, paragraphs)),
		parser.WithInlineParsers(append(inlineParsers(), typographer())...),
	)
}

// caption reads the title of a picture as text. All of it is taken to stand
// in the line of the picture. Its quotation marks are set as others are: the
// backslash before them is there because marks surround the title.
func (c *chapter) caption(title []byte, at Pos) []Inline {
	title = bytes.ReplaceAll(bytes.TrimSpace(title), []byte(`\"`), []byte(`"`))
	if len(title) == 0 {
		return nil
	}
	doc, _, err := parse(newCaptionParser(), c.name, title)
	if err != nil {
		c.faults = append(c.faults, err.(*Error))
		return nil
	}
	sub := newChapter(entry{name: c.name, matter: c.matter}, title, c.marks)
	var text []Inline
	for n := doc.FirstChild(); n != nil; n = n.NextSibling() {
		text = append(text, sub.inlines(n)...)
	}
	for i := range text {
		text[i].Pos = at
	}
	for _, f := range sub.faults {
		c.fault(at, f.What, f.Mend)
	}
	return text
}

var scheme = regexp.MustCompile(`^([A-Za-z][A-Za-z0-9+.-]+:|//)`)

// picture finds the file that a picture's address names: beside the file that
// mentions it, or else from the book folder on. Both must be in the folder.
func (f *folder) picture(mentioned, dest string) (string, time.Time, *Error) {
	fault := func(what, mend string) (string, time.Time, *Error) {
		return "", time.Time{}, &Error{What: what, Mend: mend}
	}
	shown := quoted(oneLine([]byte(dest)))
	switch {
	case strings.TrimSpace(dest) == "":
		return fault("the picture has no file", "write its name: ![what it shows](picture.png)")
	case scheme.MatchString(dest):
		return fault("the picture "+shown+" is not a file of the book folder", "save it there and name it: ![what it shows](picture.png)")
	case strings.ContainsRune(dest, 0):
		return fault("the picture's name holds a NUL", "correct the name")
	}
	names := []string{dest}
	if plain, err := url.PathUnescape(dest); err == nil && plain != dest && !strings.ContainsRune(plain, 0) {
		names = append(names, plain)
	}
	escaped := false
	for _, name := range names {
		leads, inside := false, false // out of the folder, or to where a file could be
		name = strings.ReplaceAll(name, `\`, "/")
		for _, from := range []string{path.Dir(mentioned), "."} {
			local := path.Join(from, name)
			if path.IsAbs(name) || !filepath.IsLocal(filepath.FromSlash(local)) {
				leads = true
				continue
			}
			info, err := f.root.Stat(local)
			switch {
			case err != nil && escapes(err):
				leads = true
			case err != nil && !errors.Is(err, fs.ErrNotExist):
				return fault("the picture "+shown+" cannot be read: "+cause(err), "see to its name and its permissions")
			case err != nil:
				inside = true
			case info.IsDir():
				return fault("the picture "+shown+" is a folder", "name a file in it")
			case !info.Mode().IsRegular():
				return fault("the picture "+shown+" is not a file", "name a picture file")
			default:
				return f.path(local), info.ModTime(), nil
			}
		}
		escaped = escaped || leads && !inside
	}
	if escaped {
		return fault("the path of the picture "+shown+" leads out of the book folder", "move the file into the folder and name it from there")
	}
	mend := "put it there, or correct the name"
	if near := f.nearFile(path.Join(path.Dir(mentioned), dest)); near != "" {
		mend = "did you mean " + quoted(near) + "?"
	} else if near := f.nearFile(path.Clean(dest)); near != "" {
		mend = "did you mean " + quoted(near) + "?"
	}
	return fault("there is no picture "+shown+" in the book folder", mend)
}

// path is the path on this machine of a file of the folder.
func (f *folder) path(name string) string { return filepath.Join(f.dir, filepath.FromSlash(name)) }

// nearFile returns a file beside the missing one whose name is like it.
func (f *folder) nearFile(name string) string {
	entries, err := fs.ReadDir(f.root.FS(), path.Dir(name))
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return Nearest(path.Base(name), names)
}
