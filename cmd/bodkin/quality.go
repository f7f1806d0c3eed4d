package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"bodkin/typeset"
)

// mostPlaces is how many places of a kind the report names, unless all are
// asked for.
const mostPlaces = 12

// place is a finding as JSON; its keys are stable. Pages and lines are
// counted from 1.
type place struct {
	Kind    typeset.FindingKind `json:"kind"`
	Chapter string              `json:"chapter,omitempty"`
	Label   string              `json:"label"` // the page number, as printed
	Page    int                 `json:"page"`  // counted from the first leaf, as --page does
	Line    int                 `json:"line"`  // on the page
	At      string              `json:"at,omitempty"`
	Text    string              `json:"text"`
	Amount  int                 `json:"amount,omitempty"`
	Reason  string              `json:"reason,omitempty"`
}

func places(found []typeset.Finding) []place {
	made := make([]place, len(found))
	for i, f := range found {
		made[i] = place{Kind: f.Kind, Chapter: f.Chapter, Label: f.Label, Page: f.Page + 1, Line: f.Row,
			Text: f.Text, Amount: f.Amount, Reason: f.Reason}
		if f.Pos.File != "" {
			made[i].At = f.Pos.String()
		}
	}
	return made
}

// worst returns a page of the spread where the most is to be seen; what is
// frequent and no fault does not count.
func worst(l *typeset.Layout, found []typeset.Finding) int {
	sum, best := make([]int, l.Spreads()), 0
	for _, f := range found {
		if f.Kind < typeset.LadderOfTwo {
			sum[(f.Page+1)/2]++
		}
	}
	for i, n := range sum {
		if n > sum[best] {
			best = i
		}
	}
	if sum[best] == 0 {
		return firstText(l)
	}
	if s := l.Spread(best); s.Verso >= 0 {
		return s.Verso
	}
	return 0
}

// qualityReport is the part of proof's report that --quality asks for.
type qualityReport struct {
	quality typeset.Quality
	found   []typeset.Finding
	most    int  // places of a kind
	colours bool // a picture has marks in them
}

func (r *qualityReport) print(w io.Writer) error {
	r.table(w)
	r.spaces(w)
	for _, kind := range typeset.FindingKinds() {
		if err := r.places(w, kind); err != nil {
			return err
		}
	}
	return nil
}

// table prints what there is of each kind, and what it means.
func (r *qualityReport) table(w io.Writer) {
	fmt.Fprintf(w, "\nWhat a typesetter would mark, in %s:\n", count(r.quality.Lines, "line", "lines"))
	var none []string
	var rows [][3]string
	for _, kind := range typeset.FindingKinds() {
		n := r.quality.Of(kind)
		if n == 0 {
			none = append(none, kind.Noun(0))
			continue
		}
		what := kind.Meaning()
		if r.colours {
			_, colour := kind.Color()
			what += " (" + colour + ")"
		}
		rows = append(rows, [3]string{thousands(n), kind.Noun(n), what})
	}
	wide, name := 0, 0
	for _, row := range rows {
		wide, name = max(wide, len(row[0])), max(name, len(row[1]))
	}
	for _, row := range rows {
		fmt.Fprintf(w, "  %*s %-*s  %s\n", wide, row[0], name, row[1], row[2])
	}
	if len(none) > 0 {
		fmt.Fprint(w, wrap("  Nowhere: "+strings.Join(none, ", ")+".", 78, "  "))
	}
}

// wrap breaks a text into lines of at most width characters.
func wrap(s string, width int, indent string) string {
	var b strings.Builder
	begin := indent
	line := begin
	for _, word := range strings.Fields(s) {
		if len(line)+1+len(word) > width && line != begin {
			b.WriteString(line + "\n")
			line = begin
		}
		if line != begin {
			line += " "
		}
		line += word
	}
	b.WriteString(line + "\n")
	return b.String()
}

// wideFrom is the twentieth of an em from which word spaces are shown as one
// step: they are few.
const wideFrom = 12

// spaces prints the distribution of word spaces as bars.
func (r *qualityReport) spaces(w io.Writer) {
	q := &r.quality
	if q.Justified == 0 {
		return
	}
	s := &q.Spaces
	fmt.Fprintf(w, "\nSpaces between words, in %s (an em is the size of the type):\n", count(q.Justified, "full line", "full lines"))
	fmt.Fprintf(w, "  %s em on average, from %s to %s\n", em(s.Mean), em(s.Least), em(s.Most))
	steps := append([]int(nil), s.Twentieths[:wideFrom+1]...)
	for _, n := range s.Twentieths[wideFrom+1:] {
		steps[wideFrom] += n
	}
	first, most := -1, 0
	for i, n := range steps {
		if n > 0 && first < 0 {
			first = i
		}
		most = max(most, n)
	}
	last := len(steps) - 1
	for steps[last] == 0 {
		last--
	}
	for i := first; i <= last; i++ {
		from, to := em(i*50), em(i*50+50)
		step := from + " to " + to
		if i == wideFrom {
			step = from + " and over"
		}
		bar := strings.Repeat("#", (steps[i]*40+most-1)/most)
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("  %-13s %6s  %s", step, thousands(steps[i]), bar), " "))
	}
}

// em writes thousandths of an em with two decimals.
func em(thousandths int) string {
	return fmt.Sprintf("%d.%02d", (thousandths+5)/1000, (thousandths+5)%1000/10)
}

// places prints where the findings of a kind are.
func (r *qualityReport) places(w io.Writer, kind typeset.FindingKind) error {
	n := r.quality.Of(kind)
	if n == 0 {
		return nil
	}
	noun := kind.Noun(n)
	fmt.Fprintf(w, "\n%s%s\n", strings.ToUpper(noun[:1]), noun[1:])
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	shown, chapter := 0, "\x00"
	for _, f := range r.found {
		if f.Kind != kind {
			continue
		}
		if shown++; shown > r.most {
			break
		}
		if f.Chapter != chapter {
			if chapter = f.Chapter; chapter != "" {
				fmt.Fprintf(t, "  %s\n", chapter)
			}
		}
		page := "page " + f.Label
		if f.Label != fmt.Sprint(f.Page+1) {
			page += fmt.Sprintf(" (--page %d)", f.Page+1)
		}
		fmt.Fprintf(t, "    %s\tline %d\t%v\t%s\n", page, f.Row, f.Pos, describe(f))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	if n > r.most {
		_, err := fmt.Fprintf(w, "    and %s more; --all-places names them\n", thousands(n-r.most))
		return err
	}
	return nil
}

// describe says what was found in a line, and how much of it.
func describe(f typeset.Finding) string {
	switch f.Kind {
	case typeset.LooseLine, typeset.TightLine:
		return em(f.Amount) + " em\t" + f.Text
	case typeset.Ladder, typeset.River, typeset.ShortEnd:
		return count(f.Amount, "line", "lines") + "\t" + f.Text
	case typeset.LongSpread, typeset.LongParagraph, typeset.ShortSpread, typeset.ShortParagraph:
		return fmt.Sprintf("%+d\t%s", f.Amount, f.Text)
	case typeset.UnevenSpread:
		s := count(f.Amount, "line", "lines") + " longer"
		if f.Amount < 0 {
			s = count(-f.Amount, "line", "lines") + " shorter"
		}
		if s += " than the page it faces"; f.Reason != "" {
			s += ": " + f.Reason
		}
		return s
	}
	return f.Text
}
