package pdf

import (
	"errors"
	"fmt"
	"iter"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/length"
)

// content writes the text of a page (ISO 32000-1, 9.4). Its state is that of
// a reader who has come to the same point.
type content struct {
	b      []byte
	faces  *faces
	height length.Length // of the sheet: PDF measures from its foot

	font  *font // the text state, which lasts from line to line
	voice int
	size  int64 // 10^-4 pt
	rise  int64 // 10^-3 pt
	wide  int64 // of the glyphs, 10^-5

	x, y   int64 // where the last Td led, 10^-3 pt
	pen    int64 // where the next glyph would stand, 10^-10 pt; none before the first Td
	placed bool  // the line has had its first Td
	array  bool  // inside a TJ array
	hex    bool  // inside a string of that array

	places  []typeset.Place // of the run at hand
	letters []string        // of the cluster at hand
}

// perPoint is a point in the units of the pen: a size in 10^-4 pt times a
// width in 10^-6 em needs no rounding.
const perPoint = 10_000_000_000

// tolerance is how far the pen may be from a glyph's place: 0.004 pt, which
// with the rounding of Td, Tf and Ts keeps within 0.005.
const tolerance = perPoint / 250

// farthest is the longest move in a TJ array, in thousandths of the size. It
// is below the integers of old readers, 16 bits wide.
const farthest = 30_000

// softHyphen is what a hyphen reads as that divides a word at a line's end:
// to a reader who searches or copies, the word is whole.
const softHyphen = "\u00ad"

var (
	errNoGlyphs = errors.New("a run has no face or no glyphs")
	errSize     = errors.New("type cannot have this size")
)

// begin begins a page, with the text state that every page begins with.
func (c *content) begin() {
	c.b = append(c.b[:0], "0 g\n"...)
	c.font, c.voice, c.size, c.rise, c.wide = nil, 0, 0, 0, typeset.Unwidened
}

// line writes a line of a page whose trim has its corner at left and top.
func (c *content) line(l *typeset.Line, left, top length.Length) error {
	if len(l.Runs) == 0 {
		return nil
	}
	c.b = append(c.b, "BT\n"...)
	c.x, c.y, c.placed = 0, 0, false
	for i := range l.Runs {
		r := &l.Runs[i]
		if r.Glyphs == nil || r.Glyphs.Face == nil || r.Glyphs.Face.Upem <= 0 {
			return errNoGlyphs
		}
		if points(r.Size, 4) <= 0 || r.Size > length.Max {
			return fmt.Errorf("%w: %v", errSize, r.Size)
		}
		c.places = c.places[:0]
		r.Places(l, func(p typeset.Place) bool {
			c.places = append(c.places, p)
			return true
		})
		divides := l.Hyphen && r.Added && i == len(l.Runs)-1
		c.run(r, l, left, top, divides)
	}
	c.endArray()
	c.b = append(c.b, "ET\n"...)
	return nil
}

// run writes a run of line l, cluster by cluster. It divides when it is the
// hyphen at the end of a divided word.
func (c *content) run(r *typeset.Run, l *typeset.Line, left, top length.Length, divides bool) {
	f := c.faces.font(r.Glyphs.Face)
	size := points(r.Size, 4)
	c.widen(typeset.Unwidened + int64(r.Widen))
	if r.Space && c.placed && f.space != 0 {
		c.state(f, f.voice(f.space, " "), size, c.rise)
		c.show(f.space)
	}
	baseline := points(c.height-top-l.Y, 3)
	for cl := range clusters(r.Glyphs) {
		text, n := cl.text, cl.to-cl.from
		if divides {
			text = softHyphen
		}
		c.letters = appendLetters(c.letters[:0], text, n)
		replaced := len(c.letters) < n
		if replaced {
			c.endArray()
			c.b = append(c.b, "/Span<</ActualText<FEFF"...)
			c.b = append(appendUTF16(c.b, text), ">>>BDC\n"...)
		}
		for i, p := range c.places[cl.from:cl.to] {
			voice := 0
			if i < len(c.letters) {
				voice = f.voice(p.Glyph.ID, c.letters[i])
			} else {
				f.use(p.Glyph.ID)
			}
			c.state(f, voice, size, points(l.Y-p.Y, 3))
			c.moveTo(left+p.X, baseline)
			c.show(p.Glyph.ID)
		}
		if replaced {
			c.endArray()
			c.b = append(c.b, "EMC\n"...)
		}
	}
}

