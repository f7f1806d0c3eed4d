package markup

import (
	"fmt"
	"strings"
	"testing"
)

// shapeOf writes blocks on one line, so that a table can hold them.
func shapeOf(bs []Block) string {
	var of []string
	for _, b := range bs {
		switch b := b.(type) {
		case *Paragraph:
			name := []string{"p", "dateline", "by", "dear", "signed", "address"}[b.Use]
			of = append(of, name+"("+lineShape(b.Text)+")")
		case *Heading:
			of = append(of, fmt.Sprintf("h%d(%s)", b.Level, Plain(b.Text)))
		case *Quotation:
			of = append(of, []string{"quote", "motto", "letter"}[b.Form]+"["+shapeOf(b.Blocks)+"]")
		case *List:
			of = append(of, "list")
		case *SceneBreak:
			of = append(of, "break")
		case *Verbatim:
			of = append(of, "verbatim")
		case *Verse:
			var stanzas []string
			for _, s := range b.Stanzas {
				var lines []string
				for _, l := range s {
					lines = append(lines, strings.Repeat("_", l.Indent)+lineShape(l.Text))
				}
				stanzas = append(stanzas, strings.Join(lines, "/"))
			}
			of = append(of, "verse("+strings.Join(stanzas, " // ")+")")
		case *Sign:
			var lines []string
			for _, l := range b.Lines {
				lines = append(lines, lineShape(l))
			}
			of = append(of, "sign("+strings.Join(lines, "/")+")")
		case *Table:
			of = append(of, "table")
		case *Picture:
			of = append(of, "picture")
		}
	}
	return strings.Join(of, " ")
}

func lineShape(text []Inline) string {
	var s string
	for _, in := range text {
		switch {
		case in.Break:
			s += "/"
		case in.Note > 0:
			s += fmt.Sprintf("[%d]", in.Note)
		default:
			s += in.Text
		}
	}
	return s
}

type shapeCase struct{ name, text, want string }

func checkShapes(t *testing.T, lang string, cases []shapeCase) {
	t.Helper()
	for _, c := range cases {
		b, err := load(t, lang, c.text)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if got := shapeOf(b.Sections[0].Blocks); got != c.want {
			t.Errorf("%s: %q\n got %s\nwant %s", c.name, c.text, got, c.want)
		}
	}
}

func TestVerse(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"a fence", "x\n\n```verse\na\nb\n```", "p(x) verse(a/b)"},
		{"tildes, capitals", "~~~ Verse\na\n~~~", "verse(a)"},
		{"stanzas and indents", "```verse\n\n  a\n    b\n\n\n   c\n\td\n\n```\n\ny", "verse(a/__b // _c/__d) p(y)"},
		{"inlines", "```verse\n*a\nb* \"c\nd\"  \ne\\\nf<!-- r -->\n```", "verse(a/b “c/d”/e/f)"},
		{"marks that begin blocks", "```verse\n# a\n- b\n> c\n1. d\n```", "verse(# a/- b/> c/1. d)"},
		{"a note", "```verse\na[^1]\nb\n```\n\n[^1]: n", "verse(a[1]/b)"},
		{"attribution", "```verse\na\nb\n-- C\n```", "quote[verse(a/b) by(— C)]"},
		{"after an empty line", "```verse\na\n\n--- *C*, 1871\n```", "quote[verse(a) by(— C, 1871)]"},
		{"dialogue", "```verse\n-- a\n-- b\n```", "verse(— a/— b)"},
		{"a longer fence", "````verse\n```\n````", "verse(```)"},
		{"inside a quotation", "> ```verse\n> a\n>   b\n> ```", "verse(a/__b)"},
		{"a quotation", "> a\\\n> b  \n> c", "verse(a/b/c)"},
		{"its stanzas", "> a\\\n>   b\n>\n> c\\\n> d", "verse(a/__b // c/d)"},
		{"its attribution", "> a\\\n> b\n>\n> -- C", "quote[verse(a/b) by(— C)]"},
		{"its attribution behind a line end", "> a\\\n> b\\\n> -- C", "quote[verse(a/b) by(— C)]"},
		{"a paragraph that runs on", "> a\\\n> b\n> c", "quote[p(a/b c)]"},
		{"a paragraph without", "> a\\\n> b\n>\n> c", "quote[p(a/b) p(c)]"},
		{"one line", "> a", "quote[p(a)]"},
	})
	b, err := load(t, "en", "x\n\n```verse {lang=fr}\na\n  b\n```")
	if err != nil {
		t.Fatal(err)
	}
	v := b.Sections[0].Blocks[1].(*Verse)
	if l := v.Stanzas[0][1]; v.Pos.Line != 3 || l.Text[0].Pos.Line != 5 || l.Text[0].Lang != "fr" {
		t.Errorf("%v %+v", v.Pos, l)
	}
}

