package bookfile

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
	"github.com/pelletier/go-toml/v2"
	"pgregory.net/rapid"
)

// with returns the house setting of a book with keys changed, as in
// `size = "10pt"`.
func with(t testing.TB, path, keys string) typeset.Setting {
	t.Helper()
	f, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	s := f.House
	if err := toml.Unmarshal([]byte(keys), &s); err != nil {
		t.Fatal(err)
	}
	return s
}

const small = `
trim = "B-format"
size = "10.25pt"
margins.fore-edge = "0.6in"
`

func TestKeep(t *testing.T) {
	for _, c := range []struct{ what, text, keys, want string }{
		{"behind the house setting", "[book] # mine\nbody = ['a.md']\n\n[setting]\nsize = '11pt'   # as before\n# face = 'Literata'\n\n# The shop.\n[edition]\nink = 'black'\n", small,
			"[book] # mine\nbody = ['a.md']\n\n[setting]\nsize = '11pt'   # as before\n# face = 'Literata'\n\n[settings.kept]\ntrim    = \"B-format\"\nsize    = \"10.25pt\"\nmargins = { fore-edge = \"0.6in\" }\n\n# The shop.\n[edition]\nink = 'black'\n"},
		{"behind the other settings, with their line ends", "[book]\r\nbody = ['a.md']\r\n[settings.b]\r\n[settings.b.margins]\r\nhead = '1in'", "scene-break = \"\"\nhyphenate = false\nsink = 4",
			"[book]\r\nbody = ['a.md']\r\n[settings.b]\r\n[settings.b.margins]\r\nhead = '1in'\r\n\r\n[settings.kept]\r\nhyphenate   = false\r\nsink        = 4\r\nscene-break = \"\"\r\n"},
		{"a comment of the next table stays with it", "[book]\nbody = ['a.md']\n[setting]\n# For the hardcover.\n[editions.x]\n[settings.x]\n# Both.\n[edition]\n", "size = \"9pt\"",
			"[book]\nbody = ['a.md']\n[setting]\n# For the hardcover.\n[editions.x]\n[settings.x]\n\n[settings.kept]\nsize = \"9pt\"\n\n# Both.\n[edition]\n"},
		{"the house setting itself", "book.body = ['a.md']", "", "book.body = ['a.md']\n\n[settings.kept]\n"},
		{"beside dotted keys", "settings.a.size = '9pt'\nbook.body = ['a.md']\n", "size = \"10pt\"",
			"settings.a.size = '9pt'\nbook.body = ['a.md']\n\n[settings.kept]\nsize = \"10pt\"\n"},
		{"what cannot be seen in a text", "book.body = ['a.md']\n", "scene-break = \"\\\"\\\\\\t\u200b❦\"", "book.body = ['a.md']\n\n[settings.kept]\nscene-break = \"\\\"\\\\\\u0009\\u200B❦\"\n"},
		{"behind a byte order mark", "\ufeffbook.body = ['a.md']\n", "size = \"9pt\"", "\ufeffbook.body = ['a.md']\n\n[settings.kept]\nsize = \"9pt\"\n"},

		{"in the place of another", "[book]\nbody = ['a.md']\n[settings.kept]   # the small one\ntrim = '5x8in'   # B-format is dearer\n  face = 'Literata'  # the reader's wish\nindent = '9pt'\nmargins = {head = '1in'}\n# sink = 3\n\n[edition]\n", small,
			"[book]\nbody = ['a.md']\n[settings.kept]   # the small one\ntrim = \"B-format\"   # B-format is dearer\n  # the reader's wish\nmargins = { fore-edge = \"0.6in\" }\n# sink = 3\nsize = \"10.25pt\"\n\n[edition]\n"},
		{"what is said already is left as it is said", "[book]\nbody = ['a.md']\n[settings.kept]\nsize = '10.250pt'\nmargins={fore-edge='.6in', head='0.75in'}\n", small,
			"[book]\nbody = ['a.md']\n[settings.kept]\nsize = '10.250pt'\nmargins={fore-edge='.6in', head='0.75in'}\ntrim = \"B-format\"\n"},
		{"in a line", "[book]\nbody = ['a.md']\n[settings]\nkept = { size = '9pt' } # in a line\nb={}\n", small,
			"[book]\nbody = ['a.md']\n[settings]\nkept = { trim = \"B-format\", size = \"10.25pt\", margins = { fore-edge = \"0.6in\" } } # in a line\nb={}\n"},
		{"in a line of lines", "settings = { kept = { size = '9pt' }, b = { sink = 2 } }\nbook = { body = ['a.md'] }\n", "sink = 2",
			"settings = { kept = { sink = 2 }, b = { sink = 2 } }\nbook = { body = ['a.md'] }\n"},
		{"dotted", "book.body = ['a.md']\nsettings.kept.size = '9pt'\nsettings.kept.margins.head = '1in'\n[setting]\n", small,
			"book.body = ['a.md']\nsettings.kept.size = \"10.25pt\"\nsettings.kept.margins.fore-edge = \"0.6in\"\nsettings.kept.trim = \"B-format\"\n[setting]\n"},
		{"a table in it", "[book]\nbody = ['a.md']\n[settings.kept.margins]\nfoot = '1in' # room\n", small,
			"[book]\nbody = ['a.md']\n[settings.kept]\ntrim = \"B-format\"\nsize = \"10.25pt\"\n\n[settings.kept.margins]\n# room\nfore-edge = \"0.6in\"\n"},
	} {
		path := write(t, t.TempDir(), Name, c.text)
		s := with(t, path, c.keys)
		if strings.Contains(c.text, "kept") {
			err := Keep(path, "kept", s, false)
			if err == nil || !strings.Contains(err.Error(), "called kept already") || strings.Contains(err.Error(), "\n") {
				t.Errorf("%s: without leave: %v", c.what, err)
			}
		}
		if err := MayKeep(path, "kept", true); err != nil {
			t.Errorf("%s: %v", c.what, err)
		}
		if now, _ := os.ReadFile(path); string(now) != c.text {
			t.Errorf("%s: written without leave: %q", c.what, now)
		}
		if err := Keep(path, "kept", s, true); err != nil {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c.want, string(got)); diff != "" {
			t.Errorf("%s:\n%s", c.what, diff)
		}
		if f, err := Load(path); err != nil || f.Settings["kept"] != s {
			t.Errorf("%s: read back as %+v (%v)", c.what, f, err)
		}
	}
}

