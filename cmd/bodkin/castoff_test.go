package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"bodkin/markup/markuptest"
	"bodkin/typeset"

	"github.com/google/go-cmp/cmp"
	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/spf13/pflag"
	"golang.org/x/sync/errgroup"
	"pgregory.net/rapid"
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
		{"size", "1..900/0.01", `error "1..900/0.01" has 89 901 values`},
		{"size", "", `error there is no value between the commas of ""`},
		{"size", "10,,11", `error there is no value between the commas of "10,,11": write values as in 10pt,11pt`},
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

// pieces are the books of which castoff and proof are held against each other:
// two whole ones, which take long, and pieces of them and of a novel.
func pieces(t *testing.T) []string {
	dir := t.TempDir()
	cut := func(from, name string, body ...string) string {
		to := filepath.Join(dir, name)
		if err := os.CopyFS(to, os.DirFS(from)); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(to, "book.toml")
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		list, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		text = regexp.MustCompile(`(?m)^body .*$`).ReplaceAll(text, append([]byte("body = "), list...))
		text = regexp.MustCompile(`, "front/map.md on verso"|(?m)^back .*$`).ReplaceAll(text, nil)
		if err := os.WriteFile(path, text, 0o666); err != nil {
			t.Fatal(err)
		}
		return to
	}
	novel, err := os.ReadFile(markuptest.TomSawyer(t).Path)
	if err != nil {
		t.Fatal(err)
	}
	chapters := strings.SplitAfterN(string(novel), "\n# ", 4)
	tom := filepath.Join(dir, "tom-sawyer.md")
	if err := os.WriteFile(tom, []byte(strings.TrimSuffix(strings.Join(chapters[:3], ""), "\n# ")), 0o666); err != nil {
		t.Fatal(err)
	}
	const clerk, ferry = "../../testdata/tide-clerk", "../../testdata/night-ferry"
	return []string{tom, cut(clerk, "flood", "parts/flood.md", "chapters/0[2-3]-*.md"), clerk, cut(ferry, "ferry", "spreads/01-day.md", "spreads/12-morning.md")}
}

// anyFlags draws the flags of a setting.
func anyFlags(t *rapid.T) []string {
	pick := func(name string, values ...string) []string {
		return []string{"--" + name, rapid.SampledFrom(values).Draw(t, name)}
	}
	to := func(name, format string, from, most int) []string {
		return []string{"--" + name, fmt.Sprintf(format, float64(rapid.IntRange(from, most).Draw(t, name)))}
	}
	flags := pick("trim", "5x8in", "5.5x8.5in", "6x9in", "B-format", "A5", "royal", "4.75x7.5in", "133.3x203.2mm")
	for _, more := range [][]string{
		pick("face", "EB Garamond", "Crimson Pro", "Literata", "Alegreya", "Libre Caslon Text", "Source Serif 4", "Spectral"),
		{"--size", fmt.Sprintf("%gpt", float64(rapid.IntRange(34, 50).Draw(t, "quarters of a point"))/4)},
		pick("leading", "13pt", "14.5pt", "118%", "127.5%", "1.05 lines", "1.3 lines"),
		pick("back", "auto", "auto", "0.5in", "17mm"),
		to("fore-edge", "%gmm", 9, 16), to("head", "%gmm", 14, 22), to("foot", "%gmm", 14, 22),
		pick("pages", "even", "fewest"), pick("opens", "next", "recto"), pick("opening", "small-caps", "drop-cap", "plain"),
		pick("notes", "foot", "chapter"), pick("hyphenate", "true", "false"), pick("widen", "0%", "1%"), pick("folios", "foot", "head-outer", "none"),
	} {
		flags = append(flags, more...)
	}
	return flags
}

