package strict

import (
	"fmt"
	"strconv"
	"strings"
)

// Quote writes a basic string of TOML 1.0: what stands for something else, and
// what cannot be seen, is escaped.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r > 0xffff && !strconv.IsPrint(r):
			fmt.Fprintf(&b, `\U%08X`, r)
		case !strconv.IsPrint(r):
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String() + `"`
}
