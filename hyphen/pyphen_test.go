package hyphen

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// The independent implementation is pyphen (Debian's python3-pyphen), which knows nothing of our code. It reads the
// patterns of our data file, rewritten as the .dic file that it takes, and the words of Debian's word lists.
//
// What is compared, word by word: the points of a word must be those of its parts. A part is a longest run of letters;
// where the patterns of the language have the apostrophe, a run may have single apostrophes between its letters. pyphen
// gets one part at a time and applies the minima, which it counts from the ends of what it gets. Minima of ours count
// from an apostrophe as well: a part that has one goes to pyphen with minima of 1, and the rule is applied here, to its
// answer. Nothing else is left out or adapted.

const pyphenScript = `
import sys, pyphen
file, left, right = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
usual = pyphen.Pyphen(filename=file, left=left, right=right)
raw = pyphen.Pyphen(filename=file, left=1, right=1)
for part in sys.stdin.read().split("\n")[:-1]:
    sys.stdout.write(" ".join(map(str, (raw if "'" in part else usual).positions(part))) + "\n")
`

func TestAgainstPyphen(t *testing.T) {
	lists := map[string]string{
		"en-US": "/usr/share/dict/american-english", // Debian's wamerican
		"fr":    "/usr/share/dict/french",           // wfrench
		"de":    "/usr/share/dict/ngerman",          // wngerman
	}
	needPython(t)
	var some []string // for the languages without a list, words that may be of another language: the patterns do not care
	for _, file := range lists {
		for i, w := range readWords(t, file) {
			if i%100 == 0 {
				some = append(some, w)
			}
		}
	}
	for _, tag := range Languages() {
		t.Run(tag, func(t *testing.T) {
			t.Parallel()
			words := some
			if file, ok := lists[tag]; ok && !testing.Short() {
				words = readWords(t, file)
			}
			comparePyphen(t, tag, words)
		})
	}
}

func comparePyphen(t *testing.T, tag string, words []string) {
	d, err := Load(tag)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "patterns.dic")
	knows := writeDic(t, tag, file)

	var parts []part // all of all words
	of := make([][]part, len(words))
	for i, w := range words {
		of[i] = cutParts(w, knows)
		parts = append(parts, of[i]...)
	}
	before, after := d.Mins()
	answers := askPyphen(t, file, before, after, parts)

	points, apostrophes, differ := 0, 0, 0
	for i, w := range words {
		var want []int
		for _, p := range of[i] {
			answer := answers[0]
			answers = answers[1:]
			if strings.Contains(p.text, "'") {
				apostrophes++
				answer = slices.DeleteFunc(answer, func(n int) bool { return !keeps(p.text, n, before, after) })
			}
			for _, n := range answer {
				want = append(want, p.offset+byteOffset(p.text, n))
			}
		}
		points += len(want)
		if got := d.Points(nil, w); !slices.Equal(got, want) {
			if differ++; differ <= 20 {
				t.Errorf("%s: got %s, pyphen has %s", w, insert(w, got), insert(w, want))
			}
		}
	}
	t.Logf("%s: %d words, %d parts of which %d with an apostrophe, %d points; %d words differ",
		tag, len(words), len(parts), apostrophes, points, differ)
	if points < len(words)/2 {
		t.Errorf("only %d points in %d words: this compares nothing", points, len(words))
	}
}

type part struct {
	text   string
	offset int
}

func cutParts(word string, apostrophe bool) (parts []part) {
	start := -1
	for i, r := range word + " " {
		in := unicode.IsLetter(r)
		if r == '\'' && apostrophe && start >= 0 && !strings.HasSuffix(word[:i], "'") {
			next, _ := utf8.DecodeRuneInString(word[i+1:])
			in = unicode.IsLetter(next)
		}
		if in && start < 0 {
			start = i
		}
		if !in && start >= 0 {
			parts = append(parts, part{word[start:i], start})
			start = -1
		}
	}
	return parts
}

