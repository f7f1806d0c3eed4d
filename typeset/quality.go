package typeset

import (
	"unicode/utf8"

	"bodkin/typeset/length"
)

// Quality counts what a typesetter looks for on finished pages: how many
// Findings there are of each kind, and in how many lines. Two of them compare
// with ==.
type Quality struct {
	Lines      int `json:"lines"`      // of running text and notes
	Justified  int `json:"justified"`  // those with word spaces set to fill the measure
	Hyphenated int `json:"hyphenated"` // lines that end in a hyphen which the program put in
	Ladder     int `json:"ladder"`     // most such lines in a row
	Pairs      int `json:"ladderPairs"`
	Ladders    int `json:"ladders"` // more than two in a row
	Rectos     int `json:"hyphensRecto"`
	Versos     int `json:"hyphensVerso"`
	Loose      int `json:"loose"`
	Tight      int `json:"tight"`
	Rivers     int `json:"rivers"`
	Runts      int `json:"runts"`
	Repeats    int `json:"repeats"`
	Overfull   int `json:"overfull"`
	Widows     int `json:"widows"`
	Orphans    int `json:"orphans"`
	Stranded   int `json:"stranded"`
	Uneven     int `json:"uneven"`
	Short      int `json:"short"` // last pages of sections
	Torn       int `json:"torn"`  // pages

	ParagraphsLong  int `json:"paragraphsLong"`
	ParagraphsShort int `json:"paragraphsShort"`
	SpreadsLong     int `json:"spreadsLong"`
	SpreadsShort    int `json:"spreadsShort"`

	Spaces Spaces `json:"spaces"` // of the justified lines
}

// count returns the counter of a kind.
func (q *Quality) count(k FindingKind) *int {
	return [kindEnd]*int{
		OverfullLine: &q.Overfull, TornPage: &q.Torn, Stranded: &q.Stranded, Widow: &q.Widows, Orphan: &q.Orphans,
		ShortEnd: &q.Short, UnevenSpread: &q.Uneven, RectoHyphen: &q.Rectos, Ladder: &q.Ladders, LooseLine: &q.Loose,
		River: &q.Rivers, Runt: &q.Runts, RepeatedWord: &q.Repeats, TightLine: &q.Tight, VersoHyphen: &q.Versos,
		LadderOfTwo: &q.Pairs, LongParagraph: &q.ParagraphsLong, ShortParagraph: &q.ParagraphsShort,
		LongSpread: &q.SpreadsLong, ShortSpread: &q.SpreadsShort, HyphenatedLine: &q.Hyphenated,
	}[k]
}

// Of returns how many findings there are of a kind.
func (q Quality) Of(k FindingKind) int { return *q.count(k) }

// Per10000 returns n as a rate per 10 000 lines, so that settings with unlike
// numbers of lines compare; 0 where there are no lines.
func (q Quality) Per10000(n int) float64 {
	if q.Lines == 0 {
		return 0
	}
	return float64(n) * 10_000 / float64(q.Lines)
}

// Quality measures the layout.
func (l *Layout) Quality() Quality {
	var q Quality
	l.inspect(func(f Finding) {
		*q.count(f.Kind)++
		switch f.Kind {
		case HyphenatedLine:
			q.Ladder = max(q.Ladder, 1)
		case LadderOfTwo, Ladder:
			q.Ladder = max(q.Ladder, f.Amount)
		}
	})
	var t tally
	for i := range l.Pages {
		for j := range l.Pages[i].Lines {
			if line := &l.Pages[i].Lines[j]; line.running() {
				q.Lines++
				t.add(line)
			}
		}
	}
	q.Justified, q.Spaces = int(t.lines), t.spaces()
	return q
}

// size returns the size of a line's type: that of its last letters, because
// an initial at its beginning may be larger.
func (l *Line) size() length.Length {
	for i := len(l.Runs) - 1; i >= 0; i-- {
		if r := &l.Runs[i]; r.Rise == 0 && !r.Added {
			return r.Size
		}
	}
	if len(l.Runs) == 0 {
		return 0
	}
	return l.Runs[0].Size
}

// Overfull reports whether the line is wider than its measure, apart from the
// marks that hang.
func (l *Line) Overfull() bool {
	if len(l.Runs) == 0 || l.Role == Head || l.Role == Folio {
		return false
	}
	if l.Labels == len(l.Runs) {
		return false
	}
	first, last := &l.Runs[l.Labels], &l.Runs[len(l.Runs)-1]
	left := -first.X - hangAt(first, leftHang, true)
	right := last.X + last.Width() - l.Measure - hangAt(last, rightHang, false)
	const slack = length.Point / 1024 // what rounding may add up to
	return left > slack || right > slack
}

// hangAt returns how much of the mark at an end of a run may hang.
func hangAt(r *Run, share func(rune) int32, begin bool) length.Length {
	mark, size := utf8.DecodeLastRuneInString(r.Glyphs.Text)
	if begin {
		mark, size = utf8.DecodeRuneInString(r.Glyphs.Text)
	}
	if size == 0 {
		return 0
	}
	return hangOf(r.Glyphs.Face, mark, share(mark)).at(r.Size)
}