func TestSigns(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"lines", "```sign\nNO ENTRY\n  by *order*\n```", "sign(NO ENTRY/by order)"},
		{"an empty line", "```sign\n\nA\n\n\nB\n\n```", "sign(A//B)"},
		{"in a list", "- x\n\n  ```sign\n  A\n  ```", "list"},
	})
}

func TestMottoes(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"after a heading", "# A\n\n> m\n>\n> -- N\n\nx", "motto[p(m) by(— N)] p(x)"},
		{"two", "# A\n\n> m\n\n<!-- r -->\n\n> n\n\nx", "motto[p(m)] motto[p(n)] p(x)"},
		{"verse", "# A\n\n> m\\\n> n\n\nx", "motto[verse(m/n)] p(x)"},
		{"of a part", "# Part One\n\n> m", "motto[p(m)]"},
		{"a chapter that is one", "# A\n\n> m\n\n> n", "quote[p(m)] quote[p(n)]"},
		{"later on", "# A\n\nx\n\n> m", "p(x) quote[p(m)]"},
		{"without a heading", "> m\n\nx", "quote[p(m)] p(x)"},
		{"a fence", "x\n\n```motto\nm\nn\n\n-- N\n```", "p(x) motto[p(m n) by(— N)]"},
		{"verse in a fence", "```motto\nm\\\nn\n```\n\nx", "motto[verse(m/n)] p(x)"},
		{"attribution with an en dash", "x\n\n> m\n>\n> – N", "p(x) quote[p(m) by(– N)]"},
		{"behind a line end", "x\n\n> m\\\n> -- N", "p(x) quote[p(m) by(— N)]"},
		{"nothing to attribute", "x\n\n> -- N", "p(x) quote[p(– N)]"},
		{"dialogue", "x\n\n> — m\n>\n> — n", "p(x) quote[p(— m) p(— n)]"},
	})
}

func TestDatelines(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"after a heading", "# A\n\n*Harwich, March*\n\nx", "dateline(Harwich, March) p(x)"},
		{"after a motto", "# A\n\n> m\n\n*Harwich*\n\nx", "motto[p(m)] dateline(Harwich) p(x)"},
		{"after a motto in a fence", "# A\n\n```motto\nm\n```\n\n_Harwich_[^1]\n\nx\n\n[^1]: y", "motto[p(m)] dateline(Harwich[1]) p(x)"},
		{"a date with a point", "# A\n\n*3 March 1871.*\n\nx", "dateline(3 March 1871.) p(x)"},
		{"a sentence", "# A\n\n*Nobody came.*\n\nx", "p(Nobody came.) p(x)"},
		{"a question", "# A\n\n*Who was 3?*\n\nx", "p(Who was 3?) p(x)"},
		{"speech", "# A\n\n*\"Come\"*\n\nx", "p(“Come”) p(x)"},
		{"two lines", "# A\n\n*Harwich,\nMarch*\n\nx", "p(Harwich, March) p(x)"},
		{"in part", "# A\n\n*Harwich*, March\n\nx", "p(Harwich, March) p(x)"},
		{"all there is", "# A\n\n*Harwich*", "p(Harwich)"},
		{"later on", "# A\n\nx\n\n*Harwich*\n\ny", "p(x) p(Harwich) p(y)"},
		{"without a heading", "*Harwich*\n\nx", "p(Harwich) p(x)"},
	})
}

