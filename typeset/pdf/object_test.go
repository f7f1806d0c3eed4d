package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"testing"

	"bodkin/typeset/internal/layouttest"
)

func TestDict(t *testing.T) {
	for _, test := range []struct{ in, want string }{
		{"<<>>", ""},
		{"<</Type /Page\n/Parent 1 0 R/Rotate 0>>", "Type=/Page Parent=1 0 R Rotate=0 "},
		{"<</A[0 0 612.00 -.5]/B<</C(x\\)y(z))>>/D<FEFF>/E true>>", "A=[0 0 612.00 -.5] B=<</C(x\\)y(z))>> D=<FEFF> E=true "},
		{"<</K [3 0 R 5 0 R ]/N null>>", "K=[3 0 R 5 0 R ] N=null "},
	} {
		s := scanner{[]byte(test.in), 0}
		d, err := s.dict()
		got := ""
		for _, e := range d {
			got += fmt.Sprintf("%s=%s ", e.key, e.value)
		}
		if err != nil || got != test.want || s.pos != len(test.in) {
			t.Errorf("%s: %s, %v; want %s", test.in, got, err, test.want)
		}
	}
	for _, in := range []string{"", "<<", "<</A", "<</A>>", "<</A(>>", "<</A<>>", "<</A[>>", "<<A 1>>", "<</A 1"} {
		s := scanner{[]byte(in), 0}
		if d, err := s.dict(); !errors.Is(err, errForm) {
			t.Errorf("%s: %v, %v", in, d, err)
		}
	}
}

// TestReadObjects reads a file that was written here: the same objects come
// back, and writing them again gives the same file.
func TestReadObjects(t *testing.T) {
	l := set(t, sample, layouttest.Style{})
	for _, o := range kinds {
		file := write(t, l, o)
		objects, trailer, err := readObjects(file)
		if err != nil {
			t.Fatal(err)
		}
		w := writer{plain: true, b: bytes.Clone(file[:bytes.Index(file, []byte("1 0 obj"))])}
		for _, o := range objects {
			w.object(o)
		}
		w.end(trailer)
		if !bytes.Equal(w.b, file) {
			t.Error("the file came back differently")
		}
	}
	for _, bad := range []string{"", "startxref", "startxref 0", "xref\n0 1\nstartxref\n0\n%%EOF"} {
		if _, _, err := readObjects([]byte(bad)); !errors.Is(err, errForm) {
			t.Errorf("%q: %v", bad, err)
		}
	}
}

// FuzzReadObjects: no file, however broken, makes the reader panic or hang.
func FuzzReadObjects(f *testing.F) {
	l := set(f, "office", layouttest.Style{})
	for _, o := range []Options{{Plain: true}, {Reading: true}} {
		var faces faces
		laid, err := lay(l, o, &faces, &plates{})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(laid)
	}
	f.Add([]byte("1 0 obj<</Length 99>>stream\nendobj xref 0 2 0 0 f 0 0 n trailer<<>>startxref 0"))
	f.Fuzz(func(t *testing.T, file []byte) {
		objects, _, err := readObjects(file)
		if err != nil && !errors.Is(err, errForm) {
			t.Errorf("%v is not about the form", err)
		}
		for _, o := range objects {
			o.dict.append(nil)
		}
	})
}
