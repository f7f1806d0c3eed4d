package shelf

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func read(t testing.TB, rows ...string) *Survey {
	t.Helper()
	s, err := Read("s.csv", []byte("title;binding;height;width\n"+strings.Join(rows, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func judge(t testing.TB, s *Survey, known []Trim) *Report {
	t.Helper()
	r, err := Judge(s, known, "")
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func trims(t testing.TB, sizes ...string) []typeset.Trim {
	t.Helper()
	var all []typeset.Trim
	for _, s := range sizes {
		trim, err := typeset.ParseTrim(s)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, trim)
	}
	return all
}

// ISO 216 gives the long side of A(n) as 1000 × 2^(1/4 − n/2) mm and that of
// B(n) as 1000 × 2^(1/2 − n/2) mm, in whole millimetres (formula from memory).
func TestKnownISO216(t *testing.T) {
	long := func(shift float64, n int) int64 { return int64(math.Floor(1000*math.Pow(2, shift-float64(n)/2) + 0.2)) }
	found := 0
	for _, k := range Known(nil, nil) {
		if !strings.Contains(k.Source, "ISO 216") {
			continue
		}
		name := k.Name
		if name == "" {
			name = k.Source[:2]
		}
		shift, n := 0.25, int(name[1]-'0')
		if name[0] == 'B' {
			shift = 0.5
		}
		want := fmt.Sprintf("%dx%dmm", long(shift, n+1), long(shift, n))
		if got := k.Written(); got != want {
			t.Errorf("%s is %s; want %s", name, got, want)
		}
		found++
	}
	if found != 5 {
		t.Errorf("%d sizes of ISO 216", found)
	}
}

// Every trim that typeset knows by name is known here, with a source.
func TestKnownNames(t *testing.T) {
	known := Known(nil, nil)
	for _, name := range strings.Split(typeset.TrimNames(), ", ") {
		i := slices.IndexFunc(known, func(k Trim) bool { return k.Name == name })
		if i < 0 || known[i].Source == "" {
			t.Errorf("%s is not among the known trims, or has no source", name)
		}
	}
	for i := range known {
		for k := range i {
			if apart(known[i].Size(), known[k].Size()) <= alike {
				t.Errorf("%s and %s are one trim", known[i].Label(), known[k].Label())
			}
		}
	}
}

// What a printer offers is the trim of the table, where a reader could not
// tell them apart.
func TestKnownOffered(t *testing.T) {
	known := Known(trims(t, "5.06x7.81in", "6x9in", "5.4x8in", "152x229mm"), trims(t, "5.4x8in", "129x198mm"))
	for label, want := range map[string]string{"129x198mm (B-format)": "5.06x7.81in", "6x9in (trade)": "152x229mm", "5.4x8in": ""} {
		i := slices.IndexFunc(known, func(k Trim) bool { return k.Label() == label })
		if i < 0 || !known[i].Offered || known[i].OfferAs != want {
			t.Errorf("%s: %d, as %q", label, i, known[max(i, 0)].OfferAs)
		}
	}
	if n := len(Known(nil, nil)); len(known) != n+1 {
		t.Errorf("%d trims; want the %d and 5.4x8in", len(known), n)
	}
}

// Common practice: a case-bound book of 5 × 8 in measures about 5.25 × 8.25
// in; one of 5.5 × 8.5 in is about 5.75 in across; squares are 3 mm (an eighth
// of an inch), so that B-format is 204 mm high.
func TestMatch(t *testing.T) {
	for _, c := range []struct{ row, want, also, nearest string }{
		{"a;case;8.25 in;5.25 in", "5x8in", "", ""},
		{"a;case;8 3/4 in;5 3/4 in", "digest", "demy", ""},
		{"a;case;222.25 mm;146.05 mm", "digest", "demy", ""}, // the same: the unit is no matter
		{"a;case;8.25 in;5.5 in", "5.25x8in", "", ""},
		{"a;case;9 1/4 in;6 1/4 in", "trade", "", ""},
		{"a;case;204 mm;135 mm", "B-format", "", ""},
		{"a;case;204 mm;132 mm", "B-format", "", ""}, // boards flush with the back
		{"a;case;240 mm;162 mm", "royal", "", ""},
		{"a;paperback;8 in;5.25 in", "5.25x8in", "", ""},
		{"a;paperback;198 mm;129 mm", "B-format", "", ""},
		{"a;paperback;19.8 cm;12.9 cm", "B-format", "", ""},
		{"a;paperback;7 3/4 in;5 in", "B-format", "", ""}, // 198 mm is 7.80 in, 129 mm 5.08 in
		{"a;paperback;7 in;4 1/4 in", "A-format", "", ""},
		{"a;paperback;6 3/4 in;4 1/4 in", "mass-market", "", ""},
		{"a;paperback;210 mm;148 mm", "A5", "", ""},
		{"a;paperback;8 1/2 in;5 1/2 in", "digest", "demy", ""}, // 138 mm is 5.43 in
		{"a;paperback;8.53 in;5.53 in", "digest", "", ""},       // finely measured, it is not
		{"a;paperback;216 mm;138 mm", "demy", "", ""},
		{"a;paperback;8.5 in;5.48 in", "digest", "demy", ""}, // 139.2 mm: between the two
		{"a;paperback;21 cm;15 cm", "A5", "", ""},
		{"a;paperback;21.5 cm;13.5 cm", "135x215mm", "", ""},
		{"a;paperback;7 3/4 in;5 1/2 in", "", "", "5.25x8in"},
		{"a;paperback;12 in;9 in", "", "", "A4"},
	} {
		r := judge(t, read(t, c.row), Known(nil, nil))
		p := r.Books[0]
		names := make([]string, len(p.Fits))
		for i, f := range p.Fits {
			names[i] = f.Trim.String()
		}
		want := strings.TrimSuffix(strings.TrimPrefix(c.want+" "+c.also, " "), " ")
		if got := strings.Join(names, " "); got != want {
			t.Errorf("%s is of %q; want %q", c.row, got, want)
		}
		if c.nearest != "" && p.Nearest.Trim.String() != c.nearest {
			t.Errorf("%s is nearest to %s; want %s", c.row, p.Nearest.Trim, c.nearest)
		}
		if len(p.Fits) > 1 != (r.Doubtful == 1) || len(p.Fits) == 0 != (r.Unknown == 1) {
			t.Errorf("%s: doubtful %d, unknown %d", c.row, r.Doubtful, r.Unknown)
		}
	}
}

// What is measured to a quarter of an inch is told from what is measured more
// finely, by the figures of the whole survey.
func TestSteps(t *testing.T) {
	for _, c := range []struct {
		rows         []string
		inch, metric Step
	}{
		{[]string{"a;;8 in;5 1/4 in", "b;;8 1/2 in;5 1/2 in"}, QuarterInch, Centimetre},
		{[]string{"a;;8 in;5 1/4 in", "b;;8 7/16 in;5 1/2 in"}, Fine, Centimetre},
		{[]string{"a;;8 in;5 1/4 in", "b;;8.43 in;5.5 in"}, Fine, Centimetre},
		{[]string{"a;;8 in;5 1/4 in", "b;;198 mm;129 mm"}, QuarterInch, Fine},
		{[]string{"a;;203.2 mm;133.35 mm"}, QuarterInch, Centimetre},
		{[]string{"a;;21 cm;15 cm", "a;;21.5 cm;13 cm"}, QuarterInch, HalfCentimetre},
		{[]string{"a;;21.5 cm;15 cm", "a;;20 cm;13 cm"}, QuarterInch, HalfCentimetre},
		{[]string{"a;;21 cm;15 cm", "a;;20 cm;13 cm"}, QuarterInch, Centimetre},
		{[]string{"a;;21.5 cm;15 cm", "a;;19.8 cm;13 cm", "a;;20 cm;13 cm"}, QuarterInch, Fine},
	} {
		if inch, metric := steps(read(t, c.rows...).Books); inch != c.inch || metric != c.metric {
			t.Errorf("%q: inches %v, millimetres %v", c.rows, inch, metric)
		}
	}
}

// The trims in inches whose nearest neighbour in inches is a quarter of an
// inch away or more are found again in books that are measured to the nearest
// quarter; and where another trim, in millimetres, might be meant as well,
// that is said.
func TestQuarterInches(t *testing.T) {
	var offer []Trim
	for _, k := range Known(nil, nil) {
		if k.Width.Unit == length.In {
			offer = append(offer, k)
		}
	}
	offer = slices.DeleteFunc(slices.Clone(offer), func(a Trim) bool {
		return slices.ContainsFunc(offer, func(b Trim) bool { return a.Trim != b.Trim && apart(a.Size(), b.Size()) < length.Inch/4 })
	})
	if len(offer) < 10 {
		t.Fatalf("only %d trims are a quarter of an inch apart", len(offer))
	}
	quarter := func(l length.Length) length.Length {
		return (l + length.Inch/8) / (length.Inch / 4) * (length.Inch / 4)
	}
	known := Known(nil, nil)
	rapid.Check(t, func(t *rapid.T) {
		trim := rapid.SampledFrom(offer).Draw(t, "trim")
		binding := rapid.SampledFrom([]Binding{Paperback, Case}).Draw(t, "binding")
		over := binding.Over(trim.Trim)
		b := Book{Binding: binding, Width: length.Value{Length: quarter(over.Width), Unit: length.In}, Height: length.Value{Length: quarter(over.Height), Unit: length.In}}
		r, err := Judge(&Survey{Books: []Book{b}}, known, "")
		if err != nil {
			t.Fatal(err)
		}
		p := r.Books[0]
		if len(p.Fits) == 0 || p.Fits[0].Trim.Trim != trim.Trim {
			t.Fatalf("%s, %s, measures %v × %v and is found as %v", trim.Label(), binding, b.Width, b.Height, p.Nearest.Trim.Label())
		}
		block := typeset.Size{Width: b.Width.Length, Height: b.Height.Length}
		if binding == Case {
			block.Width -= length.Inch / 4
			block.Height -= length.Inch / 4
		}
		for i := range known {
			fits := apart(block, known[i].Size()) <= length.Inch/8
			if said := slices.ContainsFunc(p.Fits, func(f Fit) bool { return f.Trim == &known[i] }); said != fits {
				t.Fatalf("%s fits a %s of %v × %v: %v, and it says %v", known[i].Label(), binding, b.Width, b.Height, fits, said)
			}
		}
	})
}

// anySurvey draws books near to real trims, measured in quarters and
// sixteenths of an inch or in millimetres.
func anySurvey(t *rapid.T) *Survey {
	known := Known(nil, nil)
	s := &Survey{Name: "s.csv"}
	for range rapid.IntRange(1, 12).Draw(t, "books") {
		k := rapid.SampledFrom(known).Draw(t, "trim")
		step := rapid.SampledFrom([]length.Length{length.Inch / 4, length.Inch / 16, length.Inch * 5 / 127}).Draw(t, "step")
		b := Book{Title: rapid.SampledFrom([]string{"", "Salt", "Brass"}).Draw(t, "title"), Binding: rapid.SampledFrom([]Binding{Paperback, Case}).Draw(t, "binding"),
			Genre: rapid.SampledFrom([]string{"", "Mystery", "mystery", "romance"}).Draw(t, "genre"), Pages: rapid.SampledFrom([]int{0, 200, 300}).Draw(t, "pages")}
		over := b.Binding.Over(k.Trim)
		off := func(name string, l length.Length) length.Value {
			l += length.Length(rapid.Int64Range(-int64(length.Inch)/6, int64(length.Inch)/6).Draw(t, name))
			n := int64((l + step/2) / step)
			if step == length.Inch*5/127 {
				v, err := length.Parse(fmt.Sprintf("%dmm", n))
				if err != nil {
					t.Fatal(err)
				}
				return v
			}
			return length.Value{Length: length.Length(n) * step, Unit: length.In}
		}
		b.Width, b.Height = off("width", over.Width), off("height", over.Height)
		s.Books = append(s.Books, b)
	}
	return s
}

// answer is what a report says about trims, in words.
func answer(r *Report) string {
	var b strings.Builder
	for _, st := range r.Standings {
		fmt.Fprintf(&b, "%s %d %d %d %d", st.Trim.Label(), st.Books, st.Paperback, st.Cased, st.Doubtful)
		for _, a := range st.Also {
			fmt.Fprintf(&b, " %s", a.Label())
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "unknown %d doubtful %d genres %v\n", r.Unknown, r.Doubtful, r.Genres)
	if r.Belongs != nil {
		b.WriteString(r.Belongs.Label() + "\n")
	}
	for _, c := range r.Candidates {
		fmt.Fprintf(&b, "%s %d above %d below %d\n", c.Trim.Label(), c.Books, c.Taller, c.Lower)
	}
	return b.String()
}

func TestOrderIsNoMatter(t *testing.T) {
	known := Known(trims(t, "5x8in", "6x9in"), trims(t, "5.5x8.5in"))
	rapid.Check(t, func(t *rapid.T) {
		s := anySurvey(t)
		other := *s
		other.Books = rapid.Permutation(s.Books).Draw(t, "order")
		a, errA := Judge(s, known, "")
		b, errB := Judge(&other, known, "")
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		if d := cmp.Diff(answer(a), answer(b)); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(append(a.Reasons, a.Doubts...), append(b.Reasons, b.Doubts...)); d != "" {
			t.Fatal(d)
		}
		var p, q strings.Builder
		if err := a.Draw(&p, "A shelf"); err != nil {
			t.Fatal(err)
		}
		if err := b.Draw(&q, "A shelf"); err != nil {
			t.Fatal(err)
		}
		if untitled := strings.Contains(p.String(), ">line "); !untitled && p.String() != q.String() {
			t.Fatal("the pictures differ")
		}
	})
}

// A survey that is written again in the other unit, with six decimals, and
// read back, gives the same answer.
func TestUnitIsNoMatter(t *testing.T) {
	known := Known(trims(t, "5x8in", "6x9in"), trims(t, "5.5x8.5in"))
	rapid.Check(t, func(t *rapid.T) {
		s := anySurvey(t)
		var b strings.Builder
		b.WriteString("title;genre;binding;height;width;unit\n")
		for i := range s.Books {
			c := &s.Books[i]
			to := rapid.SampledFrom([]length.Unit{length.In, length.Mm}).Draw(t, "unit")
			write := func(l length.Length) string {
				r := big.NewRat(int64(l), int64(length.Inch))
				if to == length.Mm {
					r.Mul(r, big.NewRat(127, 5))
				}
				return r.FloatString(6)
			}
			fmt.Fprintf(&b, "%s;%s;%s;%s;%s;%s\n", c.Title, c.Genre, c.Binding, write(c.Height.Length), write(c.Width.Length), to)
		}
		other, err := Read("s.csv", []byte(b.String()))
		if err != nil {
			t.Fatal(err)
		}
		x, errX := Judge(s, known, "")
		y, errY := Judge(other, known, "")
		if errX != nil || errY != nil {
			t.Fatal(errX, errY)
		}
		if d := cmp.Diff(answer(x), answer(y)); d != "" {
			t.Fatalf("%s\n%s", b.String(), d)
		}
	})
}

// Which trim belongs, and what is said for and against it.
func TestBelongs(t *testing.T) {
	rows := func(n int, row string) []string { return slices.Repeat([]string{row}, n) }
	many := slices.Concat(rows(8, "a;paperback;8 in;5.25 in"), rows(5, "b;paperback;8 in;5 in"), rows(1, "c;paperback;9 in;6 in"))
	for _, c := range []struct {
		name    string
		rows    []string
		offered []string
		want    string
		says    []string // in the reasons and doubts
		not     []string
	}{
		{"most common", many, nil, "5.25x8in", []string{"most common trim of the shelf: 8 of the 14 books, 57 %", "not known"}, []string{"Only", "The printer"}},
		{"offered", many, []string{"5.25x8in", "6x9in"}, "5.25x8in", []string{"The printer offers it"}, []string{"not known"}},
		{"second offered", many, []string{"5x8in", "6x9in"}, "5x8in", []string{"that the printer offers: 5 of the 14", "5.25x8in is more common, with 8"}, nil},
		{"nearest offered", many, []string{"6x9in", "5.06x7.81in"}, "129x198mm (B-format)", []string{"5.25x8in with 8 of 14 books, is not offered", "0.2 in away"}, nil},
		{"few", many[:3], nil, "5.25x8in", []string{"3 books measured, every one", "Only 3 books were measured"}, nil},
		{"one", many[:1], nil, "5.25x8in", []string{"1 book measured, every one", "Only 1 book was measured"}, nil},
		{"a tie", slices.Concat(many[:5], many[8:13]), nil, "5x8in", []string{"No trim of the shelf is more common: 5 of the 10", "5.25x8in is nearly as common, with 5 books"}, nil},
		{"doubtful", rows(12, "a;paperback;8.5 in;5.5 in"), nil, "5.5x8.5in (digest)", []string{"12 books of it may be of 138x216mm (demy) as well"}, nil},
		{"none", rows(2, "a;paperback;12 in;12 in"), nil, "", []string{"None of 2 books is of a known trim; the middle of their heights is 12 in"}, nil},
		{"a trim of their own", slices.Concat(many[:3], rows(3, "a;paperback;220 mm;140 mm"), rows(1, "a;case;227 mm;146 mm"), rows(1, "a;paperback;180 mm;150 mm")), nil, "5.25x8in",
			[]string{"5 books are of no known trim", "4 books of no known trim have one of their own, about 140x220mm: --trim 140x220mm"}, nil},
		{"no binding", rows(12, "a;;8 in;5 in"), nil, "5x8in", []string{"binding of 12 books is not given"}, nil},
	} {
		r := judge(t, read(t, c.rows...), Known(trims(t, c.offered...), nil))
		got := ""
		if r.Belongs != nil {
			got = r.Belongs.Label()
		}
		if got != c.want {
			t.Errorf("%s: %q belongs; want %q", c.name, got, c.want)
		}
		said := strings.Join(append(slices.Clone(r.Reasons), r.Doubts...), "\n")
		for _, s := range c.says {
			if !strings.Contains(said, s) {
				t.Errorf("%s: %q is not said in\n%s", c.name, s, said)
			}
		}
		for _, s := range c.not {
			if strings.Contains(said, s) {
				t.Errorf("%s: %q is said in\n%s", c.name, s, said)
			}
		}
	}
}

// How far a candidate sticks out: over the median height of the books.
func TestCandidate(t *testing.T) {
	s := read(t, "a;paperback;8 in;5 in", "b;paperback;8 in;5 in", "c;paperback;7 in;4.25 in", "d;case;9 1/4 in;6 1/4 in")
	r, err := Judge(s, Known(nil, trims(t, "6x9in", "5x8in")), "")
	if err != nil {
		t.Fatal(err)
	}
	if r.Median != 8*length.Inch || r.Least != 7*length.Inch || r.Most != length.Inch*37/4 {
		t.Errorf("heights from %v by %v to %v", r.Least, r.Median, r.Most)
	}
	want := map[string]Candidate{
		"6x9in": {Books: 1, Height: 9 * length.Inch, Above: length.Inch, Taller: 3, Lower: 1},
		"5x8in": {Books: 2, Height: 8 * length.Inch, Above: 0, Taller: 1, Lower: 1},
	}
	for _, c := range r.Candidates {
		w := want[c.Trim.Written()]
		w.Trim, w.Says = c.Trim, c.Says
		if c != w {
			t.Errorf("%+v\nwant %+v", c, w)
		}
	}
	if r, err = Judge(s, Known(nil, trims(t, "6x9in")), Case); err != nil || r.Candidates[0].Above != length.Inch*5/4 {
		t.Errorf("case-bound: %+v, %v", r.Candidates, err)
	}
	if !strings.Contains(r.Candidates[0].Says, "1.25 in above the middle of the shelf") {
		t.Error(r.Candidates[0].Says)
	}
}

func TestFilter(t *testing.T) {
	s, err := Read("s.csv", []byte("genre;binding;height;width;unit\nmystery;case;8;5;in\nMystery;paperback;8;5;in\nromance;paperback;8;5;in\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		genre   string
		binding Binding
		books   int
		fault   string
	}{
		{"", "", 3, ""}, {"MYSTERY", "", 2, ""}, {"mystery", Case, 1, ""}, {"", Paperback, 2, ""},
		{"mistery", "", 0, "did you mean "}, {"poems", "", 0, "; it has Mystery, romance"}, {"romance", Case, 0, "bound as case"},
	} {
		f, err := s.Filter(c.genre, c.binding)
		if c.fault != "" {
			if err == nil || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%q, %q: %v; want %q", c.genre, c.binding, err, c.fault)
			}
			continue
		}
		if err != nil || len(f.Books) != c.books {
			t.Errorf("%q, %q: %v, %v", c.genre, c.binding, f, err)
		}
	}
}
