package preflight

// Severity says what a finding means for the file.
type Severity uint8

const (
	Look  Severity = iota // a person should look; a printer may take it
	Stops                 // a printer refuses it, or prints it wrong
)

func (s Severity) String() string { return [...]string{"look", "stops"}[s] }

// MarshalText writes s as String does.
func (s Severity) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// Code is a kind of finding. Its name is stable.
type Code struct {
	Name     string   `json:"code"`
	Severity Severity `json:"severity"`
	What     string   `json:"what"`
	Mend     string   `json:"mend"`
	Clause   string   `json:"clause"` // by which it is wrong
}

const (
	common = "common practice"
	iso    = "ISO 32000-1, "
	pdfx   = "ISO 15930-4, " // clauses from memory
)

// codes are all kinds of findings: those of the file, of what it claims, of
// its pages, and of what is on them.
var codes = []Code{
	{"damaged", Stops, "the file is damaged", "write it again, and send it unchanged", iso + "7.5"},
	{"encrypted", Stops, "the file is protected by a password", "write it without protection", iso + "7.6; " + pdfx + "6.11"},
	{"too-large", Stops, "the file asks for more than any book needs", "write it again from the program that made it", common},
	{"scripts", Stops, "the file does something by itself: a script or an action", "write it for print, without forms and actions", pdfx + "6.12"},
	{"attachments", Stops, "other files are inside the file", "write it without attachments", pdfx + "6.13"},
	{"form", Stops, "the file has a form to fill in", "write it for print, without forms", pdfx + "6.12"},
	{"layers", Look, "the file has layers, which can be shown and hidden", "write it with what is to be printed alone", iso + "8.11"},

	{"pages-none", Stops, "the file has no pages", "write it again", iso + "7.7.3"},
	{"pages-few", Stops, "the book has too few pages", "add pages at the back, or set it with more air", common},
	{"pages-many", Stops, "the book has too many pages", "set it tighter or at a larger trim; bodkin copyfit finds how", common},
	{"pages-multiple", Stops, "the number of pages is not a multiple that the printer binds", "add blank pages at the end", common},
	{"pages-odd", Look, "the number of pages is odd: the last leaf has one page", "add a blank page at the end", common},
	{"pages-blank", Look, "several blank pages follow each other inside the book", "see whether they are meant", common},

	{"standard-none", Look, "the file does not say that it keeps to PDF/X", "ask the printer whether a plain PDF will do", common},
	{"standard-version", Stops, "it claims PDF/X-1a:2003, and is of a later version than PDF 1.4", "write it as PDF 1.4", pdfx + "6.2"},
	{"standard-intent", Stops, "it claims PDF/X, and has no output intent for it", "write it with an output intent, GTS_PDFX", pdfx + "6.2.2"},
	{"standard-dates", Stops, "it claims PDF/X, and does not say when it was made and changed", "write it with both dates", pdfx + "6.8"},
	{"standard-title", Stops, "it claims PDF/X, and has no title", "give it a title", pdfx + "6.8"},
	{"standard-trapped", Stops, "it claims PDF/X, and does not say whether it is trapped", "write it with Trapped true or false", pdfx + "6.7"},
	{"standard-identifier", Stops, "it claims PDF/X, and has no identifier", "write it with an identifier in its trailer", pdfx + "6.6"},
	{"standard-packing", Stops, "it claims PDF/X, and is packed by a method that is not allowed (LZW)", "write it packed by Flate", pdfx + "6.10"},
	{"standard-metadata", Look, "what the metadata says is not what the document information says", "write both anew from one source", pdfx + "6.8"},

	{"sizes-mixed", Stops, "the pages are not all of one size", "write all pages at one trim", common},
	{"trim-differs", Stops, "the pages are not of the trim that was ordered", "set the book at that trim, and print it at 100 %", common},
	{"trim-unsaid", Look, "the pages do not say where they are cut: no TrimBox", "see that the page is as large as the trim, or write the file with a TrimBox", iso + "14.11.2; " + pdfx + "6.9"},
	{"boxes-crossed", Stops, "a page box reaches outside the one around it", "write the file again", iso + "14.11.2; " + pdfx + "6.9"},
	{"bleed-missing", Stops, "a picture or a colour ends at the edge where the page is cut, without bleed", "let it reach past the trim by the bleed, and write the pages with it", common},
	{"bleed-narrow", Stops, "the bleed is narrower than the printer asks", "write the file with the printer's bleed", common},
	{"page-turned", Stops, "the page is turned", "write it upright", iso + "7.7.3.3"},
	{"page-scaled", Stops, "the page has a unit of its own, which printers do not heed", "write it at 100 %", iso + "14.11.2"},
	{"notes-on-page", Stops, "notes, links or fields lie on the page", "write it for print, without comments and links", pdfx + "6.12"},

	{"text-cut", Stops, "text reaches past the trim and will be cut", "move it inside, or set wider margins", common},
	{"text-in-safety", Stops, "text is nearer to the trim than the printer allows", "set wider margins", common},
	{"text-in-back", Look, "text is nearer to the binding than the printer asks", "set a wider back margin", common},
	{"ink-in-safety", Look, "a line or a picture comes near the trim and does not bleed", "move it inside, or let it bleed", common},
	{"font-missing", Stops, "a face is not in the file", "write the file with all faces embedded", iso + "9.9; " + pdfx + "6.4"},
	{"font-drawn", Look, "a face is made of drawings (Type 3), which print coarsely", "use a TrueType or OpenType face", iso + "9.6.5"},
	{"font-unmapped", Look, "a face does not say which letters its glyphs stand for", "write the file so that its text can be searched", iso + "9.10"},
	{"type-small", Look, "type is smaller than can be read with ease", "set it larger", common},
	{"line-thin", Look, "a line is thinner than prints well", "make it a quarter of a point or more", common},

	{"colour-rgb", Stops, "there is colour for screens: RGB", "turn it into gray or CMYK", pdfx + "6.3"},
	{"colour-managed", Look, "colour is given by a profile (ICC, Lab, Cal)", "turn it into gray or CMYK", pdfx + "6.3"},
	{"colour-spot", Look, "there is a spot colour, which needs a plate of its own", "turn it into gray or CMYK, unless the printer mixes it", iso + "8.6.6"},
	{"black-rich", Look, "text is black by several inks, which never meet exactly", "set it in black alone", common},
	{"ink-heavy", Look, "the inks lie thicker than paper dries: over 300 %", "use less ink in the darkest places", common},
	{"transparency", Stops, "something is transparent", "flatten it", pdfx + "6.5"},
	{"transparency-group", Look, "the page is a group of transparent things, though none may be", "flatten it, if the printer refuses it", pdfx + "6.5"},
	{"picture-coarse", Look, "a picture has fewer pixels to the inch than the printer asks", "use a larger original, or print it smaller", common},
	{"picture-poor", Stops, "a picture has less than half the pixels to the inch that the printer asks", "use a larger original, or print it smaller", common},
	{"content-damaged", Stops, "what is on the page cannot be read to its end", "write the file again", iso + "7.8.2"},
}

// Codes returns all kinds of findings.
func Codes() []Code { return append([]Code(nil), codes...) }

func codeOf(name string) *Code {
	for i := range codes {
		if codes[i].Name == name {
			return &codes[i]
		}
	}
	panic("no code " + name) // a slip in this package, which every test would meet
}
