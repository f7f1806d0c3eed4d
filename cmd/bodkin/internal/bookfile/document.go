package bookfile

import (
	"bytes"
	"cmp"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// document is the text of a book.toml, and where in it the keys stand.
type document struct {
	text  []byte
	heads []head
	keys  []place // of the settings called name, and what holds them
	edits []edit
}

// head is the head of a table, "[settings.roomy]", or the beginning of the
// file, which has no path.
type head struct {
	path []string
	from int // of its line
	end  int // of the last line of the table that holds a key, and of the comments below it
}

// place is where a key and its value stand.
type place struct {
	path     []string // from the root
	head     int      // of the table, in heads
	from, to int      // of key and value
	value    int      // where the value begins
	table    bool     // the value is a table in one line
	inside   bool     // the key stands in such a table
}

// edit puts text in the place of what stands from and to.
type edit struct {
	from, to int
	text     string
}

// readDocument finds the keys of the settings called name. The text has been read as
// TOML before.
func readDocument(text []byte, name string) *document {
	d := &document{text: text, heads: []head{{}}}
	own := []string{"settings", name}
	var p unstable.Parser
	p.Reset(text)
	for p.NextExpression() {
		e := p.Expression()
		at := &d.heads[len(d.heads)-1]
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			path, from, to := d.key(nil, e)
			d.heads = append(d.heads, head{path: path, from: d.lineStart(from), end: d.lineEnd(to)})
		case unstable.KeyValue:
			at.end = d.lineEnd(int(e.Raw.Offset + e.Raw.Length))
			d.pair(at.path, e, own, false)
		}
	}
	for i := range d.heads {
		d.heads[i].end = d.belowComments(d.heads[i].end)
	}
	return d
}

// key returns the path of a key below a table, and where it stands.
func (d *document) key(under []string, e *unstable.Node) (path []string, from, to int) {
	path, from = slices.Clone(under), -1
	for it := e.Key(); it.Next(); {
		n := it.Node()
		path = append(path, string(n.Data))
		if from < 0 {
			from = int(n.Raw.Offset)
		}
		to = int(n.Raw.Offset + n.Raw.Length)
	}
	return path, from, to
}

// pair notes a key that is one of own, or holds it.
func (d *document) pair(under []string, e *unstable.Node, own []string, inside bool) {
	path, _, to := d.key(under, e)
	n := min(len(path), len(own))
	if !slices.Equal(path[:n], own[:n]) {
		return
	}
	k := place{path: path, head: len(d.heads) - 1, from: int(e.Raw.Offset), to: int(e.Raw.Offset + e.Raw.Length),
		table: e.Value().Kind == unstable.InlineTable, inside: inside}
	k.value = to + bytes.IndexByte(d.text[to:], '=') + 1
	k.value += len(d.text[k.value:]) - len(bytes.TrimLeft(d.text[k.value:], " \t"))
	d.keys = append(d.keys, k)
	if len(path) < len(own) && k.table {
		for it := e.Value().Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				d.pair(path, it.Node(), own, true)
			}
		}
	}
}

func (d *document) lineStart(at int) int { return bytes.LastIndexByte(d.text[:at], '\n') + 1 }

// lineEnd returns where the next line begins.
func (d *document) lineEnd(at int) int {
	if n := bytes.IndexByte(d.text[at:], '\n'); n >= 0 {
		return at + n + 1
	}
	return len(d.text)
}

// belowComments returns the end of the comment lines that follow at once, such
// as keys that are put out of use; at itself if they lead to another key or
// head.
func (d *document) belowComments(at int) int {
	end := at
	for end < len(d.text) && bytes.HasPrefix(bytes.TrimLeft(d.text[end:], " \t"), []byte("#")) {
		end = d.lineEnd(end)
	}
	if end < len(d.text) && len(bytes.TrimSpace(d.text[end:d.lineEnd(end)])) > 0 {
		return at
	}
	return end
}

// lineOf returns the number of the line, from 1.
func (d *document) lineOf(at int) int { return bytes.Count(d.text[:at], []byte("\n")) + 1 }

// newline is how the file ends its lines.
func (d *document) newline() string {
	if n := bytes.IndexByte(d.text, '\n'); n > 0 && d.text[n-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// insert puts whole lines before what stands at.
func (d *document) insert(at int, lines ...string) {
	text := strings.Join(lines, d.newline()) + d.newline()
	if at > 0 && d.text[at-1] != '\n' {
		text = d.newline() + text
	}
	d.edits = append(d.edits, edit{at, at, text})
}

// remove takes a key out, and its line unless a comment stands there as well.
func (d *document) remove(k place) {
	from, to := k.from, d.lineEnd(k.to)
	rest := d.text[k.to:to]
	if comment := bytes.IndexByte(rest, '#'); comment >= 0 {
		to = k.to + comment
	} else {
		from = d.lineStart(from)
	}
	d.edits = append(d.edits, edit{from, to, ""})
}

// edited returns the text with all edits made, those of one place in their
// order, but what is put in before what is taken out.
func (d *document) edited() []byte {
	slices.SortStableFunc(d.edits, func(a, b edit) int { return cmp.Or(a.from-b.from, a.to-b.to) })
	var out []byte
	at := 0
	for _, e := range d.edits {
		out = append(append(out, d.text[at:e.from]...), e.text...)
		at = e.to
	}
	return append(out, d.text[at:]...)
}
