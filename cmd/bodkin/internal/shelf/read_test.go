package shelf

import (
	"bytes"
	"encoding/csv"
	"strings"
	"testing"

	"bodkin/typeset/length"
)

// The same two books, as different people and spreadsheets write them.
func TestReadTheSame(t *testing.T) {
	const inch = length.Inch
	for name, text := range map[string]string{
		"plain":            "title,genre,binding,height,width,unit,pages,thickness\nSalt,mystery,paperback,8,5.25,in,300,0.75\nBrass,mystery,case,8.25,5.25,in,,\n",
		"another order":    "Width,Height,Unit,Binding,Note,Category,Spine,Page count\n5.25,8,in,pb,Salt,mystery,3/4,300\n5.25,8.25,in,hardback,Brass,mystery,,\n",
		"semicolons":       "title;genre;binding;height;width;unit;pages;thickness\nSalt;mystery;paperback;8;5,25;in;300;0,75\nBrass;mystery;case;8,25;5,25;in;;\n",
		"tabs":             "title\tgenre\tbinding\theight\twidth\tunit\tpages\tthickness\nSalt\tmystery\tpaperback\t8\t5.25\tin\t300\t0.75\nBrass\tmystery\tcase\t8.25\t5.25\tin\t\t\n",
		"mark, CR LF":      "\ufefftitle,genre,binding,height,width,unit,pages,thickness\r\nSalt,mystery,paperback,8,5.25,in,300,0.75\r\nBrass,mystery,case,8.25,5.25,in,,\r\n",
		"CR":               "title,genre,binding,height,width,unit,pages,thickness\rSalt,mystery,paperback,8,5.25,in,300,0.75\rBrass,mystery,case,8.25,5.25,in,,",
		"sep=":             "sep=;\ntitle;genre;binding;height;width;unit;pages;thickness\nSalt;mystery;paperback;8;5,25;in;300;0,75\nBrass;mystery;case;8,25;5,25;in;;\n",
		"quoted":           "\"title\",\"genre\",\"binding\",\"height\",\"width\",\"unit\",\"pages\",\"thickness\"\n\"Salt\",\"mystery\",\"Paperback\",\"8\",\"5,25\",\"in\",\"300\",\"0,75\"\n\"Brass\", \"mystery\", \"Case\",\"8,25\",\"5,25\",\"in\",\"\",\"\"\n",
		"units in cells":   "title,genre,binding,height,width,pages,thickness\nSalt,mystery,paperback,8 in,5 1/4 in,300,3/4\"\nBrass,mystery,case,8¼ in,5-1/4\",,\n",
		"units in heads":   "title,genre,binding,height (in),width [inches],pages,thickness_in\nSalt,mystery,paperback,8,5.25,300,.75\nBrass,mystery,case,8.25,5.25,,\n",
		"remarks":          "# one\n\n# a \"two, three\ntitle,genre,binding,height,width,unit,pages,thickness\n#\nSalt,mystery,paperback,8,5.25,in,300 pages,0.75\n,,,,,,,\n\"# as a spreadsheet, saves it\",,,,,,,\nBrass,mystery,case,8.25,5.25,in,,\n",
		"short rows":       "title,genre,binding,height,width,unit,pages,thickness\nSalt,mystery,paperback,8,5.25,in,300,0.75\nBrass,mystery,case,8.25,5.25,in\n",
		"empty at the end": "title,genre,binding,height,width,unit,pages,thickness,\nSalt,mystery,paperback,8,5.25,in,300,0.75,,,\nBrass,mystery,case,8.25,5.25,in,,,,\n",
	} {
		s, err := Read("s.csv", []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		want := []Book{
			{Title: "Salt", Genre: "mystery", Binding: Paperback, Width: length.Value{Length: inch * 21 / 4, Unit: length.In}, Height: length.Value{Length: inch * 8, Unit: length.In}, Pages: 300, Thickness: inch * 3 / 4},
			{Title: "Brass", Genre: "mystery", Binding: Case, Width: length.Value{Length: inch * 21 / 4, Unit: length.In}, Height: length.Value{Length: inch * 33 / 4, Unit: length.In}},
		}
		if len(s.Books) != len(want) {
			t.Errorf("%s: %d books", name, len(s.Books))
			continue
		}
		for i := range want {
			want[i].Line = s.Books[i].Line
			if s.Books[i] != want[i] {
				t.Errorf("%s: %+v\nwant %+v", name, s.Books[i], want[i])
			}
		}
	}
}

func TestReadTells(t *testing.T) {
	s, err := Read("s.csv", []byte("title,binding,height,width,unit,publisher\n# \nSalt,,5,8,in,x\nBrass,paperback,8,5,in,\n"))
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Remarks) != 1 || !strings.HasPrefix(s.Remarks[0], "s.csv:3: 5in high and 8in wide: read the other way round") {
		t.Errorf("remarks %q", s.Remarks)
	}
	if b := s.Books[0]; b.Height.Length != 8*length.Inch || b.Width.Length != 5*length.Inch || b.Line != 3 || !b.Supposed {
		t.Errorf("%+v", b)
	}
	if s.Books[1].Supposed || s.Books[1].Line != 4 {
		t.Errorf("%+v", s.Books[1])
	}
	if len(s.Unused) != 1 || s.Unused[0] != "publisher" {
		t.Errorf("unused %q", s.Unused)
	}
}

