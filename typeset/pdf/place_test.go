package pdf

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
	"pgregory.net/rapid"

	"bodkin/fonts"
	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
	"bodkin/typeset/length"
)

// shown is a glyph as a reader of the file would place it, in points from the
// foot of the page.
type shown struct {
	gid  fonts.GID
	x, y float64
}

// token matches what a content stream of ours is made of.
var token = regexp.MustCompile(`<<|>>|<[0-9A-F]*>|\[|\]|/[A-Za-z0-9_]+|[-+]?[0-9]*\.?[0-9]+|[A-Za-z]+\*?`)

// interpret runs the text operators of a content stream by the rules of
// ISO 32000-1, 9.4.4, in floating point. Widths are in thousandths of an em.
func interpret(content []byte, widths map[string]map[fonts.GID]float64) ([]shown, error) {
	var (
		out              []shown
		args             []string
		font             map[fonts.GID]float64
		size, rise       float64
		wide             = 1.0
		lineX, lineY, tx float64
	)
	num := func(i int) float64 {
		f, _ := strconv.ParseFloat(args[len(args)-i], 64)
		return f
	}
	for _, t := range token.FindAllString(string(content), -1) {
		if c := t[0]; c < 'A' || c > 'z' || c == '[' || c == ']' {
			args = append(args, t)
			continue
		}
		switch t {
		case "BT":
			lineX, lineY, tx = 0, 0, 0
		case "Tf":
			name := args[len(args)-2][1:]
			if font = widths[name]; font == nil {
				return nil, fmt.Errorf("no font %s", name)
			}
			size = num(1)
		case "Ts":
			rise = num(1)
		case "Tz":
			wide = num(1) / 100
		case "Td":
			lineX, lineY, tx = lineX+num(2), lineY+num(1), 0
		case "TJ":
			for _, a := range args[1 : len(args)-1] {
				if a[0] != '<' {
					f, err := strconv.ParseFloat(a, 64)
					if err != nil {
						return nil, err
					}
					tx -= f / 1000 * size * wide
					continue
				}
				for hex := a[1 : len(a)-1]; hex != ""; hex = hex[4:] {
					n, err := strconv.ParseUint(hex[:4], 16, 16)
					if err != nil {
						return nil, err
					}
					w, ok := font[fonts.GID(n)]
					if !ok {
						return nil, fmt.Errorf("glyph %d has no width", n)
					}
					out = append(out, shown{fonts.GID(n), lineX + tx, lineY + rise})
					tx += w / 1000 * size * wide
				}
			}
		case "ET", "EMC", "BDC", "g", "G", "w", "j", "J":
		default:
			return nil, fmt.Errorf("operator %s", t)
		}
		args = args[:0]
	}
	return out, nil
}

// widthsOf reads the widths of a page's fonts from the file, through pdfcpu.
func widthsOf(ctx *model.Context, page types.Dict) (map[string]map[fonts.GID]float64, error) {
	all := make(map[string]map[fonts.GID]float64)
	resources, err := ctx.DereferenceDict(page["Resources"])
	if err != nil {
		return nil, err
	}
	list, err := ctx.DereferenceDict(resources["Font"])
	if err != nil {
		return nil, err
	}
	for name, ref := range list {
		font, err := ctx.DereferenceDict(ref)
		if err != nil {
			return nil, err
		}
		descendants, err := ctx.DereferenceArray(font["DescendantFonts"])
		if err != nil {
			return nil, err
		}
		cid, err := ctx.DereferenceDict(descendants[0])
		if err != nil {
			return nil, err
		}
		w := make(map[fonts.GID]float64)
		array, err := ctx.DereferenceArray(cid["W"])
		if err != nil {
			return nil, err
		}
		for i := 0; i < len(array); i += 2 {
			first := array[i].(types.Integer)
			for n, v := range array[i+1].(types.Array) {
				switch v := v.(type) {
				case types.Integer:
					w[fonts.GID(int(first)+n)] = float64(v)
				case types.Float:
					w[fonts.GID(int(first)+n)] = float64(v)
				}
			}
		}
		all[name] = w
	}
	return all, nil
}

// compare holds the glyphs of every page of a file against the layout's. The
// word spaces that the file has between runs have no place in the layout.
func compare(l *typeset.Layout, ctx *model.Context) error {
	for i := range l.Pages {
		left := l.Bleed // of the trim, on the paper
		if i%2 == 0 && !l.Setting.BleedBack {
			left = 0 // a recto, whose back edge is at the left
		}
		page, _, _, err := ctx.PageDict(i+1, false)
		if err != nil {
			return err
		}
		widths, err := widthsOf(ctx, page)
		if err != nil {
			return err
		}
		content, err := ctx.PageContent(page, i+1)
		if err != nil {
			return err
		}
		got, err := interpret(content, widths)
		if err != nil {
			return err
		}
		for n := range l.Pages[i].Lines {
			line := &l.Pages[i].Lines[n]
			for j := range line.Runs {
				r := &line.Runs[j]
				if r.Space && j > 0 {
					if space, _ := r.Glyphs.Face.GID(' '); len(got) == 0 || got[0].gid != space {
						return fmt.Errorf("page %d, line %d, run %d: no space before it", i, n, j)
					}
					got = got[1:]
				}
				r.Places(line, func(want typeset.Place) bool {
					if len(got) == 0 {
						err = fmt.Errorf("page %d, line %d: the file has too few glyphs", i, n)
						return false
					}
					g := got[0]
					got = got[1:]
					x, y := (left + want.X).Points(), (l.Trim.Height + l.Bleed - want.Y).Points()
					if g.gid != want.Glyph.ID || math.Abs(g.x-x) > 0.005 || math.Abs(g.y-y) > 0.005 {
						err = fmt.Errorf("page %d, line %d, run %d: glyph %d at %.5f %.5f, want %d at %.5f %.5f",
							i, n, j, g.gid, g.x, g.y, want.Glyph.ID, x, y)
					}
					return err == nil
				})
				if err != nil {
					return err
				}
			}
		}
		if len(got) > 0 {
			return fmt.Errorf("page %d: the file has %d glyphs too many", i, len(got))
		}
	}
	return nil
}

