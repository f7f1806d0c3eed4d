package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/pdfcpu/pdfcpu/pkg/api"
)

func TestRanges(t *testing.T) {
	for _, c := range []struct{ axis, list, want string }{
		{"size", "10..11/0.25", "10pt 10.25pt 10.5pt 10.75pt 11pt"},
		{"size", "10pt..11pt", "10pt 10.5pt 11pt"},
		{"size", "10, 11.5pt,12..12.4", "10pt 11.5pt 12pt"},
		{"size", "3.5mm..4mm/0.25", "3.5mm 3.75mm 4mm"},
		{"leading", "120%..130%/5%", "120% 125% 130%"},
		{"leading", "1.1..1.2 lines", "1.1 lines 1.15 lines 1.2 lines"},
		{"leading", "14,127%", "14pt 127%"},
		{"fore-edge", "0.5in..0.75in", "0.5in 0.625in 0.75in"},
		{"back", "auto,0.5in", "auto 0.5in"},
		{"trim", "5x8in,B-format", "5x8in B-format"},
		{"size", "12..10", `error "12..10" runs backwards`},
		{"size", "10..12/0", `error "10..12/0" has a step of nothing`},
		{"size", "10pt..12mm", `error "10pt..12mm" has more than one unit`},
		{"fore-edge", "1..2", `error "1..2" has no unit`},
		{"size", "10...12", `error "10...12" is not a range`},
		{"size", "1..900/0.01", `error "1..900/0.01" has 89901 values`},
		{"size", "", `error `},
		{"trim", "5x8", `error `},
	} {
		var a *axis
		for _, one := range axes() {
			if one.name == c.axis {
				a = one
			}
		}
		got := ""
		if err := a.Set(c.list); err != nil {
			got = "error " + err.Error()
		} else {
			var values []string
			for _, one := range strings.Split(c.list, ",") {
				v, err := a.expand(strings.TrimSpace(one))
				if err != nil {
					t.Fatal(err)
				}
				values = append(values, v...)
			}
			got = strings.Join(values, " ")
		}
		if got != c.want && !(strings.HasPrefix(c.want, "error ") && strings.HasPrefix(got, c.want)) {
			t.Errorf("--%s %q: %s, want %s", c.axis, c.list, got, c.want)
		}
	}
}

// The pages of a castoff are those of the files that proof writes, as pdfcpu
// counts them.
func TestCastoffCountsTheFile(t *testing.T) {
	api.DisableConfigDir()
	r := rand.New(rand.NewPCG(1, 8))
	const book = "../../testdata/tide-clerk"
	for range 12 {
		size := []string{"9.5pt", "10pt", "11pt", "12.25pt"}[r.IntN(4)]
		args := []string{
			"--trim", []string{"5x8in", "5.5x8.5in", "6x9in", "B-format"}[r.IntN(4)],
			"--face", []string{"EB Garamond", "Crimson Pro", "Literata"}[r.IntN(3)],
			"--size", size, "--leading", fmt.Sprintf("%d%%", 118+r.IntN(20)),
			"--fore-edge", fmt.Sprintf("0.%din", 4+r.IntN(4)),
			"--pages", []string{"even", "fewest"}[r.IntN(2)],
			"--notes", []string{"foot", "chapter"}[r.IntN(2)],
		}
		var table, stderr bytes.Buffer
		if code := run(append([]string{"castoff", book, "--json"}, args...), &table, &stderr); code != 0 {
			t.Fatalf("%v: exit %d: %s", args, code, &stderr)
		}
		var told castoffReport
		if err := json.Unmarshal(table.Bytes(), &told); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(t.TempDir(), "out.pdf")
		if code := run(append([]string{"proof", book, "-o", out}, args...), new(bytes.Buffer), &stderr); code != 0 {
			t.Fatalf("%v: exit %d: %s", args, code, &stderr)
		}
		if n, err := api.PageCountFile(out); err != nil || len(told.Settings) != 1 || n != told.Settings[0].Pages {
			t.Errorf("%v: the file has %d pages (%v), the castoff says %+v", args, n, err, told.Settings)
		}
	}
}

// The same table, as values that commas part and as JSON.
func TestCastoffForms(t *testing.T) {
	args := []string{"castoff", "../../testdata/tide-clerk", "--size", "10..11/0.5", "--trim", "5x8in,6x9in"}
	var object, values bytes.Buffer
	for flag, out := range map[string]*bytes.Buffer{"--json": &object, "--csv": &values} {
		if code := run(append(args, flag), out, new(bytes.Buffer)); code != 0 {
			t.Fatalf("%s: exit %d", flag, code)
		}
	}
	var told castoffReport
	if err := json.Unmarshal(object.Bytes(), &told); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&values).ReadAll()
	if err != nil || len(rows) != 7 || len(told.Settings) != 6 {
		t.Fatalf("%d rows (%v), %d settings", len(rows), err, len(told.Settings))
	}
	for i := range told.Settings {
		if diff := cmp.Diff(told.Settings[i].cells(), rows[i+1]); diff != "" {
			t.Error(diff)
		}
	}
}
