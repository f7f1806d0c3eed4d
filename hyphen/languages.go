package hyphen

import (
	"bytes"
	"embed"
	"fmt"
	"slices"
	"strings"
)

//go:embed data/*.txt
var data embed.FS

// shelf lists the languages at hand with the names of their files in data, sorted by tag.
var shelf = [...]struct{ tag, file string }{
	{"de", "de"},
	{"en-GB", "en-GB"},
	{"en-US", "en-US"},
	{"es", "es"},
	{"fr", "fr"},
	{"it", "it"},
	{"nl", "nl"},
	{"pl", "pl"},
	{"pt-BR", "pt"},
	{"pt-PT", "pt"},
	{"sv", "sv"},
}

// nearest lists tags whose nearest language is not found by leaving out subtags from the right: a language without its
// region, and regions that spell as another one does (common practice).
var nearest = [...]struct{ tag, to string }{
	{"en", "en-US"},
	{"en-AU", "en-GB"},
	{"en-HK", "en-GB"},
	{"en-IE", "en-GB"},
	{"en-IN", "en-GB"},
	{"en-MT", "en-GB"},
	{"en-NZ", "en-GB"},
	{"en-SG", "en-GB"},
	{"en-ZA", "en-GB"},
	{"pt", "pt-PT"},
}

// Languages returns the BCP 47 tags of the languages at hand, sorted.
func Languages() []string {
	tags := make([]string, len(shelf))
	for i, l := range shelf {
		tags[i] = l.tag
	}
	return tags
}

// Load returns the dictionary of the language nearest to a BCP 47 tag: "de-AT" loads "de", "en" loads "en-US". It reads
// the patterns anew at each call, which takes milliseconds; keep what it returns. The error for a language that is not
// at hand lists those that are.
func Load(tag string) (*Dictionary, error) {
	found, file, ok := match(tag)
	if !ok {
		return nil, unknownLanguage(tag)
	}
	text, err := data.ReadFile("data/" + file + ".txt")
	if err != nil {
		return nil, fmt.Errorf("hyphenation patterns for %q: %w", found, err)
	}
	d, err := parse(found, string(text))
	if err != nil {
		return nil, fmt.Errorf("hyphenation patterns for %q: %w", found, err)
	}
	return d, nil
}

// Licence returns the notice of the patterns that [Load] uses for a tag, with the full text of their licence. It travels
// with the patterns.
func Licence(tag string) (string, error) {
	found, file, ok := match(tag)
	if !ok {
		return "", unknownLanguage(tag)
	}
	text, err := data.ReadFile("data/" + file + ".licence.txt")
	if err == nil && bytes.Contains(text, []byte("name: LPPL")) && !bytes.Contains(text, []byte("name: MIT")) {
		var full []byte
		full, err = data.ReadFile("data/LPPL-1.3c.txt")
		text = append(append(text, '\n'), full...)
	}
	if err != nil {
		return "", fmt.Errorf("licence of the hyphenation patterns for %q: %w", found, err)
	}
	return string(text), nil
}

func unknownLanguage(tag string) error {
	return fmt.Errorf("no hyphenation patterns for language %q; there are %s", tag, strings.Join(Languages(), ", "))
}

// match finds the nearest language by the lookup of RFC 4647, section 3.4: subtags are left out from the right until
// something is known. The script is left out first, since each language here is written in one script alone.
func match(tag string) (found, file string, ok bool) {
	sub := strings.Split(strings.ReplaceAll(tag, "_", "-"), "-")
	if len(sub) > 1 && strings.EqualFold(sub[1], "Latn") {
		sub = slices.Delete(sub, 1, 2)
	}
	for ; len(sub) > 0; sub = sub[:len(sub)-1] {
		t := strings.Join(sub, "-")
		for _, n := range nearest {
			if strings.EqualFold(n.tag, t) {
				t = n.to
			}
		}
		for _, l := range shelf {
			if strings.EqualFold(l.tag, t) {
				return l.tag, l.file, true
			}
		}
	}
	return "", "", false
}
