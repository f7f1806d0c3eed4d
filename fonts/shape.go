package fonts

import (
	"strings"
	"sync"

	"github.com/go-text/typesetting/font"
	ot "github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/harfbuzz"
	"github.com/go-text/typesetting/language"
)

// A Run is a text shaped in a face. Runs are shared: read them only.
type Run struct {
	Face     *Face
	Text     string
	Features Feature
	Glyphs   []Glyph
	Width    int32 // sum of the advances
}

// A Glyph is one glyph of a run, in font units.
type Glyph struct {
	ID      GID
	Unsafe  bool   // shaped differently if the text were divided before this cluster
	Cluster uint32 // byte offset in Text of the first byte it stands for
	Advance int32
	DX, DY  int32 // shift of the drawn glyph against the pen; the pen itself moves by Advance
}

// WidthTo is the sum of the advances of the glyphs that stand for text before
// byteOffset. It is safe if the text divided there would be shaped to the same
// glyphs and advances in two parts: byteOffset is the start of a cluster (not
// inside a ligature) and neither kerning nor another rule reaches across it.
// Offsets at or beyond the ends are safe.
func (r *Run) WidthTo(byteOffset int) (width int32, safe bool) {
	if byteOffset <= 0 {
		return 0, true
	}
	if byteOffset >= len(r.Text) {
		return r.Width, true
	}
	for i := range r.Glyphs {
		g := &r.Glyphs[i]
		switch {
		case int(g.Cluster) < byteOffset:
			width += g.Advance
		case int(g.Cluster) == byteOffset:
			safe = !g.Unsafe
		}
	}
	return width, safe
}

// kept holds the runs of a face for one feature set, spread over a few maps so
// that goroutines seldom wait for each other.
type kept [16]struct {
	sync.RWMutex
	runs map[string]*Run
}

// Shape sets text, a word or a fragment in normal form C, in the face. The run
// is kept: the same text and features give the same run without shaping again.
// Empty text gives an empty run.
//
// Should a fault in the user's font make the shaper fail, the run has the plain
// glyphs of the character map, unkerned, rather than none.
func (f *Face) Shape(text string, feat Feature) *Run {
	feat &= features
	shard := &f.kept[feat][0]
	if n := len(text); n > 0 {
		shard = &f.kept[feat][(n*7+int(text[0])+int(text[n-1]))%len(f.kept[feat])]
	}
	shard.RLock()
	run := shard.runs[text]
	shard.RUnlock()
	if run != nil {
		return run
	}
	run = f.shape(text, feat)
	shard.Lock()
	defer shard.Unlock()
	if other := shard.runs[text]; other != nil {
		return other // another goroutine was faster
	}
	if shard.runs == nil {
		shard.runs = make(map[string]*Run, 64)
	}
	shard.runs[run.Text] = run
	f.shapings.Add(1)
	return run
}

// Shapings is the number of texts that were shaped and kept. Texts served from
// what was kept do not count.
func (f *Face) Shapings() int64 { return f.shapings.Load() }

// shaper is what one goroutine at a time needs to shape in a face. Its buffer
// holds the shaping plans, one for each script and feature set.
type shaper struct {
	buf    *harfbuzz.Buffer
	font   *harfbuzz.Font
	glyphs []Glyph // room for runs to come
	runs   []Run
}

// shape shapes text without keeping the run.
func (f *Face) shape(text string, feat Feature) *Run {
	var s *shaper
	f.pool.Lock()
	if n := len(f.pool.free); n > 0 {
		s, f.pool.free = f.pool.free[n-1], f.pool.free[:n-1]
	}
	f.pool.Unlock()
	if s == nil {
		s = new(shaper)
	}
	run, err := s.shape(f, text, feat)
	if err != nil {
		return f.plain(text, feat) // and drop the shaper, whose state is unknown
	}
	f.pool.Lock()
	f.pool.free = append(f.pool.free, s)
	f.pool.Unlock()
	return run
}

func (s *shaper) shape(f *Face, text string, feat Feature) (run *Run, err error) {
	defer recovered(&err)
	if s.font == nil {
		s.buf, s.font = harfbuzz.NewBuffer(), harfbuzz.NewFont(font.NewFace(f.shaping))
	}
	s.buf.Clear()
	for i, r := range text {
		s.buf.AddRune(r, i)
	}
	// "und" is nobody's language: the script's default language system, on any machine.
	s.buf.Props.Language = language.Language("und")
	s.buf.GuessSegmentProperties()
	s.buf.Shape(s.font, requests[feat])

	// Runs live as long as the face does; they are cut from larger pieces.
	if len(s.runs) == 0 {
		s.runs = make([]Run, 256)
	}
	n := len(s.buf.Info)
	if len(s.glyphs) < n {
		s.glyphs = make([]Glyph, max(2048, n))
	}
	run, s.runs = &s.runs[0], s.runs[1:]
	*run = Run{Face: f, Text: strings.Clone(text), Features: feat, Glyphs: s.glyphs[:n:n]}
	s.glyphs = s.glyphs[n:]
	for i := range run.Glyphs {
		info, pos := &s.buf.Info[i], &s.buf.Pos[i]
		run.Glyphs[i] = Glyph{
			ID:      GID(info.Glyph),
			Unsafe:  info.Mask&harfbuzz.GlyphUnsafeToBreak != 0,
			Cluster: uint32(info.Cluster),
			Advance: pos.XAdvance,
			DX:      pos.XOffset,
			DY:      pos.YOffset,
		}
		run.Width += pos.XAdvance
	}
	return run, nil
}

// requests are the features that go to HarfBuzz for each Feature.
var requests = func() (all [features + 1][]harfbuzz.Feature) {
	for feat := range all {
		for _, tag := range Feature(feat).tags() {
			all[feat] = append(all[feat], harfbuzz.Feature{
				Tag: ot.MustNewTag(tag), Value: 1,
				Start: harfbuzz.FeatureGlobalStart, End: harfbuzz.FeatureGlobalEnd,
			})
		}
	}
	return all
}()

// plain sets text with the character map alone.
func (f *Face) plain(text string, feat Feature) *Run {
	run := &Run{Face: f, Text: strings.Clone(text), Features: feat}
	for i, r := range text {
		g, _ := f.GID(r)
		adv := f.Advance(g)
		run.Glyphs = append(run.Glyphs, Glyph{ID: g, Cluster: uint32(i), Advance: adv})
		run.Width += adv
	}
	return run
}
