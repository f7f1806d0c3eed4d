package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
)

// novel sets Tom Sawyer (70 057 words), which comes with the module
// github.com/klauspost/compress, from where it lies.
func novel(tb testing.TB) *typeset.Layout {
	skip := tb.Skip
	if os.Getenv("CI") == "true" {
		skip = tb.Fatal
	}
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/klauspost/compress").Output()
	if err != nil {
		skip("go list does not find the module that carries the text: ", err)
	}
	text, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "testdata", "Mark.Twain-Tom.Sawyer.txt"))
	if err != nil {
		skip("the text is not there: ", err)
	}
	l, err := layouttest.Set(strings.ReplaceAll(string(text), "\r\n", "\n"), layouttest.Style{})
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

// BenchmarkNovel is a whole novel from layout to bytes. Run it with -cpu 1.
func BenchmarkNovel(b *testing.B) {
	l := novel(b)
	var size int
	for b.Loop() {
		var w bytes.Buffer
		if err := Write(&w, l, Options{}); err != nil {
			b.Fatal(err)
		}
		size = w.Len()
	}
	b.ReportMetric(float64(len(l.Pages)), "pages")
	b.ReportMetric(float64(size), "bytes")
	b.ReportAllocs()
}
