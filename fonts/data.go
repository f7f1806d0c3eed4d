package fonts

import "embed"

// Each family's folder holds static instances and the licence that travels with them.
//
//go:embed data
var data embed.FS

// embedded lists the families of the program. What is said of them here, so
// that a list of faces needs no file to be opened, is checked by the tests.
var embedded = []struct {
	name, folder, file  string
	styles              []Style
	smallCaps, oldStyle bool
}{
	{"Alegreya", "alegreya", "Alegreya", allStyles, true, true},
	{"Crimson Pro", "crimson-pro", "CrimsonPro", allStyles, false, true},
	{"EB Garamond", "eb-garamond", "EBGaramond", allStyles, true, true},
	{"Libre Baskerville", "libre-baskerville", "LibreBaskerville", allStyles, false, false},
	{"Libre Caslon Text", "libre-caslon-text", "LibreCaslonText", allStyles[:3], false, true}, // drawn without a bold italic
	{"Literata", "literata", "Literata", allStyles, true, true},
	{"Source Serif 4", "source-serif-4", "SourceSerif4", allStyles, true, true},
	{"Spectral", "spectral", "Spectral", allStyles, true, true},
}

var allStyles = []Style{Regular, Italic, Bold, BoldItalic}

var styleFiles = [...]string{
	Regular: "400Regular", Italic: "400Regular_Italic", Bold: "700Bold", BoldItalic: "700Bold_Italic",
}

const licenceOFL = "SIL OFL 1.1"

// Embedded is the library of the faces that come with the program. Nothing is
// read until a face is asked for.
func Embedded() *Library {
	l := &Library{families: make(map[string]*family, len(embedded))}
	for _, e := range embedded {
		fam := &family{
			info: Family{
				Name: e.name, Styles: e.styles, Embedded: true, Licence: licenceOFL,
				SmallCaps: e.smallCaps, OldStyle: e.oldStyle,
			},
			licence: func() string { return mustRead("data/" + e.folder + "/OFL.txt") },
		}
		for _, style := range e.styles {
			fam.faces[style] = &entry{load: func() (*Face, error) {
				file := "data/" + e.folder + "/" + e.file + "_" + styleFiles[style] + ".ttf"
				f, err := newFace([]byte(mustRead(file)))
				if err != nil {
					return nil, err
				}
				// Some name tables call the instance by another name.
				f.Family, f.Style = e.name, style
				f.Flags |= flagSerif // all of them; few say so themselves
				return f, nil
			}}
		}
		l.families[e.name] = fam
	}
	return l
}

// mustRead reads a file that go:embed has put into the program.
func mustRead(name string) string {
	b, err := data.ReadFile(name)
	if err != nil {
		panic(err)
	}
	return string(b)
}
