package pdf

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"

	"bodkin/typeset"
	"bodkin/typeset/internal/layouttest"
)

func TestMain(m *testing.M) {
	api.DisableConfigDir() // leave the user's folders alone
	os.Exit(m.Run())
}

// sample is a text with all that can go wrong when it is read back.
const sample = `+The+ +Long+ +Ebb+ began in the office by the fjord, and the first of the clerks,
who was *afflicted* by a difficult waffle, put AWAY his VAT returns. ^12 Ten thousand
wonderful afternoons, wonderful afternoons, wonderful afternoons went by unexpectedly.

A naïve façade of Ærø: Dvořák’s “flat five” — 1847–1902… q̃ and x̣̄ and well-known half-truths, and
+ALL+ *offices* +all+ shuffled their raffle tickets, nevertheless understanding everything
remembered throughout afternoons although nobody considered extraordinarily unusual whatever happened afterwards.`

func set(tb testing.TB, text string, s layouttest.Style) *typeset.Layout {
	tb.Helper()
	l, err := layouttest.Set(text, s)
	if err != nil {
		tb.Fatal(err)
	}
	return l
}

// fataler is a *testing.T, a *testing.B or a *rapid.T.
type fataler interface {
	Helper()
	Fatal(...any)
	Fatalf(string, ...any)
}

func write(tb fataler, l *typeset.Layout, o Options) []byte {
	tb.Helper()
	var b bytes.Buffer
	if err := Write(&b, l, o); err != nil {
		tb.Fatal(err)
	}
	return b.Bytes()
}

// save writes a file that external programs can read.
func save(t *testing.T, file []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(path, file, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// open reads a file with pdfcpu, which validates it.
func open(tb fataler, file []byte) *model.Context {
	tb.Helper()
	ctx, err := api.ReadAndValidate(bytes.NewReader(file), model.NewDefaultConfiguration())
	if err != nil {
		tb.Fatalf("pdfcpu: %v", err)
	}
	return ctx
}