// keeps tells whether a hyphen before rune n leaves that many letters up to the nearest apostrophe or end.
func keeps(text string, n, before, after int) bool {
	rs := []rune(text)
	back, ahead := 0, 0
	for i := n - 1; i >= 0 && rs[i] != '\''; i-- {
		back++
	}
	for i := n; i < len(rs) && rs[i] != '\''; i++ {
		ahead++
	}
	return back >= before && ahead >= after
}

func byteOffset(s string, runes int) int {
	return len(string([]rune(s)[:runes]))
}

func askPyphen(t *testing.T, file string, before, after int, parts []part) [][]int {
	t.Helper()
	var in, out, problems bytes.Buffer
	for _, p := range parts {
		in.WriteString(p.text + "\n")
	}
	cmd := exec.CommandContext(t.Context(), python, "-c", pyphenScript, file, strconv.Itoa(before), strconv.Itoa(after))
	cmd.Env = append(os.Environ(), "PYTHONUTF8=1")
	cmd.Stdin, cmd.Stdout, cmd.Stderr = &in, &out, &problems
	if err := cmd.Run(); err != nil {
		t.Fatalf("pyphen: %v\n%s", err, problems.String())
	}
	lines := strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
	if len(lines) != len(parts) {
		t.Fatalf("pyphen answered %d of %d questions", len(lines), len(parts))
	}
	answers := make([][]int, len(parts))
	for i, l := range lines {
		for _, f := range strings.Fields(l) {
			n, err := strconv.Atoi(f)
			if err != nil {
				t.Fatal(err)
			}
			answers[i] = append(answers[i], n)
		}
	}
	return answers
}

// writeDic rewrites a file of data for pyphen and tells whether its patterns have an apostrophe. An exception becomes a
// pattern of the whole word, in the way of that format: 9 where there is a hyphen, 8 where there is none.
func writeDic(t *testing.T, tag, file string) (apostrophe bool) {
	t.Helper()
	_, name, _ := match(tag)
	text, err := data.ReadFile("data/" + name + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	out.WriteString("UTF-8\n")
	exception := false
	for line := range strings.Lines(string(text)) {
		line = strings.TrimSpace(line)
		switch {
		case line == "" || line[0] == '#':
		case line[0] == ':':
			exception = line == ":exceptions"
		case exception:
			out.WriteString(".8")
			for i, r := range line {
				switch {
				case r == '-':
				case i > 0 && line[i-1] == '-':
					fmt.Fprintf(&out, "9%c", r)
				case i > 0:
					fmt.Fprintf(&out, "8%c", r)
				default:
					out.WriteRune(r)
				}
			}
			out.WriteString("8.\n")
		default:
			apostrophe = apostrophe || strings.Contains(line, "'")
			out.WriteString(line + "\n")
		}
	}
	if err := os.WriteFile(file, out.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	return apostrophe
}

const python = "/usr/bin/python3" // Debian's own: others do not see Debian's modules

func needPython(t *testing.T) {
	t.Helper()
	if out, err := exec.CommandContext(t.Context(), python, "-c", "import pyphen").CombinedOutput(); err != nil {
		missing(t, "pyphen does not run (Debian: python3-pyphen): %v %s", err, out)
	}
}

func readWords(t *testing.T, file string) []string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		missing(t, "no word list (Debian: wamerican, wfrench, wngerman): %v", err)
	}
	return strings.Fields(string(text))
}

// missing skips a test for want of something from outside, which a user may lack and the project's own checks may not.
func missing(t *testing.T, format string, args ...any) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf(format, args...)
	}
	t.Skipf(format, args...)
}

// insert shows a word with hyphens at points.
func insert(word string, points []int) string {
	var b strings.Builder
	at := 0
	for _, p := range points {
		b.WriteString(word[at:p] + "-")
		at = p
	}
	return b.String() + word[at:]
}
