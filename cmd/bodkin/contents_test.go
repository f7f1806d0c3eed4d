package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"bodkin/markup/markuptest"
	"bodkin/typeset"
)

// The folios in the contents are those at the foot of the pages, as pdftotext
// reads both.
func TestContentsFolios(t *testing.T) {
	const path = "../../testdata/tide-clerk"
	for _, setting := range []string{"", "roomy"} {
		out := filepath.Join(t.TempDir(), "out.pdf")
		var stdout, stderr bytes.Buffer
		if code := run([]string{"proof", path, "--setting", setting, "-o", out}, &stdout, &stderr); code != 0 {
			t.Fatalf("exit %d: %s", code, &stderr)
		}
		text := func(page int) []string {
			n := fmt.Sprint(page + 1)
			return strings.Split(strings.Trim(markuptest.Tool(t, "pdftotext", "-layout", "-f", n, "-l", n, out, "-"), "\n\f "), "\n")
		}
		l := settingLayoutOf(t, path, setting)
		listed := map[string]string{} // what the contents say of a title
		for i := 0; l.Pages[i].Label != "1"; i++ {
			if lines := text(i); strings.TrimSpace(lines[0]) == "Contents" || len(listed) > 0 && len(listed) < 3 {
				for _, line := range lines[1:] {
					if words := strings.Fields(strings.ReplaceAll(line, " .", "")); len(words) > 1 {
						listed[strings.ToLower(strings.Join(words[:len(words)-1], " "))] = words[len(words)-1]
					}
				}
			}
		}
		checked := 0
		for _, e := range l.Entries {
			_, title, found := strings.Cut(e.Title, ": ")
			if !found {
				title = e.Title
			}
			folio := ""
			for said, f := range listed {
				if said == strings.ToLower(title) || strings.HasSuffix(said, " "+strings.ToLower(title)) {
					folio = f
				}
			}
			lines := text(e.Page)
			foot := strings.TrimSpace(lines[len(lines)-1])
			if folio == "" || strings.HasPrefix(strings.ToLower(e.Title), "part") {
				continue // a title of several lines, or a part, whose page is blind
			}
			if checked++; foot != folio {
				t.Errorf("setting %q: %q is on page %q, the contents say %q", setting, e.Title, foot, folio)
			}
		}
		if checked < 10 {
			t.Errorf("setting %q: only %d titles were found in the contents: %v", setting, checked, listed)
		}
	}
}

func settingLayoutOf(t *testing.T, path, setting string) *typeset.Layout {
	t.Helper()
	j, err := (&settingFlags{name: setting}).load(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	l, err := j.composer.Compose(t.Context(), j.setting)
	if err != nil {
		t.Fatal(err)
	}
	return l
}
