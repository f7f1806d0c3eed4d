package fonts

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
)

// need skips a test whose outside help is not there; on the build machine it must be.
func need(t testing.TB, err error, what string) {
	t.Helper()
	switch {
	case err == nil:
	case os.Getenv("CI") == "true":
		t.Fatalf("needs %s: %v", what, err)
	default:
		t.Skipf("needs %s: %v", what, err)
	}
}

// distinctWords are the words of a text, divided at white space, each once and
// in order, together with what typographer's marks make of them.
func distinctWords(text string) []string {
	marks := strings.NewReplacer("'", "’", "--", "—", "...", "…")
	seen := map[string]bool{}
	var out []string
	add := func(w string) {
		if w != "" && !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	for w := range strings.FieldsSeq(text) {
		if !utf8.ValidString(w) {
			continue
		}
		add(w)
		m := marks.Replace(w)
		if strings.HasPrefix(m, `"`) {
			m = "“" + m[1:]
		}
		add(strings.ReplaceAll(m, `"`, "”"))
	}
	return out
}

// opticks is Newton's Opticks as the Go distribution has it, for its own tests.
func opticks(t testing.TB) []string {
	b, err := os.ReadFile(filepath.Join(runtime.GOROOT(), "src/testdata/Isaac.Newton-Opticks.txt"))
	need(t, err, "the texts of the Go distribution")
	return distinctWords(string(b))
}

// tomSawyer is the novel among the test data of a module of the build list.
func tomSawyer(t testing.TB) []string {
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/klauspost/compress").Output()
	need(t, err, "the module github.com/klauspost/compress")
	b, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "testdata/Mark.Twain-Tom.Sawyer.txt"))
	need(t, err, "Mark.Twain-Tom.Sawyer.txt")
	seen := map[string]bool{}
	var out []string
	for w := range strings.FieldsSeq(string(b)) {
		if !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}

// hbShape has HarfBuzz itself shape each word in the font file.
func hbShape(t *testing.T, file, wordFile, features string) [][]Glyph {
	t.Helper()
	args := []string{"--text-file=" + wordFile, "--utf8-clusters", "--no-glyph-names", "--show-flags",
		"--language=und", "--output-format=json", "--features=" + features, file}
	cmd := exec.Command("hb-shape", args...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("hb-shape: %v", err)
	}
	var runs [][]Glyph
	for line := range strings.Lines(string(out)) {
		var glyphs []struct {
			G, Cl, Ax, Ay, Dx, Dy, Fl int
		}
		if err := json.Unmarshal([]byte(line), &glyphs); err != nil {
			t.Fatal(err)
		}
		run := make([]Glyph, len(glyphs))
		for i, g := range glyphs {
			run[i] = Glyph{ID: GID(g.G), Cluster: uint32(g.Cl), Advance: int32(g.Ax), DX: int32(g.Dx), DY: int32(g.Dy), Unsafe: g.Fl&1 != 0}
		}
		runs = append(runs, run)
	}
	return runs
}

