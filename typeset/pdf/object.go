package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// object is an indirect object: a dictionary, and the bytes of its stream if
// it has one.
type object struct {
	num    int
	dict   dict
	stream []byte // nil when there is none
	bare   bool   // the stream is never compressed
}

// dict is a dictionary in the order of its keys; values stay as written.
type dict []entry

type entry struct {
	key   string // without its slash
	value []byte
}

func (d dict) get(key string) []byte {
	for _, e := range d {
		if e.key == key {
			return e.value
		}
	}
	return nil
}

// set puts a value in the place of key, or at the end.
func (d *dict) set(key, value string) {
	for i, e := range *d {
		if e.key == key {
			(*d)[i].value = []byte(value)
			return
		}
	}
	*d = append(*d, entry{key, []byte(value)})
}

// append writes the dictionary.
func (d dict) append(b []byte) []byte {
	b = append(b, "<<"...)
	for i, e := range d {
		if i > 0 {
			b = append(b, '\n')
		}
		b = append(b, '/')
		b = append(b, e.key...)
		b = append(b, ' ')
		b = append(b, e.value...)
	}
	return append(b, ">>"...)
}

var errForm = errors.New("the file is not in the classical form")

// readObjects takes a file apart that has one cross-reference table and whose
// objects are all dictionaries (ISO 32000-1, 7.5). It returns them in the
// order of their numbers, and the trailer; both share the file's memory.
func readObjects(file []byte) ([]object, dict, error) {
	offsets, trailer, err := readXref(file)
	if err != nil {
		return nil, nil, err
	}
	var objects []object
	for num, offset := range offsets {
		if offset == 0 {
			continue // free
		}
		o, err := readObject(file, offset)
		if err == nil && o.num != num {
			err = fmt.Errorf("object %d stands there: %w", o.num, errForm)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("object %d at byte %d: %w", num, offset, err)
		}
		objects = append(objects, o)
	}
	return objects, trailer, nil
}

// readXref returns the offset of each object, 0 for those that are free, and
// the trailer.
func readXref(file []byte) ([]int, dict, error) {
	at := bytes.LastIndex(file, []byte("startxref"))
	if at < 0 {
		return nil, nil, fmt.Errorf("no startxref: %w", errForm)
	}
	s := scanner{file, at + len("startxref")}
	s.pos, _ = s.integer()
	if s.pos > len(file) || !s.literal("xref") {
		return nil, nil, fmt.Errorf("no cross-reference table: %w", errForm)
	}
	first, ok1 := s.integer()
	n, ok2 := s.integer()
	if !ok1 || !ok2 || first != 0 || n > len(file)/20 {
		return nil, nil, fmt.Errorf("cross-reference table of %d objects from %d: %w", n, first, errForm)
	}
	offsets := make([]int, n)
	for i := range offsets {
		offset, ok1 := s.integer()
		_, ok2 := s.integer()
		switch {
		case ok1 && ok2 && s.literal("n") && offset < len(file):
			offsets[i] = offset
		case ok1 && ok2 && s.literal("f"):
		default:
			return nil, nil, fmt.Errorf("cross-reference entry %d: %w", i, errForm)
		}
	}
	if !s.literal("trailer") {
		return nil, nil, fmt.Errorf("no trailer: %w", errForm)
	}
	trailer, err := s.dict()
	return offsets, trailer, err
}

func readObject(file []byte, offset int) (object, error) {
	s := scanner{file, offset}
	num, ok := s.integer()
	if _, ok2 := s.integer(); !ok || !ok2 || !s.literal("obj") {
		return object{}, fmt.Errorf("no object begins here: %w", errForm)
	}
	o := object{num: num}
	var err error
	if o.dict, err = s.dict(); err != nil {
		return object{}, err
	}
	if !s.literal("stream") {
		return o, nil
	}
	size, err := strconv.Atoi(string(o.dict.get("Length")))
	s.pos++ // the end of the line
	if err != nil || size < 0 || size > len(file)-s.pos {
		return object{}, fmt.Errorf("stream of length %q: %w", o.dict.get("Length"), errForm)
	}
	o.stream = file[s.pos : s.pos+size : s.pos+size]
	return o, nil
}