func TestKeepRefuses(t *testing.T) {
	const plain = "[book]\nbody = ['a.md']\n[settings.kept]\nsize = '9pt'\n"
	for _, c := range []struct {
		what, text, name string
		replace          bool
		want             string
	}{
		{"a name with a space", plain, "my own", false, `cannot be called "my own": write small letters`},
		{"no name", plain, "", false, `cannot be called ""`},
		{"a name with a point", plain, "a.b", true, `cannot be called "a.b"`},
		{"one that is there", plain, "kept", false, "book.toml:3: the book has a setting called kept already"},
		{"settings in one line", "book.body = ['a.md']\nsettings = { b = { sink = 3 } }\n", "kept", false, "book.toml:2: settings is a table in one line"},
		{"a table over several lines", "book.body = ['a.md']\n[settings]\nkept = { sink = 3,\n# why\n}\n", "kept", true, "book.toml:3: the table settings.kept runs over several lines"},
		{"a key in a line", "book.body = ['a.md']\nsettings = { kept.sink = 3 }\n", "kept", true, "book.toml:2: settings is a table in one line"},
		{"a book that cannot be read", "[book\n", "kept", false, "book.toml:1: "},
	} {
		path := write(t, t.TempDir(), Name, c.text)
		s := typeset.Default()
		s.Size = length.Value{Length: 13 * length.Point}
		err := Keep(path, c.name, s, c.replace)
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: got %v, want %q", c.what, err, c.want)
		}
		if err := MayKeep(path, c.name, c.replace); err == nil {
			t.Errorf("%s: it might be kept", c.what)
		}
		entries, _ := os.ReadDir(filepath.Dir(path))
		if now, _ := os.ReadFile(path); string(now) != c.text || len(entries) != 1 {
			t.Errorf("%s: it was written: %q, %v", c.what, now, entries)
		}
	}
	if err := Keep(write(t, t.TempDir(), "novel.md", "# One\n\nText.\n"), "kept", typeset.Default(), false); err == nil ||
		!strings.Contains(err.Error(), `single file, which has no settings`) {
		t.Errorf("a single file: %v", err)
	}
	if err := Keep(filepath.Join(t.TempDir(), "none"), "kept", typeset.Default(), false); err == nil {
		t.Error("no book at all")
	}
}

