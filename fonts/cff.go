package fonts

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// Adobe Technical Note 5176, "The Compact Font Format Specification", is the
// source of all that follows.

var errCFF = errors.New("the font is damaged: its CFF table makes no sense")

// subsetCFF writes a CFF table again with the charstrings of unused glyphs
// reduced to endchar. Subroutines are kept whole. In a CID-keyed font the
// character identifiers become the glyph identifiers.
func subsetCFF(src table, used []bool) ([]byte, error) {
	names, rest, err := readIndex(src, src.u8(2))
	if err != nil {
		return nil, err
	}
	tops, rest, err := readIndex(src, rest)
	if err != nil {
		return nil, err
	}
	if len(names) != 1 || len(tops) != 1 {
		return nil, errCFF
	}
	stringsAt := rest
	for range 2 { // String INDEX and Global Subr INDEX go over as they are
		if _, rest, err = readIndex(src, rest); err != nil {
			return nil, err
		}
	}
	shared := src[stringsAt:rest]
	top, err := readDict(tops[0])
	if err != nil {
		return nil, err
	}
	charstrings, _, err := readIndex(src, top.offset(opCharStrings))
	if err != nil || len(charstrings) < len(used) {
		return nil, errCFF
	}
	charstrings = emptyUnused(charstrings, used)

	// What stays in place of offsets is filled in once all sizes are known:
	// offsets are written in five bytes each, whatever their value.
	top = slices.DeleteFunc(top, func(e dictEntry) bool {
		return e.op == opUniqueID || e.op == opXUID || e.op == opEncoding // the program is another one now, and keyed by glyph
	})
	out := &cffWriter{}
	out.bytes(1, 0, 4, 4) // version 1.0, header of four bytes, offSize
	out.index(names)
	topAt := len(out.data)
	out.index([][]byte{top.bytes()})
	out.bytes(shared...)

	if at := top.offset(opCharset); top.has(opROS) {
		top.set(opCharset, len(out.data))
		out.identityCharset(len(charstrings))
	} else if at > 2 { // 0, 1 and 2 are predefined
		n, err := charsetSize(src, at, len(charstrings))
		if err != nil {
			return nil, err
		}
		top.set(opCharset, len(out.data))
		out.bytes(src[at : at+n]...)
	}
	if at := top.offset(opFDSelect); at > 0 {
		n, err := fdSelectSize(src, at, len(charstrings))
		if err != nil {
			return nil, err
		}
		top.set(opFDSelect, len(out.data))
		out.bytes(src[at : at+n]...)
	}
	top.set(opCharStrings, len(out.data))
	out.index(charstrings)
	if at := top.offset(opFDArray); at > 0 {
		dicts, _, err := readIndex(src, at)
		if err != nil {
			return nil, err
		}
		for i := range dicts {
			d, err := readDict(dicts[i])
			if err == nil {
				err = out.private(src, d)
			}
			if err != nil {
				return nil, err
			}
			dicts[i] = d.bytes()
		}
		top.set(opFDArray, len(out.data))
		out.index(dicts)
	}
	if err := out.private(src, top); err != nil {
		return nil, err
	}

	final := &cffWriter{}
	final.index([][]byte{top.bytes()}) // as long as it was
	copy(out.data[topAt:], final.data)
	return out.data, nil
}

// emptyUnused replaces what is not used by a charstring that draws nothing. If
// a glyph that is used is built by endchar from two others, which old fonts do
// (Adobe Technical Note 5177, appendix C), all stay.
func emptyUnused(charstrings [][]byte, used []bool) [][]byte {
	const endchar = 14
	out := make([][]byte, len(charstrings))
	for g, cs := range charstrings {
		if g < len(used) && used[g] {
			if isAccented(cs) {
				return charstrings
			}
			out[g] = cs
		} else {
			out[g] = []byte{endchar}
		}
	}
	return out
}

// isAccented reports a charstring of four or five numbers and endchar.
func isAccented(cs []byte) bool {
	n := 0
	for len(cs) > 0 && cs[0] >= 28 && cs[0] != 29 && cs[0] != 30 && cs[0] != 31 {
		size := 1
		switch {
		case cs[0] == 28:
			size = 3
		case cs[0] == 255:
			size = 5
		case cs[0] >= 247:
			size = 2
		}
		cs = cs[min(size, len(cs)):]
		n++
	}
	return n >= 4 && len(cs) > 0 && cs[0] == 14
}

