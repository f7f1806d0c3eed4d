package strict

import (
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Lines tells on which line of a file a key stands, for faults that show only
// when several keys are held against each other. A key is written with points
// and, in lists, numbers from 0: "charge.1.page", "back.0.to".
type Lines map[string]int

// LinesOf finds the keys of a text that Decode has read.
func LinesOf(text []byte) Lines {
	l := make(Lines)
	var p unstable.Parser
	p.Reset(text)
	w := walker{p: &p, lines: l, lists: make(map[string]int)}
	prefix := ""
	for p.NextExpression() {
		switch e := p.Expression(); e.Kind {
		case unstable.Table:
			prefix = w.key("", e.Key())
		case unstable.ArrayTable:
			list := w.key("", e.Key())
			n := w.lists[list]
			w.lists[list] = n + 1
			prefix = list + "." + strconv.Itoa(n)
			w.lines[prefix] = w.at
		case unstable.KeyValue:
			w.pair(prefix, e)
		}
	}
	return l
}

// Of returns the line of the key, or of the nearest table around it; 0 for
// none.
func (l Lines) Of(key string) int {
	for {
		if n := l[key]; n > 0 {
			return n
		}
		i := strings.LastIndexByte(key, '.')
		if i < 0 {
			return 0
		}
		key = key[:i]
	}
}

type walker struct {
	p     *unstable.Parser
	lines Lines
	lists map[string]int // how many tables a list of tables has so far
	at    int            // the line of the last key
}

// key joins the parts of a key behind prefix; in a list of tables it is that
// of the last table.
func (w *walker) key(prefix string, it unstable.Iterator) string {
	for it.Next() {
		if n := w.lists[prefix]; n > 0 {
			prefix += "." + strconv.Itoa(n-1)
		}
		if prefix != "" {
			prefix += "."
		}
		prefix += string(it.Node().Data)
		w.at = w.p.Shape(it.Node().Raw).Start.Line
		if w.lines[prefix] == 0 {
			w.lines[prefix] = w.at
		}
	}
	return prefix
}

func (w *walker) pair(prefix string, e *unstable.Node) {
	name := w.key(prefix, e.Key())
	w.lines[name] = w.at
	w.value(name, e.Value())
}

func (w *walker) value(name string, v *unstable.Node) {
	switch v.Kind {
	case unstable.InlineTable:
		for it := v.Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				w.pair(name, it.Node())
			}
		}
	case unstable.Array:
		n := 0
		for it := v.Children(); it.Next(); {
			if it.Node().Kind == unstable.Comment {
				continue
			}
			at := name + "." + strconv.Itoa(n)
			if raw := it.Node().Raw; raw.Length > 0 {
				w.lines[at] = w.p.Shape(raw).Start.Line
			}
			w.value(at, it.Node())
			n++
		}
	}
}
