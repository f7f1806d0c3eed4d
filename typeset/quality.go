package typeset

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
	w := inspector{l: l}
	w.inspect(func(f Finding) {
		*q.count(f.Kind)++
		switch f.Kind {
		case HyphenatedLine:
			q.Ladder = max(q.Ladder, 1)
		case LadderOfTwo, Ladder:
			q.Ladder = max(q.Ladder, f.Amount)
		}
	})
	q.Lines, q.Justified, q.Spaces = w.lines, int(w.tally.lines), w.tally.spaces()
	return q
}