// A folder without a book.toml gets one that means the same book.
func TestKeepDescribesAFolder(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"10.md", "2 the \"stair\".md", "README.md"} {
		write(t, dir, name, "# One\n\nText.\n")
	}
	before, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	if err := MayKeep(dir, "small", false); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, Name)); err == nil {
		t.Error("a file was written before anything was kept")
	}
	s := with(t, dir, small)
	if err := Keep(dir, "small", s, false); err != nil {
		t.Fatal(err)
	}
	after, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	before.Source.Language = "" // which is the default's
	if diff := cmp.Diff(before.Source, after.Source); diff != "" || after.House != before.House || after.Settings["small"] != s {
		t.Errorf("the book is another: %s", diff)
	}
}

// What the press asks is not kept, and a length that was reckoned is, to the
// last unit.
func TestKeepExactLengths(t *testing.T) {
	path := write(t, t.TempDir(), Name, "book.body = ['a.md']\n")
	s := typeset.Default()
	s.Press = &typeset.Press{Multiple: 4}
	s.Trim.Width.Length += 1
	s.Margins.Back = typeset.Auto{Value: length.Value{Length: length.Inch/3 + 1, Unit: length.In}}
	if err := Keep(path, "kept", s, false); err != nil {
		t.Fatal(err)
	}
	f, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	got := f.Settings["kept"]
	if got.Trim.Size() != s.Trim.Size() || got.Margins.Back.Value.Length != s.Margins.Back.Value.Length || got.Press != nil {
		t.Errorf("got %v and %v", got.Trim, got.Margins.Back)
	}
}

func TestKeepKeepsPermissionsAndLinks(t *testing.T) {
	dir := t.TempDir()
	real := write(t, dir, "there/the-book.toml", "book.body = ['a.md']\nbook.series = 'series.toml'\n")
	write(t, dir, "here/series.toml", "[setting]\nsize = '12pt'\n") // beside the link
	if err := os.Chmod(real, 0o640); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "here", Name)
	if err := os.Symlink(real, link); err != nil {
		t.Skipf("no links here: %v", err)
	}
	s := with(t, filepath.Dir(link), "sink = 2")
	if err := Keep(filepath.Dir(link), "kept", s, false); err != nil {
		t.Fatal(err)
	}
	info, err := os.Lstat(link)
	if err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is gone: %v, %v", info, err)
	}
	text, err := os.ReadFile(real)
	if err != nil || !strings.HasSuffix(string(text), "[settings.kept]\nsink = 2\n") {
		t.Errorf("the file has %q (%v)", text, err)
	}
	if info, err := os.Stat(real); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the permissions are %v (%v)", info.Mode(), err)
	}
	if os.Getuid() == 0 {
		return // who may write to any file
	}
	if err := os.Chmod(real, 0o440); err != nil {
		t.Fatal(err)
	}
	if err := Keep(filepath.Dir(link), "more", s, false); err == nil || !strings.Contains(err.Error(), "cannot be written") {
		t.Errorf("a file that may not be written to: %v", err)
	}
}

