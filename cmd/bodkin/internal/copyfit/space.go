package copyfit

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// Limits are what the settings of a space keep to. The author's own values are
// within the limits that are left out.
type Limits struct {
	Trims []typeset.Trim // to try; none: the author's
	Faces []string       // to try; none: the author's

	LeastSize, MostSize             length.Value     // 0: 9 pt and 12 pt
	LeastLeading, MostLeading       *typeset.Leading // nil: 115 % and 145 % of the size
	LeastCharacters, MostCharacters int              // a line; 0: 45 and 75
	LeastMargin, MostMargin         length.Value     // of fore-edge, head and foot; 0: half an inch or 12 mm, and an eighth of an inch more than the author's, or a quarter where more pages are wanted
	Safety                          length.Length    // of the printer: no margin is under it
}

// Sizes that stand where none are named: book type is of 9 to 12 pt (common
// practice). The other limits are those beyond which the score falls faster.
const leastSize, mostSize = 9 * length.Point, 12 * length.Point

// quarter is the step of sizes and leadings.
const quarter = length.Point / 4

// unit returns n steps of margins: each rounded once, so that what is written
// in millimetres is whole.
func unit(t typeset.Trim, n int64) length.Length {
	if metric(t) {
		return length.Inch.Scale(5*n, 127)
	}
	return length.Inch / 16 * length.Length(n)
}

func metric(t typeset.Trim) bool { return t.Width.Unit == length.Mm }

// Candidate is a setting of a space.
type Candidate struct {
	Setting typeset.Setting
	Steps   Steps
	Bound   int // the best score that it can have

	letters *letters
}

// Space is every setting within limits, as far as it can make a difference.
type Space struct {
	Own        typeset.Setting
	Candidates []Candidate // best first

	limits      Limits
	least, most int // pages that matter
	aims        []typeset.PageAim
	block       typeset.Block // of the author's setting
	pages       int           // that it makes
	letters     *letters      // of its face
	characters  int           // of its lines, in tenths
	kept        map[kind]*Candidate
}

// kind is what decides pages: settings alike in it make as many.
type kind struct {
	trim, face string
	size, fore length.Length
	rows, long int // lines of a page, and how many more it may have
	aim        typeset.PageAim
}

// Composer sets books: a *typeset.Composer.
type Composer interface {
	Compose(context.Context, typeset.Setting) (*typeset.Layout, error)
	Castoff(context.Context, []typeset.Setting, func(int, *typeset.Layout, error) error) error
}