// readIndex reads the INDEX at the offset and returns its objects and where it ends.
func readIndex(src table, at int) (objects [][]byte, end int, err error) {
	if at <= 0 || at+2 > len(src) {
		return nil, 0, errCFF
	}
	n := src.u16(at)
	if n == 0 {
		return nil, at + 2, nil
	}
	size := src.u8(at + 2)
	if size < 1 || size > 4 || at+3+(n+1)*size > len(src) {
		return nil, 0, errCFF
	}
	offset := func(i int) int {
		v := 0
		for _, b := range src[at+3+i*size : at+3+(i+1)*size] {
			v = v<<8 | int(b)
		}
		return v
	}
	base := at + 3 + (n+1)*size - 1 // offsets count from 1
	objects = make([][]byte, n)
	for i := range objects {
		from, to := offset(i), offset(i+1)
		if from < 1 || from > to || base+to > len(src) {
			return nil, 0, errCFF
		}
		objects[i] = src[base+from : base+to]
	}
	return objects, base + offset(n), nil
}

type cffWriter struct{ data []byte }

func (w *cffWriter) bytes(b ...byte) { w.data = append(w.data, b...) }

func (w *cffWriter) index(objects [][]byte) {
	w.data = binary.BigEndian.AppendUint16(w.data, uint16(len(objects)))
	if len(objects) == 0 {
		return
	}
	total := 1
	for _, o := range objects {
		total += len(o)
	}
	size := 1
	for total>>(8*size) != 0 {
		size++
	}
	w.bytes(byte(size))
	offset := 1
	put := func() {
		for i := size - 1; i >= 0; i-- {
			w.bytes(byte(offset >> (8 * i)))
		}
	}
	put()
	for _, o := range objects {
		offset += len(o)
		put()
	}
	for _, o := range objects {
		w.bytes(o...)
	}
}

// identityCharset gives glyph n the character identifier n (format 2, one range).
func (w *cffWriter) identityCharset(glyphs int) {
	if glyphs < 2 {
		w.bytes(0)
		return
	}
	w.bytes(2, 0, 1)
	w.data = binary.BigEndian.AppendUint16(w.data, uint16(glyphs-2))
}

// private writes the Private DICT that d points to, with its subroutines, and
// makes d point to where it is now.
func (w *cffWriter) private(src table, d dict) error {
	e := d.find(opPrivate)
	if e == nil {
		return nil
	}
	if len(e.ints) != 2 {
		return errCFF
	}
	size, at := e.ints[0], e.ints[1]
	if size < 0 || at < 0 || at+size > len(src) {
		return errCFF
	}
	p, err := readDict(src[at : at+size])
	if err != nil {
		return err
	}
	p = slices.DeleteFunc(p, func(e dictEntry) bool { return e.op == opUniqueID })
	var subrs []byte
	if o := p.offset(opSubrs); o > 0 {
		_, end, err := readIndex(src, at+o)
		if err != nil {
			return fmt.Errorf("%w (subroutines)", err)
		}
		subrs = src[at+o : end]
		p.set(opSubrs, 0)
		p.set(opSubrs, len(p.bytes())) // they follow the DICT
	}
	b := p.bytes()
	d.set(opPrivate, len(b), len(w.data))
	w.bytes(b...)
	w.bytes(subrs...)
	return nil
}

// charsetSize is the length in bytes of the charset at the offset.
func charsetSize(src table, at, glyphs int) (int, error) {
	n := 1
	switch format := src.u8(at); format {
	case 0:
		n += 2 * (glyphs - 1)
	case 1, 2:
		for covered := 1; covered < glyphs; {
			if at+n >= len(src) {
				return 0, errCFF
			}
			if format == 1 {
				covered += 1 + src.u8(at+n+2)
				n += 3
			} else {
				covered += 1 + src.u16(at+n+2)
				n += 4
			}
		}
	default:
		return 0, errCFF
	}
	if at+n > len(src) {
		return 0, errCFF
	}
	return n, nil
}

// fdSelectSize is the length in bytes of the FDSelect at the offset.
func fdSelectSize(src table, at, glyphs int) (int, error) {
	n := 0
	switch src.u8(at) {
	case 0:
		n = 1 + glyphs
	case 3:
		n = 5 + 3*src.u16(at+1)
	default:
		return 0, errCFF
	}
	if at+n > len(src) {
		return 0, errCFF
	}
	return n, nil
}