// A fault is one line: where, what, how to mend it.
func TestReadRefuses(t *testing.T) {
	const heads = "title,binding,height,width,unit,pages,thickness\n"
	for _, c := range []struct{ text, want string }{
		{"", "s.csv: this is empty; bodkin shelf --form"},
		{"# nothing\n", "s.csv: this is empty"},
		{heads, "s.csv: there are no books under the heads"},
		{"title,hieght,width\n", `s.csv:1: the head "hieght" is not known; did you mean height?`},
		{"\n# x\ntitle,height\nA,8 in\n", "s.csv:3: no column has the head width"},
		{"Salt,8,5\n", "s.csv:1: no column has the head height"},
		{"height,tall,width\n", `s.csv:1: two columns are the height, "height" and "tall"`},
		{heads + "A,paperback,8,5,,,\n", `s.csv:2: height "8" has no unit`},
		{heads + "A,paperback,8,,in,,\n", "s.csv:2: the width is missing"},
		{heads + "A,paperback,8,5.25,\",in\",300,0.75\n", `s.csv:2: unit ",in"`},
		{heads + "A,paperback,8,5,inn,,\n", `s.csv:2: unit "inn": write in, mm or cm`},
		{heads + "A,paperbak,8,5,in,,\n", `s.csv:2: binding "paperbak" is not known; did you mean paperback?`},
		{heads + "A,zz,8,5,in,,\n", `s.csv:2: binding "zz" is not known; write paperback or case`},
		{heads + "A,paperback,8..,5,in,,\n", `s.csv:2: height "8.." is not a measure`},
		{heads + "A,paperback,8,25,5,25,in\n", `s.csv:2: unit "5": write in, mm or cm`},
		{heads + "A,paperback,8,25,5,25,in,300,1\n", "s.csv:2: there are 9 cells under 7 heads; a cell with a comma in it"},
		{heads + "B,paperback,8,5,in,,\nA,paperback,210,148,in,,\n", "s.csv:3: height 210 in: books measure from 2in to 20in; is it 210 mm?"},
		{heads + "A,paperback,8.25,5.5,mm,,\n", "s.csv:2: height 8.3 mm: books measure from 50.8mm to 508mm; is it 8.25 in?"},
		{heads + "A,paperback,8,5,in,many,\n", `s.csv:2: pages "many": write a whole number`},
		{heads + "A,paperback,8,5,in,-3,\n", `s.csv:2: pages "-3"`},
		{heads + "A,paperback,8,5,in,,20\n", `s.csv:2: thickness "20": no book is so thick`},
		{heads + "\"A,paperback,8,5,in,,\nB,paperback,8,5,in,,\n", "s.csv:2: "},
		{heads + strings.Repeat("long ", 50) + ",paperback,8,5,in,,\n", "s.csv:2: a title of more than 200 characters"},
		{"\xff\xfe", "s.csv: this is not UTF-8 text"},
	} {
		_, err := Read("s.csv", []byte(c.text))
		if err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%q: %v\nwant %s", c.text, err, c.want)
		}
		if err != nil && strings.ContainsAny(err.Error(), "\n\r") {
			t.Errorf("%q has more than one line", err)
		}
	}
}

// The form is itself a survey, without books; its sample row is one.
func TestForm(t *testing.T) {
	if _, err := Read("form.csv", []byte(Form)); err == nil || !strings.Contains(err.Error(), "no books") {
		t.Errorf("the empty form: %v", err)
	}
	at := strings.Index(Form, "# An Invented")
	sample, _, _ := strings.Cut(Form[at+2:], "\n")
	s, err := Read("form.csv", []byte(Form+sample+"\n"))
	if err != nil || len(s.Books) != 1 || s.Books[0].Height.Length != length.Inch*33/4 || s.Books[0].Binding != Paperback {
		t.Errorf("%+v, %v", s, err)
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(Form + "A,b,paperback,8 1/4,5.5,in,300,\n"))
	f.Add([]byte("\ufeffheight;width;unit\r\n8,25;5,5;in\r\n21 cm;148 mm;\r\n"))
	f.Add([]byte("height (mm)\twidth (mm)\n198\t129\n"))
	f.Add([]byte("title,height,width\n\"x\"\"y\",8¼\",5⅛ in\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Read("s.csv", text)
		if err != nil {
			if strings.ContainsAny(err.Error(), "\n\r") || !strings.HasPrefix(err.Error(), "s.csv:") {
				t.Errorf("%q is no one line of s.csv", err)
			}
			return
		}
		for _, b := range s.Books {
			if b.Height.Length < leastSide || b.Height.Length > mostSide || b.Width.Length < leastSide || b.Width.Length > b.Height.Length {
				t.Fatalf("%+v", b)
			}
		}
		r, err := Judge(s, Known(nil, nil), "")
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Books) > 50 {
			return
		}
		var picture bytes.Buffer
		if err := r.Draw(&picture, "A shelf"); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, picture.Bytes())
		// What was read reads back from a file written by encoding/csv.
		var again bytes.Buffer
		w := csv.NewWriter(&again)
		_ = w.Write([]string{"title", "genre", "binding", "height", "width"})
		for _, b := range s.Books {
			if isRemark(b.Title) {
				return
			}
			_ = w.Write([]string{b.Title, b.Genre, string(b.Binding), b.Height.String(), b.Width.String()})
		}
		w.Flush()
		back, err := Read("s.csv", again.Bytes())
		if err != nil {
			t.Fatalf("%v\n%s", err, again.Bytes())
		}
		for i, b := range back.Books {
			if d := abs(b.Height.Length - s.Books[i].Height.Length); d > slack || b.Title != s.Books[i].Title || b.Binding != s.Books[i].Binding {
				t.Fatalf("%+v reads back as %+v", s.Books[i], b)
			}
		}
	})
}