func TestLetters(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"whole", "```letter\nThe Office,\\\n3 March\n\nDear Keeper,\n\nthe light\nis out.\n\nYours truly,\\\nT. Clerk\n```",
			"letter[address(The Office,/3 March) dear(Dear Keeper,) p(the light is out.) signed(Yours truly,/T. Clerk)]"},
		{"two at the end", "```letter\nDear K.:\n\nx.\n\nYours,\n\nT. C.\n```", "letter[dear(Dear K.:) p(x.) signed(Yours,) signed(T. C.)]"},
		{"postscript", "```letter\nDear K,\n\nx.\n\nT. Clerk, Esq.\n\nP.S. Burn this.\n```", "letter[dear(Dear K,) p(x.) signed(T. Clerk, Esq.) p(P.S. Burn this.)]"},
		{"no frame", "```letter\nThe light is out.\n\nNobody came.\n```", "letter[p(The light is out.) p(Nobody came.)]"},
		{"one paragraph", "```letter\nCome home\n```", "letter[p(Come home)]"},
		{"a document", "```letter\nHarbour Office, 3 March\n\nThe light is out, and the keeper has not been seen since.\n```",
			"letter[address(Harbour Office, 3 March) p(The light is out, and the keeper has not been seen since.)]"},
		{"blocks", "```letter\nDear K,\n\n- a\n- b\n\n> c\n\n***\n\n~~~\nd\n~~~\n\nTom\n```", "letter[dear(Dear K,) list quote[p(c)] break verbatim signed(Tom)]"},
		{"a salutation alone", "```letter\nDear K,\n```", "letter[p(Dear K,)]"},
		{"sentences at the end", "```letter\nDear K,\n\nx.\n\nBurn this!\n```", "letter[dear(Dear K,) p(x.) p(Burn this!)]"},
		{"inside a list", "1. x\n\n   ```letter\n   Dear K,\n\n   x.\n   ```\n\ny", "list p(y)"},
	})
}

// What is not a form of ours, or is not whole.
func TestFences(t *testing.T) {
	checkShapes(t, "en", []shapeCase{
		{"another word", "```text\nx\n```", "verbatim"},
		{"no word", "```\nverse\n```", "verbatim"},
		{"inline", "```verse``` x", "p(verse x)"},
	})
	for _, c := range [][2]string{
		{"x\n\n```\ny\n", "a.md:3: the fence ``` is never closed, and all that follows would be taken for its text; write a line of ``` at its end"},
		{"x\n\n~~~~ text\n~~~\n", "a.md:3: the fence ~~~~ is never closed, and all that follows would be taken for its text; write a line of ~~~~ at its end"},
		{"x\n\n> ```\n> y\n\nz", "a.md:3: the fence ``` is never closed, and all that follows would be taken for its text; write a line of ``` at its end"},
		{"```verse\ny\n", "a.md:1: the fence ``` is never closed, and all that follows would be taken for its text; write a line of ``` at its end"},
		{"````letter\ny\n", "a.md:1: the fence ```` is never closed, and all that follows would be taken for its text; write a line of ```` at its end"},
		{"x\n\n```verses\ny\n```", `a.md:3: there is no form "verses" for what is between fences; did you mean "verse"?`},
		{"x\n\n```verse\n\n```", "a.md:3: there is nothing in this verse; write its lines, or take the fences away"},
		{"x\n\n```letter\n```", "a.md:3: there is nothing in this letter; write its lines, or take the fences away"},
		{"```letter\n![a](b.png)\n```", "a.md:2: a picture cannot stand inside a quotation, a list or a note; put it before or after, in a paragraph of its own"},
	} {
		_, err := load(t, "en", c[0])
		if err == nil {
			t.Errorf("%q: no error, want %s", c[0], c[1])
		} else if err.Error() != c[1] {
			t.Errorf("%q\n got %s\nwant %s", c[0], err, c[1])
		}
	}
}