// The pages of a castoff are those of the files that proof writes, as pdfcpu
// counts them: for two hundred settings, two at a time.
func TestCastoffCountsTheFile(t *testing.T) {
	api.DisableConfigDir()
	ctx := context.Background()
	type loaded struct {
		path   string
		job    *job
		offers []offer
	}
	var books []loaded
	for _, path := range pieces(t) {
		j, err := new(settingFlags).load(ctx, path)
		if err != nil {
			t.Fatal(err)
		}
		offers, err := new(editionFlags).all(j, "")
		if err != nil {
			t.Fatal(err)
		}
		books = append(books, loaded{path, j, offers})
	}
	dir := t.TempDir()
	var files, faults atomic.Int64
	rapid.Check(t, func(t *rapid.T) {
		// The whole book and the pictures are set in one case of twenty each.
		which := rapid.SampledFrom([]int{0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 3}).Draw(t, "book")
		book := &books[which]
		calls := [][]string{anyFlags(t), anyFlags(t)}
		var settings []typeset.Setting
		for _, args := range calls {
			var f settingFlags
			flags := pflag.NewFlagSet("", pflag.ContinueOnError)
			f.add(flags)
			if err := flags.Parse(args); err != nil {
				t.Fatal(err)
			}
			s := book.job.setting
			for _, change := range f.changes {
				change(&s)
			}
			settings = append(settings, s)
		}
		told := castoffReport{Signature: commonSignature}
		if err := told.fill(ctx, book.job, book.offers, settings, func() {}); err != nil {
			if told.Settings == nil || told.Settings[0].Fault != err.Error() {
				t.Fatal(err)
			}
		}
		var proofs errgroup.Group
		for i := range told.Settings {
			row := &told.Settings[i]
			args := calls[0]
			bare := row.setting
			if bare.Press = nil; bare != settings[0] {
				args = calls[1]
			}
			proofs.Go(func() error {
				out := filepath.Join(dir, fmt.Sprint(i)+".pdf")
				var stderr bytes.Buffer
				code := run(append([]string{"proof", book.path, "-o", out}, args...), new(bytes.Buffer), &stderr)
				if row.Fault != "" {
					faults.Add(1)
					if code == 0 || !strings.Contains(stderr.String(), row.Fault) {
						return fmt.Errorf("%v: the castoff says %q, and proof exits with %d: %s", args, row.Fault, code, &stderr)
					}
					return nil
				}
				if code != 0 {
					return fmt.Errorf("%v: exit %d: %s", args, code, &stderr)
				}
				files.Add(1)
				if n, err := api.PageCountFile(out); err != nil || n != row.Pages {
					return fmt.Errorf("%v: the file has %d pages (%v), the castoff says %d", args, n, err, row.Pages)
				}
				return nil
			})
		}
		if err := proofs.Wait(); err != nil {
			t.Error(err)
		}
	})
	t.Logf("%d files, %d settings that cannot be set", files.Load(), faults.Load())
	if files.Load() < 10*faults.Load() {
		t.Errorf("too many of the settings could not be set: %d, and %d files", faults.Load(), files.Load())
	}
}