// TestPlacesNovel: every glyph of a novel stands within 0.005 pt of its place.
func TestPlacesNovel(t *testing.T) {
	l := novel(t)
	if err := compare(l, open(t, write(t, l, Options{}))); err != nil {
		t.Error(err)
	}
}

// TestPlaces does the same with lines that no compositor would set: any size,
// tracking, rise and distance, in faces of 1000 and of 1024 units.
func TestPlaces(t *testing.T) {
	var faces []*fonts.Face
	for _, family := range []string{"EB Garamond", "Crimson Pro"} {
		for _, style := range []fonts.Style{fonts.Regular, fonts.Italic} {
			face, err := fonts.Embedded().Face(family, style)
			if err != nil {
				t.Fatal(err)
			}
			faces = append(faces, face)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l := &typeset.Layout{Trim: typeset.Size{
			Width:  length.Length(rapid.Int64Range(1<<22, 1<<26).Draw(t, "width")),
			Height: length.Length(rapid.Int64Range(1<<22, 1<<26).Draw(t, "height")),
		}}
		for range rapid.IntRange(1, 3).Draw(t, "pages") {
			var page typeset.Page
			for range rapid.IntRange(0, 4).Draw(t, "lines") {
				line := typeset.Line{
					X: length.Length(rapid.Int64Range(-1<<20, 1<<25).Draw(t, "x")),
					Y: length.Length(rapid.Int64Range(-1<<20, 1<<26).Draw(t, "y")),
				}
				size := length.Length(rapid.Int64Range(1<<18, 1<<23).Draw(t, "size"))
				var x length.Length
				for n := range rapid.IntRange(0, 8).Draw(t, "runs") {
					text := rapid.StringMatching(`[A-Za-zfilﬁ0-9 .,’áq̃-]{1,12}`).Draw(t, "text")
					r := typeset.Run{Widen: rapid.SampledFrom([]int32{0, 0, 1500, -1500, 777}).Draw(t, "widen"),
						Glyphs: rapid.SampledFrom(faces).Draw(t, "face").Shape(text, fonts.Feature(rapid.IntRange(0, 15).Draw(t, "feature"))),
						Size:   size, Space: n > 0 && rapid.Bool().Draw(t, "space"),
						X: x,
					}
					if rapid.IntRange(0, 3).Draw(t, "odd") == 0 {
						r.Size = length.Length(rapid.Int64Range(1<<16, 1<<23).Draw(t, "own size"))
						r.Track = length.Length(rapid.Int64Range(-1<<16, 1<<18).Draw(t, "track"))
						r.Rise = length.Length(rapid.Int64Range(-1<<19, 1<<19).Draw(t, "rise"))
					}
					x += r.Width() + length.Length(rapid.Int64Range(-1<<20, 1<<22).Draw(t, "gap"))
					if rapid.IntRange(0, 20).Draw(t, "far") == 0 {
						x += 1 << 29
					}
					line.Runs = append(line.Runs, r)
				}
				page.Lines = append(page.Lines, line)
			}
			l.Pages = append(l.Pages, page)
		}
		l.Bleed = length.Length(rapid.Int64Range(0, 1<<20).Draw(t, "bleed"))
		l.Setting.BleedBack = rapid.Bool().Draw(t, "bleed at the back")
		if err := compare(l, open(t, write(t, l, Options{}))); err != nil {
			t.Fatal(err)
		}
	})
}

// TestWidths: the widths in the file are those of the face, to a thousandth of
// the thousandth of an em in which they are given.
func TestWidths(t *testing.T) {
	styles(t, func(t *testing.T, s layouttest.Style) {
		l := set(t, sample, s)
		ctx := open(t, write(t, l, Options{}))
		page, _, _, err := ctx.PageDict(1, false)
		if err != nil {
			t.Fatal(err)
		}
		widths, err := widthsOf(ctx, page)
		if err != nil {
			t.Fatal(err)
		}
		face := l.Pages[0].Lines[0].Runs[0].Glyphs.Face // the first to be used: F1
		if len(widths["F1"]) < 40 {
			t.Fatalf("only %d widths", len(widths["F1"]))
		}
		for g, w := range widths["F1"] {
			if want := float64(face.Advance(g)) * 1000 / float64(face.Upem); math.Abs(w-want) > 0.0005001 {
				t.Errorf("glyph %d: %v, want %v", g, w, want)
			}
		}
	})
}
