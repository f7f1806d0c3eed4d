package typeset

import (
	"sync"

	"bodkin/hyphen"
	"bodkin/markup"
)

// hyphenator is the part of hyphen.Dictionary that composition uses.
type hyphenator interface {
	Points(dst []int, word string) []int
}

// softOnly divides words where the author's soft hyphens stand, and nowhere
// else.
var softOnly hyphenator = new(hyphen.Dictionary)

// tongue is a language: how its words are divided, and those that were made.
type tongue struct {
	tag     string     // BCP 47
	hyphens hyphenator // nil: its patterns are not at hand, and its words stay whole
	made    map[markup.Style]map[string]*word
}

// tongues are the languages of a book.
type tongues struct {
	of   map[string]*tongue
	dict *dictionaries
}

// tongue returns a language; the empty tag stands for that of the section at
// hand.
func (s *wordSetter) tongue(tag string) *tongue {
	if tag == "" || tag == s.home.tag {
		return s.home
	}
	t := s.tongues.of[tag]
	if t == nil {
		t = &tongue{tag: tag, hyphens: s.tongues.dict.find(tag), made: make(map[markup.Style]map[string]*word)}
		s.tongues.of[tag] = t
	}
	return t
}

// speak makes the language of a section the one at hand; the empty tag stands
// for the book's.
func (s *wordSetter) speak(tag string) {
	if tag == "" {
		tag = s.tongues.dict.language
	}
	s.home = s.tongue(tag)
}

// forget makes s a setter that has made no word yet.
func (s *wordSetter) forget() {
	s.home = &tongue{tag: s.home.tag, hyphens: s.home.hyphens, made: make(map[markup.Style]map[string]*word)}
	s.tongues = &tongues{of: map[string]*tongue{s.home.tag: s.home}, dict: s.tongues.dict}
}

// dictionaries are the patterns of a book's languages, each read when it is
// first wanted. They are safe for concurrent use.
type dictionaries struct {
	language   string // of the book
	exceptions []string
	whole      error // why no word of the book's language can be divided; nil where words can

	mu  sync.Mutex
	all map[string]hyphenator
}

// The letters that stay before and after a hyphen, at the least (Bringhurst,
// §2.4.2).
const (
	lettersBefore = 2
	lettersAfter  = 3
)

// load reads the patterns of a language. The words that the author divides
// are of the book's language, wherever it is spoken.
func (d *dictionaries) load(tag string) (hyphenator, error) {
	dict, err := hyphen.Load(tag)
	if err != nil {
		return nil, &noPatterns{err}
	}
	if len(d.exceptions) > 0 && primary(tag) == primary(d.language) {
		if dict, err = dict.WithExceptions(d.exceptions); err != nil {
			return nil, err
		}
	}
	return dict.WithMins(lettersBefore, lettersAfter), nil
}

// noPatterns is the failure to divide the words of a language.
type noPatterns struct{ error }

func (e *noPatterns) Unwrap() error { return e.error }

// find returns the patterns of a language; nil where they are not at hand.
func (d *dictionaries) find(tag string) hyphenator {
	d.mu.Lock()
	defer d.mu.Unlock()
	found, known := d.all[tag]
	if !known {
		found, _ = d.load(tag) // a language that is not at hand is not divided
		d.all[tag] = found
	}
	return found
}
