package pdf

import (
	"flag"
	"os"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bodkin/typeset/internal/layouttest"
)

var update = flag.Bool("update", false, "write the golden files anew")

// TestGolden holds the content of a small page against one that a person has
// read. It has a word space, kerning, a ligature, italics, small capitals, a
// raised figure, a divided word and a hyphen of the manuscript.
func TestGolden(t *testing.T) {
	l := set(t, "+Ebb+ by an *office,* Tor-Vik. ^7 At last they understood extraordinarily well.", layouttest.Style{})
	var faces faces
	laid, err := lay(l, Options{}, &faces, &plates{})
	if err != nil {
		t.Fatal(err)
	}
	objects, _, err := readObjects(laid)
	if err != nil {
		t.Fatal(err)
	}
	var got []byte
	for _, o := range objects {
		if o.stream != nil {
			got = append(got, o.stream...)
		}
	}
	const path = "testdata/page.golden"
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), string(got)); diff != "" {
		t.Errorf("-golden +got:\n%s", diff)
	}
}
