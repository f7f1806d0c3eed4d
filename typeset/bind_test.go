package typeset

import "testing"

// The Chicago Manual of Style, 17th edition (from memory): initials are not
// parted from each other or the name, nor a figure from its unit.
func TestBound(t *testing.T) {
	for _, c := range []struct {
		before, after string
		want          bool
	}{
		{"J.", "R.", true}, {"R.", "Tolland", true}, {"“J.", "R.", true}, {"J.", "and", false},
		{"Mrs.", "Ruddle", true}, {"(Dr.", "Müller", true}, {"Mrs.", "and", false},
		{"18", "ft", true}, {"17½", "lb.,", true}, {"6.04", "a.m.”", true}, {"18", "feet", false},
		{"1876", "in", false}, {"eighteen", "ft", false}, {"no.", "Then", false}, {"it.", "He", false}, {"", "x", false},
	} {
		if got := bindingOf(c.before).binds(bindingOf(c.after)); got != c.want {
			t.Errorf("%q, %q: %v", c.before, c.after, got)
		}
	}
}
