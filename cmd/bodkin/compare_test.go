package main

import (
	"context"
	"io"
	"strings"
	"testing"

	"bodkin/cmd/bodkin/internal/report"
	"bodkin/typeset"
	"bodkin/typeset/length"

	"github.com/google/go-cmp/cmp"
)

func TestReadOne(t *testing.T) {
	for _, c := range []struct {
		arg, label, setting string
		changes             []assignment
	}{
		{"roomy", "roomy", "roomy", nil},
		{" size=10.5pt  leading = 13pt ", "size=10.5pt  leading = 13pt", "", []assignment{{"size", "10.5pt"}, {"leading", "13pt"}}},
		{"roomy size=11pt", "roomy size=11pt", "roomy", []assignment{{"size", "11pt"}}},
		{"small: size=10pt", "small", "", []assignment{{"size", "10pt"}}},
		{"a b: large-print fore-edge=0.5in", "a b", "large-print", []assignment{{"fore-edge", "0.5in"}}},
		{"face=EB Garamond leading=1.2 lines", "face=EB Garamond leading=1.2 lines", "", []assignment{{"face", "EB Garamond"}, {"leading", "1.2 lines"}}},
		{`x: face="Source Serif 4" size='9pt'`, "x", "", []assignment{{"face", "Source Serif 4"}, {"size", "9pt"}}},
		{"n: numbers=Part 1: One", "n", "", []assignment{{"numbers", "Part 1: One"}}},
	} {
		got, err := readOne(c.arg)
		if err != nil {
			t.Errorf("%q: %v", c.arg, err)
			continue
		}
		if want := (named{c.label, c.setting, c.changes}); cmp.Diff(want, got, cmp.AllowUnexported(named{}, assignment{})) != "" {
			t.Errorf("%q is %+v, not %+v", c.arg, got, want)
		}
	}
	for _, arg := range []string{"", "  ", "x:", ": size=9pt", "size pt=", strings.Repeat("long ", 20)} {
		if got, err := readOne(arg); err == nil && len(got.changes) == 0 && arg != "size pt=" {
			t.Errorf("%q is %+v", arg, got)
		}
	}
}

func FuzzReadOne(f *testing.F) {
	for _, s := range []string{"roomy", "small: size=10pt", "roomy size=11pt leading=1.2 lines", "a=", ":=", "=:"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, arg string) {
		n, err := readOne(arg)
		if err != nil {
			return
		}
		if n.label == "" || n.setting == "" && len(n.changes) == 0 {
			t.Errorf("%q names nothing: %+v", arg, n)
		}
		for _, c := range n.changes {
			if c.key == "" || strings.TrimSpace(c.value) != c.value {
				t.Errorf("%q changes %+v", arg, c)
			}
		}
	})
}

// One count: each point of the chart has as many pages as the setting makes
// when it is composed by itself, and the points of the editions are theirs.
func TestChartCountsWhatIsSet(t *testing.T) {
	flags := settingFlags{}
	ctx := context.Background()
	j, err := flags.load(ctx, "../../testdata/tide-clerk")
	if err != nil {
		t.Fatal(err)
	}
	named, err := readNamed([]string{"book", "roomy", "size=10pt leading=130%"})
	if err != nil {
		t.Fatal(err)
	}
	r := &comparison{job: j}
	for _, n := range named {
		e, err := new(compareCall).edit(j, n)
		if err != nil {
			t.Fatal(err)
		}
		r.Editions = append(r.Editions, e)
	}
	if err := r.set(ctx, io.Discard); err != nil {
		t.Fatal(err)
	}
	panels, err := r.panels(ctx, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if len(panels) != 2 { // the third differs from the first in size and leading alone
		t.Fatalf("there are %d panels, not 2", len(panels))
	}
	marked := 0
	for _, p := range panels {
		if len(p.Sizes) < gridSizes || len(p.Leadings) < gridLeadings {
			t.Errorf("%s: the chart has %d sizes and %d leadings", p.Name, len(p.Sizes), len(p.Leadings))
		}
		for _, c := range p.Chosen {
			marked++
			if got, want := p.Pages[c.Leading][c.Size], r.Editions[c.Edition].Pages; got != want {
				t.Errorf("%s: edition %d has %d pages in the chart and %d in the table", p.Name, c.Edition, got, want)
			}
		}
		// A corner that no edition is at.
		s := r.Editions[p.Chosen[0].Edition].setting
		s.Size, s.Leading = length.Value{Length: p.Sizes[0]}, typeset.Leading{Value: length.Value{Length: p.Leadings[len(p.Leadings)-1]}}
		l, err := j.composer.Compose(ctx, s)
		if err != nil {
			t.Fatal(err)
		}
		if got := p.Pages[len(p.Leadings)-1][0]; got != len(l.Pages) {
			t.Errorf("%s: a corner has %d pages, and makes %d", p.Name, got, len(l.Pages))
		}
	}
	if marked != len(r.Editions) {
		t.Errorf("%d editions are marked, not %d", marked, len(r.Editions))
	}
	page, err := r.page(ctx, io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if err := report.Write(io.Discard, page); err != nil {
		t.Error(err)
	}
}

func TestAround(t *testing.T) {
	pt := func(all ...int64) (l []length.Length) {
		for _, n := range all {
			l = append(l, length.Length(n)*length.Point)
		}
		return l
	}
	for _, c := range []struct {
		chosen     []length.Length
		n          int
		belowFirst bool
		want       []length.Length
	}{
		{pt(11), 5, true, pt(9, 10, 11, 12, 13)},
		{pt(14), 4, false, pt(13, 14, 15, 16)},
		{pt(12, 10, 12), 2, true, pt(10, 11, 12)},
		{pt(10, 30), 2, true, pt(10, 11, 12, 13, 14, 15, 16, 30)},
		{pt(2), 3, true, pt(2, 3, 4)},
		{pt(1, 2, 3, 4, 5), 4, true, pt(1, 2, 3, 4, 5)},
	} {
		if got := around(c.chosen, c.n, length.Point, c.belowFirst); cmp.Diff(c.want, got) != "" {
			t.Errorf("around %v: %v, not %v", c.chosen, got, c.want)
		}
	}
}

func TestApart(t *testing.T) {
	for in, want := range map[string]string{
		"5x8in":                "5\u00a0×\u00a08\u00a0in",
		"B-format, 129x198mm":  "B-format, 129\u00a0×\u00a0198\u00a0mm",
		"+0.5pt":               "+0.5\u00a0pt",
		"130% (14.3pt)":        "130% (14.3\u00a0pt)",
		"leaders no, levels 1": "leaders no, levels 1",
		"Example 4 printing":   "Example 4 printing",
	} {
		if got := apart(in); got != want {
			t.Errorf("%q becomes %q, not %q", in, got, want)
		}
	}
}