// odd draws a book.toml as people and programs write them: with tables in any
// form and order, comments anywhere, and either line end.
func odd(t *rapid.T) string {
	eol := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "eol")
	note := func() string {
		return rapid.SampledFrom([]string{"", "", "", " # a note", "\t# [settings.no]"}).Draw(t, "note")
	}
	key := func(part bool) string {
		all := []string{`size = "10pt"`, `size="9.5pt"`, `face = 'Literata'`, `"indent" = "9pt"`, "sink = 3", "sink =4", `hyphenate = false`,
			`scene-break = "# \" ❦"`, "scene-break = '''\n* '''", `margins.head = "1in"`, `margins . foot = ".7in"`, `margins = { back = "auto", head = '0.8in' }`,
			`margins = {}`, `heads.verso = "title"`, `trim = "B-format"`, `numbers = "I"`}
		if part {
			all = []string{`head = "1in"`, `back="20mm" `, `fore-edge = "0.5in"`}
		}
		return rapid.SampledFrom(all).Draw(t, "key")
	}
	var b strings.Builder
	line := func(s string) { b.WriteString(strings.ReplaceAll(s, "\n", eol) + eol) }
	pad := func() {
		for range rapid.IntRange(0, 2).Draw(t, "pad") {
			line(rapid.SampledFrom([]string{"", "  ", "# size = \"8pt\"", "#[settings.kept]"}).Draw(t, "blank"))
		}
	}
	keys := func(before string, part bool) {
		for range rapid.IntRange(0, 3).Draw(t, "keys") {
			line(rapid.SampledFrom([]string{"", "  "}).Draw(t, "in") + before + key(part) + note())
			pad()
		}
	}
	switch rapid.IntRange(0, 4).Draw(t, "first") {
	case 0:
		keys("settings.kept.", false)
	case 1:
		keys("settings.other.", false)
	case 2:
		line(`settings = { kept = { ` + key(false) + `}, "x" = {} }` + note())
	}
	heads := rapid.SliceOfDistinct(rapid.SampledFrom([]string{"setting", "setting.margins", "settings", "settings.kept", "settings . kept.margins",
		"settings.other", `settings."the other"`, "edition"}), rapid.ID).Draw(t, "heads")
	book := rapid.IntRange(0, len(heads)).Draw(t, "book")
	for i := 0; i <= len(heads); i++ {
		pad()
		if i == book {
			line("[book]" + note())
			line(`body = ["a.md"]` + note())
		}
		if i == len(heads) {
			break
		}
		line(rapid.SampledFrom([]string{"", " "}).Draw(t, "in") + "[" + heads[i] + "]" + note())
		pad()
		switch heads[i] {
		case "settings":
			if rapid.Bool().Draw(t, "in a line") {
				line("kept = { " + key(false) + ", sink = 2 }" + note())
			} else {
				keys("kept.", false)
			}
		case "edition":
			line(`ink = "black"` + note())
		default:
			keys("", strings.HasSuffix(heads[i], "margins"))
		}
	}
	text := b.String()
	if rapid.Bool().Draw(t, "cut") {
		text = strings.TrimSuffix(text, eol)
	}
	return text
}