// cluster is glyphs [from, to) of a run that stand for text together.
type cluster struct {
	from, to int
	text     string
}

// clusters yields the clusters of a run from left to right. When the text
// runs from right to left they come in falling order.
func clusters(r *fonts.Run) iter.Seq[cluster] {
	return func(yield func(cluster) bool) {
		gs := r.Glyphs
		n := len(gs)
		falling := n > 0 && gs[n-1].Cluster < gs[0].Cluster
		last := len(r.Text) // where the cluster ends, if falling
		for from := 0; from < n; {
			to := from + 1
			for to < n && gs[to].Cluster == gs[from].Cluster {
				to++
			}
			start, end := int(gs[from].Cluster), len(r.Text)
			if falling {
				end, last = last, start
			} else if to < n {
				end = int(gs[to].Cluster)
			}
			if !yield(cluster{from, to, r.Text[start:end]}) {
				return
			}
			from = to
		}
	}
}

// state sets the text state where it differs.
func (c *content) state(f *font, voice int, size, rise int64) {
	if f != c.font || voice != c.voice || size != c.size {
		c.endArray()
		c.font, c.voice, c.size = f, voice, size
		c.b = append(append(c.b, '/'), f.resource(voice)...)
		c.b = append(appendDecimal(append(c.b, ' '), size, 4), " Tf\n"...)
	}
	if rise != c.rise {
		c.endArray()
		c.rise = rise
		c.b = append(appendDecimal(c.b, rise, 3), " Ts\n"...)
	}
}

// widen sets how wide glyphs are (Tz), where it differs.
func (c *content) widen(wide int64) {
	if wide != c.wide {
		c.endArray()
		c.wide = wide
		c.b = append(appendDecimal(c.b, wide, 3), " Tz\n"...)
	}
}

// moveTo brings the pen to x from the left of the sheet: by Td to the first
// glyph of a line and over long ways, else by the least number in the TJ
// array that leads there.
func (c *content) moveTo(x length.Length, baseline int64) {
	// A Length is 1/65536 pt: 9 765 625 / 64 units of the pen.
	target := int64(x)*(perPoint>>16) + int64(x)*(perPoint&0xFFFF)>>16
	thousandth := c.size * c.wide / 100 // of the size, widened
	off := target - c.pen
	if !c.placed || off > farthest*thousandth || off < -farthest*thousandth {
		c.endArray()
		x, y := points(x, 3), baseline
		c.b = append(appendDecimal(c.b, x-c.x, 3), ' ')
		c.b = append(appendDecimal(c.b, y-c.y, 3), " Td\n"...)
		c.x, c.y, c.pen, c.placed = x, y, x*(perPoint/1000), true
		return
	}
	if off <= tolerance && off >= -tolerance {
		return
	}
	for places := 0; ; places++ {
		unit := thousandth / pow10[places]
		n := roundDiv(off, unit)
		if rest := off - n*unit; places == 3 || rest <= tolerance && rest >= -tolerance {
			c.inArray()
			c.endString()
			c.b = appendDecimal(c.b, -n, places)
			c.pen += n * unit
			return
		}
	}
}

// show writes a glyph and moves the pen by its width.
func (c *content) show(g fonts.GID) {
	c.inArray()
	if !c.hex {
		c.b = append(c.b, '<')
		c.hex = true
	}
	c.b = appendHex16(c.b, g)
	c.pen += c.size * int64(c.font.width(g)) / 100 * c.wide / 1000
}

func (c *content) inArray() {
	if !c.array {
		c.b = append(c.b, '[')
		c.array = true
	}
}

func (c *content) endString() {
	if c.hex {
		c.b = append(c.b, '>')
		c.hex = false
	}
}

func (c *content) endArray() {
	c.endString()
	if c.array {
		c.b = append(c.b, "]TJ\n"...)
		c.array = false
	}
}