func writeWords(t *testing.T, words []string) string {
	name := filepath.Join(t.TempDir(), "words")
	if err := os.WriteFile(name, []byte(strings.Join(words, "\n")+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	return name
}

// Every distinct word of the Opticks in every face: glyphs, clusters, advances,
// offsets and break flags are those of HarfBuzz's own hb-shape.
func TestShapeEqualsHarfBuzz(t *testing.T) {
	_, err := exec.LookPath("hb-shape")
	need(t, err, "hb-shape")
	words := opticks(t)
	// What the Opticks lacks: ligatures with every letter, figures, accents, Greek, no-break space.
	words = append(words, "office", "fjord", "Afﬂiction", "ffb", "fífl", "Thirty", "Quay", "0123456789", "1/2", "1⁄2",
		"naïve", "Čapek", "Ångström", "Łódź", "ﬁn", "e\u0301tude", "x\u0301\u0323", "co\u00ADop", "a\u00A0b", "αβγ", "Дом", "’Twas", "«Ça!»")
	file := writeWords(t, words)
	type setting struct {
		features string
		feat     Feature
	}
	plain := []setting{{"", 0}}
	all := append(plain, setting{"smcp", SmallCaps}, setting{"onum,pnum", OldStyle}, setting{"smcp,c2sc,lnum,pnum", AllSmallCaps | Lining},
		setting{"sups", Superior}, setting{"sinf,subs", Inferior})
	lib := Embedded()
	for _, e := range embedded {
		for _, style := range e.styles {
			settings := plain
			if style == Regular {
				settings = all
			}
			t.Run(fmt.Sprint(e.name, " ", style), func(t *testing.T) {
				t.Parallel()
				face, err := lib.Face(e.name, style)
				if err != nil {
					t.Fatal(err)
				}
				for _, s := range settings {
					want := hbShape(t, filepath.Join("data", e.folder, e.file+"_"+styleFiles[style]+".ttf"), file, s.features)
					if len(want) != len(words) {
						t.Fatalf("hb-shape shaped %d of %d words", len(want), len(words))
					}
					differ := 0
					for i, w := range words {
						run := face.Shape(w, s.feat)
						if slices.Equal(run.Glyphs, want[i]) {
							continue
						}
						if differ++; differ <= 5 {
							t.Errorf("%s %q:\n%s", s.features, w, cmp.Diff(want[i], run.Glyphs))
						}
					}
					if differ > 0 {
						t.Errorf("%d of %d words differ with features %q", differ, len(words), s.features)
					}
				}
			})
		}
	}
}

// The user's fonts too: OpenType/CFF, and an old one without GPOS and GDEF,
// where marks are placed by their ink.
func TestShapeEqualsHarfBuzzForUserFonts(t *testing.T) {
	_, err := exec.LookPath("hb-shape")
	need(t, err, "hb-shape")
	dir := t.TempDir()
	write(t, dir, "old.ttf", patched(t, faceBytes(t, "spectral", "Spectral", Regular), func(tb map[string][]byte) {
		delete(tb, "GPOS")
		delete(tb, "GDEF")
	}))
	files := []string{filepath.Join(dir, "old.ttf")}
	if _, err := os.Stat(gyreFolder); err == nil {
		files = append(files, filepath.Join(gyreFolder, "texgyrepagella-italic.otf"), filepath.Join(gyreFolder, "texgyretermes-regular.otf"))
	}
	words := append(opticks(t), "x\u0301\u0323", "q\u0308", "e\u0301", "a\u0328\u0301", "office", "Ångström")
	wordFile := writeWords(t, words)
	for _, file := range files {
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		face, err := open(b)
		if err != nil {
			t.Fatal(err)
		}
		differ := 0
		for i, want := range hbShape(t, file, wordFile, "") {
			if got := face.Shape(words[i], 0).Glyphs; !slices.Equal(got, want) {
				if differ++; differ <= 5 {
					t.Errorf("%s %q:\n%s", file, words[i], cmp.Diff(want, got))
				}
			}
		}
		if differ > 0 {
			t.Errorf("%s: %d of %d words differ", file, differ, len(words))
		}
	}
}

// Kerning between letters whose classes come late in their tables, which
// go-text v0.3.3 to v0.3.5 lose. Advances as hb-shape 6.0.0 gives them.
func TestKerning(t *testing.T) {
	lib := Embedded()
	for _, test := range []struct {
		family string
		style  Style
		text   string
		want   []int32
	}{
		{"Libre Caslon Text", Bold, "steve", []int32{469, 406, 586, 608, 604}},
		{"Libre Caslon Text", Bold, "Team", []int32{689, 604, 585, 1008}},
		{"EB Garamond", Regular, "steve", []int32{323, 314, 390, 413, 390}},
		{"EB Garamond", Regular, "AVATAR", []int32{552, 542, 597, 585, 692, 713}},
	} {
		face, _ := lib.Face(test.family, test.style)
		var got []int32
		for _, g := range face.Shape(test.text, 0).Glyphs {
			got = append(got, g.Advance)
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%s %v %q: %v, want %v", test.family, test.style, test.text, got, test.want)
		}
	}
}

// Offsets whose division is called safe really give the same widths in two parts.
func TestWidthToSafe(t *testing.T) {
	lib := Embedded()
	for _, e := range embedded {
		face, err := lib.Face(e.name, Regular)
		if err != nil {
			t.Fatal(err)
		}
		words := opticks(t)
		safes := 0
		for _, w := range words[:2000] {
			run := face.Shape(w, 0)
			for at := range w {
				width, safe := run.WidthTo(at)
				if !safe {
					continue
				}
				safes++
				a, b := face.Shape(w[:at], 0), face.Shape(w[at:], 0)
				if a.Width != width || a.Width+b.Width != run.Width {
					t.Errorf("%s: %q at %d: %d + %d, whole %d, WidthTo %d", e.name, w, at, a.Width, b.Width, run.Width, width)
				}
			}
			if width, safe := run.WidthTo(len(w)); width != run.Width || !safe {
				t.Errorf("%q: WidthTo(end) = %d, %v", w, width, safe)
			}
		}
		if safes < 2000 {
			t.Errorf("%s: only %d safe places in 2000 words", e.name, safes)
		}
	}
}

func TestWidthToInsideLigature(t *testing.T) {
	face, _ := Embedded().Face("EB Garamond", Regular)
	run := face.Shape("office", 0)
	if len(run.Glyphs) != 4 {
		t.Fatalf("office has %d glyphs, want 4 with the ligature", len(run.Glyphs))
	}
	for at, want := range map[int]bool{0: true, 1: true, 2: false, 3: false, 4: true, 6: true} {
		if _, safe := run.WidthTo(at); safe != want {
			t.Errorf("WidthTo(%d) safe = %v, want %v", at, safe, want)
		}
	}
}

func TestShapeKeeps(t *testing.T) {
	face, _ := Embedded().Face("Literata", Italic)
	a := face.Shape("candle", 0)
	if b := face.Shape(strings.Clone("candle"), 0); a != b {
		t.Error("the second run is another one")
	}
	face.Shape("candle", SmallCaps)
	if empty := face.Shape("", 0); len(empty.Glyphs) != 0 || empty.Width != 0 || empty.Face != face {
		t.Errorf("empty text: %+v", empty)
	}
	if n := face.Shapings(); n != 3 {
		t.Errorf("Shapings() = %d, want 3", n)
	}
	if n := testing.AllocsPerRun(100, func() { face.Shape("candle", 0) }); n != 0 {
		t.Errorf("a kept run costs %v allocations", n)
	}
}

// Many goroutines on one face get the runs one goroutine gets.
func TestShapeConcurrent(t *testing.T) {
	words := opticks(t)[:3000]
	alone, _ := Embedded().Face("Spectral", Regular)
	shared, _ := Embedded().Face("Spectral", Regular)
	var wg sync.WaitGroup
	for n := range 4 {
		wg.Go(func() {
			for i := range words {
				w := words[(i+n*500)%len(words)]
				if !slices.Equal(shared.Shape(w, 0).Glyphs, alone.Shape(w, 0).Glyphs) {
					t.Errorf("%q differs", w)
				}
			}
		})
	}
	wg.Wait()
	if shared.Shapings() != int64(len(words)) {
		t.Errorf("%d shapings of %d words", shared.Shapings(), len(words))
	}
}

func BenchmarkShapeNovelCold(b *testing.B) {
	words := tomSawyer(b)
	b.ReportAllocs()
	for b.Loop() {
		face, err := Embedded().Face("EB Garamond", Regular)
		if err != nil {
			b.Fatal(err)
		}
		for _, w := range words {
			face.Shape(w, 0)
		}
	}
	b.ReportMetric(float64(len(words)), "words")
}

func BenchmarkShapeKept(b *testing.B) {
	words := tomSawyer(b)
	face, _ := Embedded().Face("EB Garamond", Regular)
	for _, w := range words {
		face.Shape(w, 0)
	}
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		face.Shape(words[i], 0)
		if i++; i == len(words) {
			i = 0
		}
	}
}

func BenchmarkFace(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Embedded().Face("EB Garamond", Regular); err != nil {
			b.Fatal(err)
		}
	}
}
