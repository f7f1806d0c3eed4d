package main

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// pngChunk is a chunk as ISO/IEC 15948, 5.3 has it.
func pngChunk(kind string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, kind...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// odd writes the pictures that the table of faults names.
func odd(t *testing.T, dir string) {
	t.Helper()
	write := func(name string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	img := image.NewGray(image.Rect(0, 0, 900, 600))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * 7)
	}
	var whole bytes.Buffer
	if err := png.Encode(&whole, img); err != nil {
		t.Fatal(err)
	}
	write("good.png", whole.Bytes())
	write("short.png", whole.Bytes()[:whole.Len()/2])
	header := func(width, height uint32) []byte {
		b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)
		return append(b, 8, 0, 0, 0, 0)
	}
	huge := []byte("\x89PNG\r\n\x1a\n")
	huge = append(huge, pngChunk("IHDR", header(30000, 30000))...)
	write("huge.png", append(append(huge, pngChunk("IDAT", []byte{1})...), pngChunk("IEND", nil)...))
	moves := append([]byte("\x89PNG\r\n\x1a\n"), pngChunk("IHDR", header(9, 9))...)
	moves = append(moves, pngChunk("acTL", make([]byte, 8))...)
	write("moves.png", append(append(moves, pngChunk("IDAT", []byte{1})...), pngChunk("IEND", nil)...))
	write("drawing.svg", []byte("<svg xmlns='http://www.w3.org/2000/svg'/>"))
	write("text.png", []byte("not a picture"))
}

// What a manuscript can have wrong gives one line with its place and its
// mend, or a result that is stated here.
func TestFaultsOfManuscripts(t *testing.T) {
	word := strings.Repeat("tide", 100)
	for _, c := range []struct{ name, text, fault, shown string }{
		{name: "no such picture", text: "![a](none.png)", fault: "book.md:3: there is no picture \"none.png\""},
		{name: "a picture that is huge", text: "![a](huge.png)", fault: "book.md:3: picture …huge.png: 30000 by 30000 pixels are more than the 300 million"},
		{name: "a picture cut short", text: "![a](short.png)", fault: "book.md:3: picture …short.png: the file ends too early"},
		{name: "a picture that moves", text: "![a](moves.png)", fault: "book.md:3: picture …moves.png: the picture moves"},
		{name: "a drawing", text: "![a](drawing.svg)", fault: "book.md:3: picture …drawing.svg: "},
		{name: "no picture at all", text: "![a](text.png)", fault: "book.md:3: picture …text.png: "},
		{name: "a picture from elsewhere", text: "![a](../../etc/x.png)", fault: "leads out of the book folder"},
		{name: "a picture from the net", text: "![a](https://tides.example/x.png)", fault: "is not a file of the book folder"},
		{name: "a picture in a line", text: "here ![a](good.png) it is", fault: "book.md:3: "},
		{name: "a picture that is coarse", text: "![a](good.png){.bleed}", shown: "a page of its own"},
		{name: "a note without text", text: "a[^1]\n\n[^1]:\n", fault: "book.md:5: note [^1] has no text"},
		{name: "a reference without a note", text: "a[^1]", fault: "book.md:3: there is no note [^1]"},
		{name: "a note without a reference", text: "a\n\n[^1]: b", fault: "book.md:5: note [^1] is never referred to"},
		{name: "a table wider than the page", text: "| a | b | c |\n|--|--|--|\n| " + word[:90] + " | " + word[:90] + " | b |", fault: "book.md:3: the words of this table need "},
		{name: "a heading of 400 letters", text: "## " + strings.Repeat("the tide clerk ", 27), shown: "turned over several lines"},
		{name: "a word of 400 letters", text: word, shown: "divided at the end of each line"},
		{name: "a fence that is not closed", text: "```verse\na\n", fault: "book.md:3: "},
		{name: "an attribute that is not known", text: "## A {.unnumberd}", fault: "book.md:3: "},
	} {
		dir := t.TempDir()
		odd(t, dir)
		book := filepath.Join(dir, "book.md")
		if err := os.WriteFile(book, []byte("# The Ebb\n\n"+c.text+"\n"), 0o666); err != nil {
			t.Fatal(err)
		}
		var stdout, stderr bytes.Buffer
		code := run([]string{"proof", book, "-o", filepath.Join(dir, "out.pdf")}, &stdout, &stderr)
		said := strings.TrimSpace(stderr.String())
		_, err := os.Stat(filepath.Join(dir, "out.pdf"))
		switch {
		case c.shown != "" && (code != 0 || err != nil):
			t.Errorf("%s: exit %d, %s; it should be %s", c.name, code, said, c.shown)
		case c.fault != "" && (code != 1 || !containsAll(said, strings.Split(c.fault, "…")) || strings.Contains(said, "\n")):
			t.Errorf("%s: exit %d\n got %s\nwant %s", c.name, code, said, c.fault)
		case c.fault != "" && err == nil:
			t.Errorf("%s: a file was written all the same", c.name)
		}
	}
}

func containsAll(s string, parts []string) bool {
	for _, p := range parts {
		if !strings.Contains(s, p) {
			return false
		}
	}
	return true
}
