package copyfit

import (
	"fmt"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// frontier returns what no other setting beats both ways: nothing that was
// set and reads as well or better has as few pages, where the target has fewer
// than the author's setting; nothing has as many, where it has more. Sets come
// best first; those under the score down are left out, and those with pages
// that are neither wanted nor between the author's and the wanted.
func (sp *Space) frontier(all []Set, t Target, down int) []Set {
	var front []Set
	fewer, more := t.Least < sp.pages, t.Most > sp.pages
	least, most := sp.most+1, sp.least-1
	for i := range all {
		s := &all[i]
		if s.Score.Total < down || s.Pages < sp.least || s.Pages > sp.most {
			continue
		}
		if len(front) == 0 || fewer && s.Pages < least || more && s.Pages > most {
			front = append(front, *s)
		}
		least, most = min(least, s.Pages), max(most, s.Pages)
	}
	return front
}

// Changes says in plain words what a setting changes about the author's.
func (sp *Space) Changes(set Set) []string {
	own, s := &sp.Own, &set.Setting
	var all []string
	say := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	if s.Trim.Size() != own.Trim.Size() {
		say("another trim, %v for %v", s.Trim, own.Trim)
	}
	if s.Face != own.Face {
		say("another face, %s for %s", s.Face, own.Face)
	}
	if d := s.Size.Length - own.Size.Length; d != 0 {
		say("type %v %s", abs(d), word(d, "larger", "smaller"))
	}
	if d := set.Leading - sp.block.Leading; d != 0 {
		say("lines %v %s", abs(d), word(d, "farther apart", "closer together"))
	}
	in := s.Trim.Width.Unit
	if d := s.Margins.ForeEdge.Length - own.Margins.ForeEdge.Length; d != 0 {
		say("outer margins %v %s", near(abs(d), in), word(d, "wider", "narrower"))
	}
	if d := s.Margins.Head.Length - own.Margins.Head.Length; d != 0 {
		say("top and bottom margins %v %s each", near(abs(d), in), word(d, "wider", "narrower"))
	}
	if s.Pages != own.Pages {
		if s.Pages == typeset.FewestPages {
			say("chapters end a page sooner where the rules allow")
		} else {
			say("chapters end where they look best")
		}
	}
	if set.Rows != sp.block.Rows {
		say("so %d lines a page for %d", set.Rows, sp.block.Rows)
	}
	return all
}

// near writes a length in inches as it is, and in millimetres to a hundredth.
func near(l length.Length, in length.Unit) length.Value {
	if in == length.Mm {
		l = length.Inch.Scale(int64(l.Scale(2540, int64(length.Inch))), 2540)
	}
	return length.Value{Length: l, Unit: in}
}

func abs(l length.Length) length.Length { return max(l, -l) }

func word(d length.Length, more, less string) string {
	if d > 0 {
		return more
	}
	return less
}

// Binding names the limits that hold a setting back from more pages, or from
// fewer: those that refuse the next step.
func (sp *Space) Binding(s Set, more bool) []string {
	toward := length.Length(-1)
	if more {
		toward = 1
	}
	f := s.letters
	var names []string
	say := func(name, format string, args ...any) {
		names = append(names, "--"+word(-toward, "least-", "most-")+name+" "+fmt.Sprintf(format, args...))
	}
	at, own := s.Setting, &sp.Own
	if low, high := sp.sizes(); at.Size.Length+toward*quarter < low || at.Size.Length+toward*quarter > high {
		say("size", "%v", pick(more, high, low))
	} else if fewest, longest := sp.line(); !more && s.Characters*10*int(at.Size.Length)/int(at.Size.Length-quarter) > longest {
		names = append(names, fmt.Sprintf("--characters %d..%d", fewest/10, longest/10))
	}
	leading := at.Leading.At(at.Size.Length, f.face)
	if low, high := sp.leadings(at.Size.Length, f); leading+toward*quarter < low || leading+toward*quarter > high {
		limit := "115%"
		switch l := sp.limits; {
		case more && l.MostLeading != nil:
			limit = l.MostLeading.String()
		case more:
			limit = "145%"
		case l.LeastLeading != nil:
			limit = l.LeastLeading.String()
		}
		say("leading", "%s", limit)
	}
	step, in := unit(at.Trim, 1), at.Trim.Width.Unit
	for _, m := range [...][2]length.Value{{at.Margins.ForeEdge, own.Margins.ForeEdge}, {at.Margins.Head, own.Margins.Head}, {at.Margins.Foot, own.Margins.Foot}} {
		low, high := sp.margins(at.Trim, m[1].Length)
		if m[0].Length+toward*step < low || m[0].Length+toward*step > high {
			say("margin", "%v", length.Value{Length: pick(more, high, low), Unit: in})
			break
		}
	}
	return names
}

func pick(more bool, high, low length.Length) length.Length {
	if more {
		return high
	}
	return low
}