// anySetting draws a setting by changing some keys of another.
func anySetting(t *rapid.T, s typeset.Setting) typeset.Setting {
	for range rapid.IntRange(0, 6).Draw(t, "changes") {
		one := rapid.SampledFrom([]string{`size = "10pt"`, `size = "9.5pt"`, `face = "Literata"`, `indent = "9pt"`, `indent = "auto"`, `sink = 3`, `sink = 0`, `hyphenate = false`,
			`hyphenate = true`, `scene-break = ""`, `scene-break = "# \" ❦"`, `margins.head = "1in"`, `margins.foot = "0.75in"`, `margins.back = "13mm"`, `margins.back = "auto"`,
			`heads.recto = "chapter"`, `contents = { leaders = true, levels = 2 }`, `trim = "129x198mm"`, `trim = "B-format"`, `widen = "1.5%"`, `leading = "1.15 lines"`, `leading = "127.5%"`,
			`numbers = "Chapter One"`, `numbers = ""`, `pages = "fewest"`}).Draw(t, "change")
		if err := toml.Unmarshal([]byte(one), &s); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

// checkKept holds the file after Keep against what it was: the setting is
// there, everything else means the same, and every line that is no key of it
// is there in its order, byte for byte.
func checkKept(t interface {
	Errorf(string, ...any)
	Fatalf(string, ...any)
}, path, text string, before *File, s typeset.Setting) {
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v", err)
	}
	after, err := Load(path)
	if err != nil {
		t.Fatalf("%v, in\n%s", err, got)
	}
	if after.Settings["kept"] != s {
		t.Errorf("the setting is %s, in\n%s", cmp.Diff(s, after.Settings["kept"]), got)
	}
	delete(after.Settings, "kept")
	delete(before.Settings, "kept")
	after.Modified = before.Modified
	if !reflect.DeepEqual(before, after) {
		t.Errorf("something else is another: %s, in\n%s", cmp.Diff(before.House, after.House), got)
	}
	if n := strings.Count(text, "#"); strings.Count(string(got), "#") < n && !strings.Contains(text, `"# `) {
		t.Errorf("a comment is gone:\n%s\nof\n%s", got, text)
	}
	crlf := bytes.Count(got, []byte("\r\n"))
	if n := bytes.Count(got, []byte("\n")); strings.Contains(text, "\r\n") && crlf != n && !strings.Contains(strings.ReplaceAll(text, "\r\n", ""), "\n") {
		t.Errorf("of %d line ends, %d are those of the file:\n%q", n, crlf, got)
	}
}

func TestKeepAnyBook(t *testing.T) {
	dir := t.TempDir()
	kept, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		text := odd(t)
		path := filepath.Join(dir, Name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		before, err := Load(path)
		if err != nil {
			t.Skip(err) // keys that are there twice
		}
		from := before.House
		if old, found := before.Settings["kept"]; found && rapid.Bool().Draw(t, "from the old") {
			from = old
		}
		s := anySetting(t, from)
		if err := Keep(path, "kept", s, true); err != nil {
			refused++
			if now, _ := os.ReadFile(path); string(now) != text {
				t.Fatalf("refused (%v), and yet written:\n%s", err, now)
			}
			// The two forms that are left to the author.
			if !strings.Contains(text, "settings = {") && !strings.Contains(err.Error(), "runs over several lines") {
				t.Fatalf("%v, in\n%s", err, text)
			}
			return
		}
		kept++
		checkKept(t, path, text, before, s)
		if _, found := before.Settings["kept"]; found {
			return
		}
		// To keep it once more changes nothing.
		now, _ := os.ReadFile(path)
		if err := Keep(path, "kept", s, true); err != nil {
			t.Fatal(err)
		}
		if again, _ := os.ReadFile(path); !bytes.Equal(now, again) {
			t.Errorf("kept twice:\n%s\nand\n%s", now, again)
		}
	})
	if kept < refused || kept < 20 {
		t.Errorf("%d were kept and %d refused", kept, refused)
	}
}

// FuzzKeep tries any text that is a book: it is written as asked for, or it is
// left alone.
func FuzzKeep(f *testing.F) {
	for _, path := range []string{"../../../../testdata/tide-clerk/book.toml", "../../starter/book.toml"} {
		text, err := os.ReadFile(path)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(text))
	}
	f.Add("book.body=['a']\nsettings.kept.margins.head='1in'#\n[settings.kept.heads]")
	f.Add("[settings]\nkept={size='9pt'}\r\n[book]\nbody=['a']")
	f.Add("settings={kept.sink=3}\nbook={body=['a']}")
	dir := f.TempDir()
	path := filepath.Join(dir, Name)
	f.Fuzz(func(t *testing.T, text string) {
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		before, err := Load(path)
		if err != nil {
			return
		}
		s := before.House
		s.Size = length.Value{Length: 13 * length.Point}
		s.Margins.Head = length.Value{Length: 2 * length.Inch, Unit: length.In}
		if err := Keep(path, "kept", s, true); err != nil {
			if now, _ := os.ReadFile(path); string(now) != text || strings.Contains(err.Error(), "\n") {
				t.Fatalf("%q, and the file has %q", err, now)
			}
			return
		}
		got, _ := os.ReadFile(path)
		after, err := Load(path)
		if err != nil || after.Settings["kept"] != s || after.House != before.House {
			t.Fatalf("%q became %q (%v)", text, got, err)
		}
	})
}
