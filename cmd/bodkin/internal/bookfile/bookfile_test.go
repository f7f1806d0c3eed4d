package bookfile

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/typeset"
)

func write(t testing.TB, dir, name, text string) string {
	path := filepath.Join(dir, name)
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestVariationsTakeTheRestFromTheHouse(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "series.toml", "[setting]\nface = \"Alegreya\"\nindent = \"9pt\"\n")
	write(t, dir, "one/book.toml", `
[book]
body = ["*.md"]
series = "../series.toml"
[setting]
size = "10.5pt"
margins = { fore-edge = "13mm" }
[settings.roomy]
trim = "B-format"
leading = "1.2 lines"
hyphenate = false
`)
	f, err := Load(filepath.Join(dir, "one"))
	if err != nil {
		t.Fatal(err)
	}
	roomy, err := f.Setting("roomy")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ what, got, want string }{
		{"house trim", f.House.Trim.String(), "5x8in"},
		{"house face", f.House.Face, "Alegreya"},
		{"house size", f.House.Size.String(), "10.5pt"},
		{"house fore-edge", f.House.Margins.ForeEdge.String(), "13mm"},
		{"house head", f.House.Margins.Head.String(), "0.75in"},
		{"roomy trim", roomy.Trim.String(), "B-format"},
		{"roomy leading", roomy.Leading.String(), "1.2 lines"},
		{"roomy size", roomy.Size.String(), "10.5pt"},
		{"roomy indent", roomy.Indent.String(), "9pt"},
		{"roomy fore-edge", roomy.Margins.ForeEdge.String(), "13mm"},
	} {
		if c.got != c.want {
			t.Errorf("%s is %s, want %s", c.what, c.got, c.want)
		}
	}
	if roomy.Hyphenate || !f.House.Hyphenate {
		t.Errorf("hyphenate is %v in roomy and %v in the house", roomy.Hyphenate, f.House.Hyphenate)
	}
	if _, err := f.Setting("rommy"); err == nil || !strings.Contains(err.Error(), "roomy") {
		t.Errorf("an unknown setting gives %v", err)
	}
}

func TestFaultsNameTheLine(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"unknown key", "[book]\nbody = [\"a.md\"]\n[setting]\nmargin = {}\n", ":4: the key setting.margin is not known; did you mean margins?"},
		{"unknown margin", "[book]\nbody = [\"a.md\"]\n[setting.margins]\nspine = \"1in\"\n", ":4: the key setting.margins.spine is not known; known here are back"},
		{"unknown in a variation", "[book]\nbody = [\"a.md\"]\n[settings.x]\nsizze = \"9pt\"\n", ":4: the key settings.x.sizze is not known; did you mean size?"},
		{"no unit", "[book]\nbody = [\"a.md\"]\n[setting]\nsize = \"11\"\n", ":4: setting.size: length \"11\" has no unit"},
		{"bad trim", "[book]\nbody = [\"a.md\"]\n[setting]\ntrim = \"A9\"\n", ":4: setting.trim: trim \"A9\" is neither"},
		{"bad choice", "[book]\nbody = [\"a.md\"]\n[setting]\nfolios = \"top\"\n", "foot-outer"},
		{"bad leading in a variation", "[book]\nbody = [\"a.md\"]\n[settings.x]\nleading = \"loose\"\n", ":4: "},
		{"a number for a length", "[book]\nbody = [\"a.md\"]\n[setting]\nsize = 11\n", ":4: "},
		{"unknown in an edition", "[book]\nbody = [\"a.md\"]\n[edition]\nprice = 9\n", ":4: the key edition.price is not known"},
		{"unknown in editions", "[book]\nbody = [\"a.md\"]\n[settings.x]\n[editions.x]\nstok = \"y\"\n", ":5: the key editions.x.stok is not known; did you mean stock?"},
		{"an edition of no setting", "[book]\nbody = [\"a.md\"]\n[editions.x]\n", ":3: [editions.x] is for a setting that there is not: write [settings.x]"},
		{"a price with a sign", "[book]\nbody = [\"a.md\"]\n[edition]\nlist = \"$9\"\n", ":4: edition.list: \"$9\" is not a plain number"},
		{"a printer that is no name", "[book]\nbody = [\"a.md\"]\nprinter = 3\n", ":3: book.printer takes the name of a file"},
		{"syntax", "[book\n", ":1: "},
		{"no body", "[book]\ntitle = \"x\"\n", "no body"},
		{"no series", "[book]\nbody = [\"a.md\"]\nseries = \"../none.toml\"\n", "none.toml: "},
	} {
		path := write(t, t.TempDir(), Name, c.text)
		_, err := Load(path)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q in it", c.name, err, c.want)
		} else if strings.Contains(err.Error(), "\n") || !strings.Contains(err.Error(), Name) {
			t.Errorf("%s: not one line with the file's name: %q", c.name, err)
		}
	}
}

// What an edition leaves out is that of the book; a price keeps its digits.
func TestEditionsTakeTheRestFromTheBook(t *testing.T) {
	dir := t.TempDir()
	path := write(t, dir, Name, `
[book]
body = ["*.md"]
printer = ["terms/a.toml", "b.toml"]
[settings.roomy]
[settings.plain]
[edition]
stock = "cream"
binding = "perfect"
list = 13.90
[editions.roomy]
binding = "case"
list = "24.99"
`)
	f, err := Load(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Printers) != 2 || f.Printers[0] != filepath.Join(dir, "terms", "a.toml") || f.Printers[1] != filepath.Join(dir, "b.toml") {
		t.Errorf("the printers are %q", f.Printers)
	}
	for name, want := range map[string][4]string{
		"": {"cream", "perfect", "", "13.90"}, "plain": {"cream", "perfect", "", "13.90"}, "roomy": {"cream", "case", "", "24.99"},
	} {
		e := f.EditionOf(name)
		if got := [4]string{e.Stock, e.Binding, e.Ink, e.List.String()}; got != want {
			t.Errorf("the edition of %q is %q, want %q", name, got, want)
		}
	}
}

func TestPlainFolderHasTheDefaults(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "1.md", "# One\n\nText.\n")
	f, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	if f.House != typeset.Default() || len(f.Source.Body) != 1 {
		t.Errorf("got %+v", f)
	}
}

func FuzzBook(f *testing.F) {
	demo, err := os.ReadFile("../../../../testdata/tide-clerk/book.toml")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(string(demo))
	f.Add("[book]\nbody=['a']\n[settings.x.margins]\nback='auto'\n[settings]\ny={size='9pt'}")
	f.Add("book.body=['a']\nsettings.x=1")
	f.Fuzz(func(t *testing.T, text string) {
		path := write(t, t.TempDir(), Name, text)
		file, err := Load(path)
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("the message has more than one line: %q", err)
			}
			return
		}
		for name := range file.Settings {
			if _, err := file.Setting(name); err != nil {
				t.Errorf("setting %q: %v", name, err)
			}
		}
	})
}
