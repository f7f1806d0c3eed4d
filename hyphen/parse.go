package hyphen

import (
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// Minima where a language says nothing else: two letters before a hyphen and three after it (common practice).
const (
	defaultBefore = 2
	defaultAfter  = 3
)

// maxPattern is the length of a pattern in letters that no real one comes near.
const maxPattern = 100

// Parse reads a pattern file as the package comment describes it. tag is the BCP 47 tag of its language; it is kept for
// [Dictionary.Tag] and otherwise unused. An error about the text begins with the line, "line 12: ...".
func Parse(tag string, r io.Reader) (*Dictionary, error) {
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("hyphenation patterns for %q: %w", tag, err)
	}
	return parse(tag, string(text))
}

// A reader takes in a pattern file line by line.
type reader struct {
	alphabet      *alphabet
	patterns      []pattern
	arena         []symbol // of all patterns
	levels        []levels
	known         map[string]int32 // digits with skip in front -> index into levels
	exceptions    exceptions
	before, after int
	minima        bool // stated
}

func parse(tag, text string) (*Dictionary, error) {
	p := &reader{
		alphabet:   newAlphabet(),
		patterns:   make([]pattern, 0, strings.Count(text, "\n")),
		arena:      make([]symbol, 0, len(text)),
		levels:     make([]levels, 1, 512), // 0 is none
		known:      map[string]int32{},
		exceptions: exceptions{points: map[string][]int{}},
		before:     defaultBefore,
		after:      defaultAfter,
	}
	entry := p.pattern
	text = strings.TrimPrefix(text, "\uFEFF")
	for n := 1; text != ""; n++ {
		var line string
		line, text, _ = strings.Cut(text, "\n")
		line = strings.TrimSpace(line)
		var err error
		switch {
		case line == "" || line[0] == '#' || line[0] == '%':
		case line == ":patterns":
			entry = p.pattern
		case line == ":exceptions":
			entry = func(word string, _ int) error { return p.exceptions.add(word) }
		case line[0] == ':':
			err = p.directive(line)
		case !utf8.ValidString(line):
			err = errors.New("not UTF-8; save the file as UTF-8")
		default:
			if err = entry(line, n); err != nil {
				err = fmt.Errorf("%q: %w", shorten(line), err)
			}
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", n, err)
		}
	}
	if len(p.patterns) == 0 && len(p.exceptions.points) == 0 {
		return nil, errors.New("no pattern and no exception in the file")
	}
	p.alphabet.finish()
	d := &Dictionary{tag: tag, before: p.before, after: p.after, alphabet: p.alphabet, exceptions: p.exceptions}
	var err error
	d.trie, err = pack(p.patterns, p.arena, p.levels, int(p.alphabet.n))
	return d, err
}

func (p *reader) directive(line string) error {
	f := strings.Fields(line)
	if f[0] != ":minima" {
		return fmt.Errorf("%q: no such directive; there are :minima, :patterns and :exceptions", shorten(line))
	}
	if p.minima {
		return errors.New(":minima is stated twice")
	}
	if len(f) == 3 {
		before, err1 := strconv.Atoi(f[1])
		after, err2 := strconv.Atoi(f[2])
		if err1 == nil && err2 == nil && min(before, after) >= 1 && max(before, after) <= maxPattern {
			p.before, p.after, p.minima = before, after, true
			return nil
		}
	}
	return fmt.Errorf("%q: :minima takes two numbers from 1 to %d, letters before and after a hyphen", shorten(line), maxPattern)
}

// pattern takes in one pattern.
func (p *reader) pattern(s string, line int) error {
	for i := range len(s) {
		if s[i] >= 0xCC { // from U+0300 on, letters may be decomposed
			s = norm.NFC.String(s)
			break
		}
	}
	var digits [maxPattern + 3]byte // digits[i] comes before symbol i
	begin, digit, closed := len(p.arena), false, false
	for _, r := range s {
		n := len(p.arena) - begin
		switch {
		case closed:
			return errors.New(`a "." stands at the ends of a pattern only, with no digit outside`)
		case '0' <= r && r <= '9':
			if digit {
				return errors.New("two digits in a row")
			}
			digits[n], digit = byte(r-'0'), true
			continue
		case n == maxPattern:
			return fmt.Errorf("longer than %d letters", maxPattern)
		case r == '.':
			if n == 0 && digit {
				return errors.New(`a "." stands at the ends of a pattern only, with no digit outside`)
			}
			closed = n > 0
			p.arena = append(p.arena, edge)
		case unicode.IsLetter(r) || unicode.IsMark(r) || isApostrophe(r):
			if p.alphabet.n == maxSymbols {
				return fmt.Errorf("more than %d letters in the patterns", maxSymbols)
			}
			p.arena = append(p.arena, p.alphabet.add(fold(r)))
		default:
			return fmt.Errorf("%q is neither a letter nor a digit nor \".\"", r)
		}
		digit = false
	}
	syms := p.arena[begin:]
	if n := len(syms); n == 0 || n == 1 && syms[0] == edge || n == 2 && syms[0] == edge && syms[1] == edge {
		return errors.New("no letter")
	}
	l := p.share(digits[:len(syms)+1])
	if l == 0 {
		return errors.New("no digit from 1 to 9, so that it says nothing; a word with its hyphens belongs under :exceptions")
	}
	p.patterns = append(p.patterns, pattern{int32(begin), int32(len(p.arena)), l, int32(line)})
	return nil
}

// share returns the index of the levels with these digits, 0 if all are zero.
func (p *reader) share(digits []byte) int32 {
	end := len(digits)
	for end > 0 && digits[end-1] == 0 {
		end--
	}
	if end == 0 {
		return 0
	}
	digits = digits[:end]
	if i, ok := p.known[string(digits)]; ok {
		return i
	}
	skip := 0
	for digits[skip] == 0 {
		skip++
	}
	i := int32(len(p.levels))
	s := string(digits)
	p.levels = append(p.levels, levels{skip: skip, digits: s[skip:]})
	p.known[s] = i
	return i
}

// shorten keeps a line of junk from filling the screen.
func shorten(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}
