package typeset

import "strings"

// isAddress reports whether a word is an address of the web or of mail. A
// hyphen in it would be taken for a part of it.
func isAddress(word string) bool {
	bare := strings.TrimLeftFunc(word, isOpening)
	at := strings.IndexByte(bare, '@')
	return strings.Contains(bare, "://") || strings.HasPrefix(strings.ToLower(bare), "www.") ||
		at > 0 && strings.IndexByte(bare[at:], '.') > 1
}

// addressCuts returns where a line may end in an address: behind a colon and
// the slashes that follow it, behind an @, and before the other marks (The
// Chicago Manual of Style on URLs; from memory). Two letters at least stay on
// either side.
func addressCuts(word string) []int {
	var cuts []int
	cut := func(at int) {
		if at >= 2 && len(word)-at >= 3 && (len(cuts) == 0 || at > cuts[len(cuts)-1]) {
			cuts = append(cuts, at)
		}
	}
	for i := 0; i < len(word); i++ {
		switch c := word[i]; {
		case strings.HasPrefix(word[i:], "://"):
			i += 2
			cut(i + 1)
		case c == '@' || c == '&' || c == '=':
			cut(i + 1)
		case strings.IndexByte("./-_?#~%", c) >= 0:
			cut(i)
		}
	}
	return cuts
}