// castoff runs the command and reads its JSON.
func castoff(t *testing.T, args ...string) castoffReport {
	t.Helper()
	var out, stderr bytes.Buffer
	if code := run(append([]string{"castoff", "--json"}, args...), &out, &stderr); code != 0 {
		t.Fatalf("%v: exit %d: %s", args, code, &stderr)
	}
	var r castoffReport
	if err := json.Unmarshal(out.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

// Common practice, no source: 12 to 10.5 pt, and then 1.4 to 1.15 lines of
// leading, each take away on the order of a fifth to a sixth of the pages; and
// a book at a smaller trim has more pages, though it is a smaller book. The
// face and the margins are those in which typeset's test of the same steps
// comes nearest to the words a page that the practice tells of.
func TestCastoffShowsCommonPractice(t *testing.T) {
	book := markuptest.TomSawyer(t).Path
	common := []string{book, "--face", "Libre Caslon Text", "--fore-edge", "0.625in", "--head", "0.75in", "--foot", "0.75in"}
	pages := make(map[string]int)
	for _, row := range castoff(t, append(common, "--size", "10.5pt,12pt", "--leading", "1.15 lines,1.4 lines")...).Settings {
		pages[fmt.Sprintf("%g, %v", row.Size, row.Leading > row.Size*1.5)] = row.Pages
	}
	for _, step := range []struct{ what, from, to string }{
		{"12 to 10.5 pt", "12, true", "10.5, true"},
		{"1.4 to 1.15 lines", "10.5, true", "10.5, false"},
	} {
		gone := 1 - float64(pages[step.to])/float64(pages[step.from])
		t.Logf("%s: %d to %d pages, %.3f of them gone", step.what, pages[step.from], pages[step.to], gone)
		if gone < 1./6-0.04 || gone > 1./5+0.04 {
			t.Errorf("%s takes away %.3f of the pages, want a fifth to a sixth", step.what, gone)
		}
	}
	rows := castoff(t, append(common, "--trim", "6x9in,5.5x8.5in,5.25x8in,5x8in,4.25x6.87in")...).Settings
	for i, row := range rows[1:] {
		before := &rows[i]
		area := func(s string) typeset.Size {
			trim, err := typeset.ParseTrim(s)
			if err != nil {
				t.Fatal(err)
			}
			return trim.Size()
		}
		is, was := area(row.Trim), area(before.Trim)
		t.Logf("%s: %d pages; %s: %d", before.Trim, before.Pages, row.Trim, row.Pages)
		if row.Pages <= before.Pages || row.Edition.Spine <= before.Edition.Spine || is.Width*is.Height >= was.Width*was.Height {
			t.Errorf("%s has %d pages and %s %d: the smaller trim must have more", row.Trim, row.Pages, before.Trim, before.Pages)
		}
	}
}

// The same table, as values that commas part, as JSON and as a file.
func TestCastoffForms(t *testing.T) {
	dir := t.TempDir()
	args := []string{"../../testdata/tide-clerk", "--size", "10..11/0.5", "--trim", "5x8in,6x9in,2x2in", "--list", "9.99"}
	told := castoff(t, args...)
	var values bytes.Buffer
	if code := run(append([]string{"castoff", "--csv"}, args...), &values, new(bytes.Buffer)); code != 0 {
		t.Fatalf("exit %d", code)
	}
	for _, name := range []string{"pages.csv", "pages.JSON"} {
		var table bytes.Buffer
		path := filepath.Join(dir, name)
		if code := run(append([]string{"castoff", "-o", path}, args...), &table, new(bytes.Buffer)); code != 0 {
			t.Fatalf("exit %d", code)
		}
		if !strings.Contains(table.String(), "row") || !strings.Contains(table.String(), "cannot be set") {
			t.Errorf("no table is printed beside %s: %s", name, &table)
		}
		written, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if name == "pages.csv" {
			if diff := cmp.Diff(values.String(), string(written)); diff != "" {
				t.Error(diff)
			}
			continue
		}
		var read castoffReport
		if err := json.Unmarshal(written, &read); err != nil {
			t.Fatal(err)
		}
		if len(read.Settings) != len(told.Settings) || read.Settings[3].Pages != told.Settings[3].Pages {
			t.Errorf("%s has another table", name)
		}
	}
	rows, err := csv.NewReader(&values).ReadAll()
	if err != nil || len(rows) != 11 || len(told.Settings) != 9 {
		t.Fatalf("%d rows (%v), %d settings", len(rows), err, len(told.Settings))
	}
	own := &told.Own
	for i, row := range append([]castoffRow{*own}, told.Settings...) {
		cell := func(name string) string {
			for k, head := range rows[0] {
				if head == name {
					return rows[i+1][k]
				}
			}
			t.Fatalf("no column %q", name)
			return ""
		}
		if cell("row") != strconv.Itoa(i) || row.Row != i || cell("trim") != row.Trim || cell("size") != number(row.Size) || cell("fault") != row.Fault {
			t.Errorf("row %d is %v, and %+v", i, rows[i+1], row)
		}
		if row.Fault != "" {
			if row.Trim != "2x2in" || cell("pages") != "" {
				t.Errorf("row %d: %+v", i, row)
			}
			continue
		}
		for name, want := range map[string]string{"pages": strconv.Itoa(row.Pages), "difference": strconv.Itoa(row.Pages - own.Pages), "used of the last": strconv.Itoa(row.Last.Used),
			"spine": number(row.Edition.Spine), "charge": row.Edition.Charge, "earnings": row.Edition.Earnings, "list price": "9.99", "fore-edge": number(row.ForeEdge)} {
			if cell(name) != want || want == "" {
				t.Errorf("row %d: %s is %q, want %q", i, name, cell(name), want)
			}
		}
		if used, free := row.Last.Used, row.Last.Free; used+free != 16 || (row.Pages+free)%16 != 0 || used < 1 || free < 0 {
			t.Errorf("row %d: of %d pages, %d are in the last signature and %d free", i, row.Pages, used, free)
		}
	}
}

// Each printer has rows of its own, which are set as it asks.
func TestCastoffOfSeveralPrinters(t *testing.T) {
	dir := t.TempDir()
	text, err := os.ReadFile("../../testdata/tide-clerk/printer.toml")
	if err != nil {
		t.Fatal(err)
	}
	other := strings.Replace(string(text), "Saltmarsh Printworks", "Reed Press", 1)
	other = strings.Replace(other, "multiple = 2", "multiple = 16", 1)
	if other == string(text) || !strings.Contains(other, "multiple = 16") {
		t.Fatal("the terms have no multiple to change")
	}
	path := filepath.Join(dir, "other.toml")
	if err := os.WriteFile(path, []byte(other), 0o666); err != nil {
		t.Fatal(err)
	}
	r := castoff(t, "../../testdata/tide-clerk", "--size", "10pt,12pt", "--printer", "../../testdata/tide-clerk/printer.toml,"+path)
	if len(r.Settings) != 4 {
		t.Fatalf("%d rows", len(r.Settings))
	}
	seen := make(map[string]int)
	for _, row := range r.Settings {
		seen[row.Edition.Printer]++
		if row.Edition.Printer == "Reed Press (invented)" && (row.Pages%16 != 0 || row.Last.Free != 0) {
			t.Errorf("%d pages are not filled to 16", row.Pages)
		}
	}
	if seen["Reed Press (invented)"] != 2 || len(seen) != 2 {
		t.Errorf("rows of printers: %v", seen)
	}
}

// A large castoff says on any output how long it will take; a small one does
// not.
func TestStepsTellTheTime(t *testing.T) {
	for of, want := range map[int]string{500: "", 501: `^501 settings: about [0-9]+ s\n$`, 10_000: `^10 000 settings: about [0-9]+ s\n$`} {
		var out bytes.Buffer
		s := showSteps(&out, of, "setting")
		for range of {
			s.step()
		}
		s.done()
		if want == "" && out.Len() > 0 || want != "" && !regexp.MustCompile(want).Match(out.Bytes()) {
			t.Errorf("of %d steps it says %q", of, &out)
		}
	}
	for seconds, want := range map[float64]string{0.2: "1 s", 7.3: "8 s", 41: "45 s", 97: "100 s", 130: "3 min"} {
		if got := span(time.Duration(seconds * float64(time.Second))); got != want {
			t.Errorf("%v seconds are %s, want %s", seconds, got, want)
		}
	}
}

// A castoff that is stopped leaves nothing behind.
func TestCastoffStopped(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	root := rootCommand()
	root.SetArgs([]string{"castoff", "../../testdata/tide-clerk", "--size", "10..12/0.25", "-o", filepath.Join(dir, "pages.csv")})
	var out bytes.Buffer
	root.SetOut(&out)
	root.SetErr(&out)
	if err := root.ExecuteContext(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("stopped: %v", err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 || out.Len() > 0 {
		t.Errorf("it left %v, and said %q", left, &out)
	}
}
