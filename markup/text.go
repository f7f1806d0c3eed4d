package markup

import (
	"bytes"
	"fmt"
	"path/filepath"
	"unicode/utf8"
)

// Characters that no text may hold mark, inside this package, quotation marks
// that the author wants straight. Both are noncharacters (Unicode 23.7).
const (
	straightDouble = '\uFDD0'
	straightSingle = '\uFDD1'
)

// clean checks the bytes of a file and returns them as UTF-8 without a
// byte-order mark and with line feeds only. On faults it returns none.
func clean(name string, b []byte) ([]byte, []error) {
	fault := func(line int, what, mend string) []error {
		return []error{&Error{Pos: Pos{name, line}, What: what, Mend: mend}}
	}
	const save = "save the file as UTF-8"
	if len(b) >= 2 && (b[0] == 0xFE && b[1] == 0xFF || b[0] == 0xFF && b[1] == 0xFE) {
		return nil, fault(0, "the file is in UTF-16", save)
	}
	for _, kind := range [...]struct{ mark, what, mend string }{
		{"PK\x03\x04", "a document of a word processor, or another packed file", "take it in first: bodkin intake " + filepath.Base(name) + " -o my-book"},
		{"{\\rtf", "a document in rich text", "save it as .docx or .odt, and take that in with bodkin intake"},
		{"%PDF", "a PDF", "save the text as plain text or Markdown from the program that made it"},
	} {
		if bytes.HasPrefix(b, []byte(kind.mark)) {
			return nil, fault(0, "the file is "+kind.what+", and no text", kind.mend)
		}
	}
	b = bytes.TrimPrefix(b, []byte("\uFEFF"))
	if bytes.IndexByte(b, '\r') >= 0 {
		b = bytes.ReplaceAll(b, []byte("\r\n"), []byte("\n"))
		b = bytes.ReplaceAll(b, []byte("\r"), []byte("\n"))
	}
	var faults []error
	line, busy, start, blank := 1, 0, 1, true
	for i := 0; i < len(b); {
		c := b[i]
		if c < utf8.RuneSelf {
			switch {
			case c == '\n':
				line++
				if blank {
					busy, start = 0, line
				}
				blank = true
				i++
				continue
			case c == ' ', c == '\t':
				i++
				continue
			case c < ' ', c == 0x7F:
				faults = append(faults, badRune(Pos{name, line}, rune(c)))
			case markupByte[c]:
				if busy++; busy == maxMarkup {
					faults = append(faults, &Error{Pos: Pos{name, start},
						What: fmt.Sprintf("this paragraph holds more than %d characters of markup", maxMarkup),
						Mend: "divide it, or put a backslash before each character that is meant as itself"})
				}
			}
			blank = false
			i++
			continue
		}
		blank = false
		r, n := utf8.DecodeRune(b[i:])
		if r == utf8.RuneError && n == 1 {
			return nil, append(faults, fault(line, fmt.Sprintf("byte 0x%02X is not UTF-8", c), save)...)
		}
		if e := badRune(Pos{name, line}, r); e != nil {
			faults = append(faults, e)
		}
		i += n
	}
	if faults != nil {
		return nil, faults
	}
	if len(bytes.TrimSpace(b)) == 0 {
		return nil, fault(0, "the file is empty", "write its text, or take it off the list")
	}
	return b, nil
}

// maxMarkup bounds the characters of markup between two blank lines. Some
// readings of Markdown take time that grows with their square; at this bound
// that is still unnoticed, and no paragraph that is meant to be read comes
// near it.
const maxMarkup = 4000

var markupByte = [utf8.RuneSelf]bool{'*': true, '_': true, '[': true, ']': true, '`': true, '<': true}

// badRune is the fault of a character that cannot stand in a text, or nil.
func badRune(at Pos, r rune) error {
	what, mend := "", "delete it"
	switch {
	case r == 0:
		what, mend = "there is a NUL in the text", "delete it, or save the file as UTF-8"
	case r == '\f':
		what, mend = "there is a form feed in the text", "delete it; a heading opens a new page"
	case r < ' ' && r != '\t' && r != '\n', 0x7F <= r && r < 0xA0:
		what = fmt.Sprintf("there is a control character in the text (U+%04X)", r)
	case r == '\u2028', r == '\u2029':
		what = fmt.Sprintf("there is a separator in the text (U+%04X)", r)
		mend = "end a line with a backslash, or divide paragraphs with an empty line"
	case r == '\uFEFF':
		what = "there is a byte-order mark inside the text (U+FEFF)"
	case r == utf8.RuneError:
		what, mend = "a character was lost when the file was converted (U+FFFD)", "type it again"
	case 0xFDD0 <= r && r <= 0xFDEF, r&0xFFFE == 0xFFFE:
		what = fmt.Sprintf("there is a code in the text that is no character (U+%04X)", r)
	default:
		return nil
	}
	return &Error{Pos: at, What: what, Mend: mend}
}