// scanner reads the tokens of ISO 32000-1, 7.2 and 7.3.
type scanner struct {
	b   []byte
	pos int
}

func isSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

func isDelimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

func (s *scanner) space() {
	for s.pos < len(s.b) && isSpace(s.b[s.pos]) {
		s.pos++
	}
}

// peek reports whether the bytes of t come next.
func (s *scanner) peek(t string) bool { return bytes.HasPrefix(s.b[s.pos:], []byte(t)) }

// literal passes over t if it comes next.
func (s *scanner) literal(t string) bool {
	s.space()
	if !s.peek(t) {
		return false
	}
	s.pos += len(t)
	return true
}

// integer reads an unsigned integer; it stays in place if there is none.
func (s *scanner) integer() (n int, ok bool) {
	s.space()
	start := s.pos
	for s.pos < len(s.b) && s.b[s.pos] >= '0' && s.b[s.pos] <= '9' {
		s.pos++
	}
	n, err := strconv.Atoi(string(s.b[start:s.pos]))
	if err != nil {
		s.pos = start
		return 0, false
	}
	return n, true
}

func (s *scanner) dict() (dict, error) {
	if !s.literal("<<") {
		return nil, fmt.Errorf("no dictionary: %w", errForm)
	}
	var d dict
	for !s.literal(">>") {
		if !s.literal("/") {
			return nil, fmt.Errorf("no key in a dictionary: %w", errForm)
		}
		key := string(s.regular())
		s.space()
		start := s.pos
		if err := s.value(0); err != nil {
			return nil, fmt.Errorf("value of /%s: %w", key, err)
		}
		d = append(d, entry{key, s.b[start:s.pos]})
	}
	return d, nil
}

// regular reads what reaches to the next space or delimiter.
func (s *scanner) regular() []byte {
	start := s.pos
	for s.pos < len(s.b) && !isSpace(s.b[s.pos]) && !isDelimiter(s.b[s.pos]) {
		s.pos++
	}
	return s.b[start:s.pos]
}

// value passes over one value, a reference counting as one.
func (s *scanner) value(depth int) error {
	s.space()
	switch {
	case depth > 100:
		return fmt.Errorf("nested too deeply: %w", errForm)
	case s.peek("<<"):
		s.pos += 2
		return s.until(">>", depth)
	case s.peek("["):
		s.pos++
		return s.until("]", depth)
	case s.peek("("):
		return s.text()
	case s.peek("<"):
		end := bytes.IndexByte(s.b[s.pos:], '>')
		if end < 0 {
			return fmt.Errorf("string without an end: %w", errForm)
		}
		s.pos += end + 1
		return nil
	case s.peek("/"):
		s.pos++
		s.regular()
		return nil
	}
	start := s.pos
	if _, ok := s.integer(); ok {
		after := s.pos
		if _, ok := s.integer(); ok && s.literal("R") {
			return nil
		}
		s.pos = after
	}
	s.regular()
	if s.pos == start {
		return fmt.Errorf("no value at byte %d: %w", s.pos, errForm)
	}
	return nil
}

// until passes over values up to an end.
func (s *scanner) until(end string, depth int) error {
	for !s.literal(end) {
		if err := s.value(depth + 1); err != nil {
			return err
		}
	}
	return nil
}

// text passes over a string in parentheses.
func (s *scanner) text() error {
	for depth := 0; s.pos < len(s.b); s.pos++ {
		switch s.b[s.pos] {
		case '\\':
			s.pos++
		case '(':
			depth++
		case ')':
			if depth--; depth == 0 {
				s.pos++
				return nil
			}
		}
	}
	return fmt.Errorf("string without an end: %w", errForm)
}