// NewSpace returns the settings within limits around the author's own, which
// was set as l. Their page ends aim at the fewest pages if the target has
// fewer than l, before anything else is touched; at even spreads if it has
// more; at either if it has both.
func NewSpace(ctx context.Context, c Composer, l *typeset.Layout, limits Limits, t Target) (*Space, error) {
	own, err := measure(l)
	if err != nil {
		return nil, err
	}
	sp := &Space{Own: l.Setting, limits: limits, least: min(t.Least, len(l.Pages)), most: max(t.Most, len(l.Pages)), kept: make(map[kind]*Candidate),
		block: l.Block, pages: len(l.Pages), letters: own,
		characters: own.look(&l.Setting, l.Block, Steps{}).Characters}
	if t.Most >= sp.pages {
		sp.aims = append(sp.aims, typeset.EvenPages)
	}
	if t.Least < sp.pages {
		sp.aims = append(sp.aims, typeset.FewestPages)
	}
	trims, faces := limits.Trims, limits.Faces
	if len(trims) == 0 {
		trims = []typeset.Trim{sp.Own.Trim}
	}
	if len(faces) == 0 {
		faces = []string{sp.Own.Face}
	}
	for _, name := range faces {
		set := l
		if name != sp.Own.Face {
			s := sp.Own
			s.Face = name
			if set, err = c.Compose(ctx, s); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		f, err := measure(set)
		if err != nil {
			return nil, err
		}
		if err := sp.bounded(f); err != nil {
			return nil, err
		}
		for _, trim := range trims {
			sp.add(trim, name, f)
		}
	}
	for _, k := range sp.kept {
		sp.Candidates = append(sp.Candidates, *k)
	}
	slices.SortFunc(sp.Candidates, func(a, b Candidate) int { return cmp.Or(b.Bound-a.Bound, order(&a, &b)) })
	if len(sp.Candidates) == 0 {
		return nil, errors.New("no setting keeps to these limits: widen them")
	}
	return sp, nil
}

// bounded complains of limits that contradict themselves.
func (sp *Space) bounded(f *letters) error {
	least, most := sp.sizes()
	if least > most {
		return fmt.Errorf("the least size is %v and the most %v: no size is within", sp.limits.LeastSize, sp.limits.MostSize)
	}
	if a, b := sp.leadings(most, f); a > b {
		return fmt.Errorf("the least leading is %v and the most %v: none is within", sp.limits.LeastLeading, sp.limits.MostLeading)
	}
	return nil
}

// sizes returns the least and the most size.
func (sp *Space) sizes() (least, most length.Length) {
	own := sp.Own.Size.Length
	least, most = min(leastSize, own), max(mostSize, own)
	if sp.limits.LeastSize.Length > 0 {
		least = sp.limits.LeastSize.Length
		most = max(most, least)
	}
	if sp.limits.MostSize.Length > 0 {
		most = sp.limits.MostSize.Length
		if sp.limits.LeastSize.Length == 0 {
			least = min(least, most)
		}
	}
	return least, most
}

// leadings returns the least and the most leading of a size.
func (sp *Space) leadings(size length.Length, f *letters) (least, most length.Length) {
	least, most = size.Scale(tight, 1000), size.Scale(slack, 1000)
	own := sp.Own.Leading.At(sp.Own.Size.Length, f.face)
	if size == sp.Own.Size.Length {
		least, most = min(least, own), max(most, own)
	}
	if l := sp.limits.LeastLeading; l != nil {
		least = l.At(size, f.face)
		most = max(most, least)
	}
	if l := sp.limits.MostLeading; l != nil {
		most = l.At(size, f.face)
		if sp.limits.LeastLeading == nil {
			least = min(least, most)
		}
	}
	return least, most
}

// line returns the least and the most characters of a line, in tenths.
func (sp *Space) line() (least, most int) {
	least, most = min(leastLine, sp.characters), max(mostOfLine, sp.characters)
	if n := sp.limits.LeastCharacters; n > 0 {
		least = n * 10
	}
	if n := sp.limits.MostCharacters; n > 0 {
		most = n * 10
	}
	return least, most
}

// margins returns the least and the most of a margin that the author has as
// own.
func (sp *Space) margins(t typeset.Trim, own length.Length) (low, high length.Length) {
	low, high = min(least(metric(t)), own), own+length.Inch/8
	if sp.most > sp.pages {
		high = own + length.Inch/4
	}
	if l := sp.limits.LeastMargin.Length; l > 0 {
		low = l
	}
	low = max(low, sp.limits.Safety)
	if m := sp.limits.MostMargin.Length; m > 0 {
		high = m
	}
	return low, high
}

// steps returns the multiples of a step between least and most, and own if it
// is between them.
func steps(least, most, own length.Length, step func(n int64) length.Length) []length.Length {
	var all []length.Length
	for n := int64(1); step(n) <= most; n++ {
		if step(n) >= least {
			all = append(all, step(n))
		}
	}
	if own >= least && own <= most && !slices.Contains(all, own) {
		all = append(all, own)
		slices.Sort(all)
	}
	return all
}

func quarterPoints(n int64) length.Length { return quarter * length.Length(n) }

// add adds the settings of a trim and a face.
func (sp *Space) add(trim typeset.Trim, face string, f *letters) {
	least, most := sp.sizes()
	for _, size := range steps(least, most, sp.Own.Size.Length, quarterPoints) {
		s := sp.Own
		s.Trim, s.Face = trim, face
		s.Size = value(size, sp.Own.Size, length.Pt)
		for _, leading := range sp.leadingsOf(size, f) {
			s.Leading = leading
			sp.addMargins(s, f)
		}
	}
}

// leadingsOf returns the leadings of a size: the author's as it is written.
func (sp *Space) leadingsOf(size length.Length, f *letters) []typeset.Leading {
	least, most := sp.leadings(size, f)
	own := sp.Own.Leading.At(size, f.face)
	var all []typeset.Leading
	for _, v := range steps(least, most, own, quarterPoints) {
		if v == own {
			all = append(all, sp.Own.Leading)
			continue
		}
		all = append(all, typeset.Leading{Kind: typeset.Fixed, Value: length.Value{Length: v, Unit: length.Pt}})
	}
	return all
}

// value returns a length as the author wrote it, if it is the author's.
func value(l length.Length, own length.Value, unit length.Unit) length.Value {
	if l == own.Length {
		return own
	}
	return near(l, unit)
}

// addMargins adds a setting with every fore-edge, and every head and foot that
// are wider or narrower by as much.
func (sp *Space) addMargins(s typeset.Setting, f *letters) {
	own := sp.Own.Margins
	step := func(n int64) length.Length { return unit(s.Trim, n) }
	low, high := sp.margins(s.Trim, own.ForeEdge.Length)
	lowHead, highHead := sp.margins(s.Trim, own.Head.Length)
	lowFoot, highFoot := sp.margins(s.Trim, own.Foot.Length)
	// heads and feet move together, as far as the limits of both let them
	from, to := max(lowHead-own.Head.Length, lowFoot-own.Foot.Length), min(highHead-own.Head.Length, highFoot-own.Foot.Length)
	in := s.Trim.Width.Unit
	for _, fore := range steps(low, high, own.ForeEdge.Length, step) {
		s.Margins.ForeEdge = value(fore, own.ForeEdge, in)
		for _, by := range moves(from, to, step) {
			s.Margins.Head = value(own.Head.Length+by, own.Head, in)
			s.Margins.Foot = value(own.Foot.Length+by, own.Foot, in)
			sp.consider(s, f)
		}
	}
}

// moves returns the steps from least to most, to both sides of nothing.
func moves(least, most length.Length, step func(n int64) length.Length) []length.Length {
	var all []length.Length
	for n := int64(0); step(n) <= max(-least, most); n++ {
		for _, by := range [...]length.Length{step(n), -step(n)} {
			if by >= least && by <= most && !slices.Contains(all, by) {
				all = append(all, by)
			}
		}
	}
	return all
}

// consider keeps a setting, with each aim, if nothing of its kind reads
// better.
func (sp *Space) consider(s typeset.Setting, f *letters) {
	away := sp.away(&s, f)
	for _, aim := range sp.aims {
		s.Pages = aim
		away.Fewest = aim == typeset.FewestPages && sp.Own.Pages != aim
		c := Candidate{Setting: s, Steps: away, letters: f}
		b, within := sp.bound(&c)
		if !within {
			continue
		}
		k := kind{s.Trim.String(), s.Face, s.Size.Length, s.Margins.ForeEdge.Length, b.Rows, s.Long(&b), aim}
		if old := sp.kept[k]; old == nil || old.Bound < c.Bound || old.Bound == c.Bound && order(&c, old) < 0 {
			sp.kept[k] = &c
		}
	}
}

// bound finds the best score that a candidate can have, the block that has it,
// and whether its lines are within the limits with some back margin.
func (sp *Space) bound(c *Candidate) (block typeset.Block, within bool) {
	for _, back := range c.Setting.Backs(sp.least, sp.most) {
		score, b, ok := sp.rate(c, back)
		if ok && (!within || score.Total > c.Bound) {
			c.Bound, block, within = score.Total, b, true
		}
	}
	return block, within
}

// rate returns the score of a candidate with a back margin, and whether it is
// within the limits.
func (sp *Space) rate(c *Candidate, back length.Length) (Score, typeset.Block, bool) {
	b, err := c.Setting.TextBlock(c.letters.face, back)
	if err != nil {
		return Score{}, b, false
	}
	look := c.letters.look(&c.Setting, b, c.Steps)
	least, most := sp.line()
	return Rate(look), b, look.Characters >= least && look.Characters <= most
}

// away returns how far a setting is from the author's.
func (sp *Space) away(s *typeset.Setting, f *letters) Steps {
	own := &sp.Own
	step := unit(s.Trim, 1)
	return Steps{
		Leading:  count(s.Leading.At(s.Size.Length, f.face), own.Leading.At(own.Size.Length, f.face), quarter),
		Size:     count(s.Size.Length, own.Size.Length, quarter),
		ForeEdge: count(s.Margins.ForeEdge.Length, own.Margins.ForeEdge.Length, step),
		HeadFoot: count(s.Margins.Head.Length, own.Margins.Head.Length, step),
		Face:     s.Face != own.Face,
		Trim:     s.Trim.Size() != own.Trim.Size(),
	}
}

// count returns how many steps lie between a and b, a part for a whole one but
// for what rounding may add.
func count(a, b, step length.Length) int {
	return int((max(a-b, b-a) + step - step/100) / step)
}

// order says which of two candidates that read alike comes first: the one that
// is nearer to the author's, that with the larger type, and so on; it never
// says 0 of two that differ in what a space varies.
func order(c, d *Candidate) int {
	a, b := &c.Setting, &d.Setting
	at := func(s *typeset.Setting) length.Length { return s.Leading.Value.Length }
	return cmp.Or(
		cmp.Compare(c.Steps.loss(), d.Steps.loss()),
		cmp.Compare(a.Pages, b.Pages),
		cmp.Compare(b.Size.Length, a.Size.Length),
		cmp.Compare(at(b), at(a)),
		cmp.Compare(b.Margins.ForeEdge.Length, a.Margins.ForeEdge.Length),
		cmp.Compare(b.Margins.Head.Length, a.Margins.Head.Length),
		cmp.Compare(a.Trim.String(), b.Trim.String()),
		cmp.Compare(a.Face, b.Face))
}
