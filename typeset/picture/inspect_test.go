package picture

import (
	"encoding/binary"
	"errors"
	"io/fs"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"bodkin/typeset/length"
)

// TestInspect reads the headers of files that ImageMagick made.
func TestInspect(t *testing.T) {
	for _, test := range []struct {
		name, args string
		want       Info
	}{
		{"rgb.png", "-define png:color-type=2", Info{PNG, 37, 23, 0, 0, 8, RGB, false, 1}},
		{"rgb16.png", "-depth 16 -define png:bit-depth=16", Info{PNG, 37, 23, 0, 0, 16, RGB, false, 1}},
		{"gray.png", "-colorspace Gray -density 300 -units PixelsPerInch", Info{PNG, 37, 23, 300, 300, 8, Gray, false, 1}},
		{"gray-alpha.png", "-colorspace Gray -alpha set -channel A -evaluate set 40% -define png:color-type=4", Info{PNG, 37, 23, 0, 0, 8, Gray, true, 1}},
		{"two.png", "-threshold 50% -density 600x300 -units PixelsPerInch", Info{PNG, 37, 23, 600, 300, 1, Bilevel, false, 1}},
		{"palette.png", "-posterize 2 -type Palette", Info{PNG, 37, 23, 0, 0, 4, Indexed, false, 1}},
		{"palette-alpha.png", "-posterize 2 -alpha set -fuzz 30% -transparent yellow PNG8:", Info{PNG, 37, 23, 0, 0, 4, Indexed, true, 1}},
		{"interlaced.png", "-interlace PNG -define png:color-type=2", Info{PNG, 37, 23, 0, 0, 8, RGB, false, 1}},
		{"rgb.jpg", "-density 240 -units PixelsPerInch", Info{JPEG, 37, 23, 240, 240, 8, RGB, false, 1}},
		{"centimetre.jpg", "-density 118 -units PixelsPerCentimeter", Info{JPEG, 37, 23, 300, 300, 8, RGB, false, 1}},
		{"progressive.jpg", "-interlace Plane", Info{JPEG, 37, 23, 0, 0, 8, RGB, false, 1}},
		{"gray.jpg", "-colorspace Gray", Info{JPEG, 37, 23, 0, 0, 8, Gray, false, 1}},
		{"cmyk.jpg", "-colorspace CMYK", Info{JPEG, 37, 23, 0, 0, 8, CMYK, false, 1}},
		{"rgb.tif", "-density 400 -units PixelsPerInch", Info{TIFF, 37, 23, 400, 400, 8, RGB, false, 1}},
		{"centimetre.tif", "-density 100 -units PixelsPerCentimeter -compress LZW", Info{TIFF, 37, 23, 254, 254, 8, RGB, false, 1}},
		{"big-endian.tif", "-endian MSB -depth 16 -compress Zip", Info{TIFF, 37, 23, 0, 0, 16, RGB, false, 1}},
		{"alpha.tif", "-alpha set -channel A -evaluate set 40% +channel -compress RLE", Info{TIFF, 37, 23, 0, 0, 8, RGB, true, 1}},
		{"fax.tif", "-threshold 50% -compress Group4 -density 600 -units PixelsPerInch", Info{TIFF, 37, 23, 600, 600, 1, Bilevel, false, 1}},
		{"cmyk.tif", "-colorspace CMYK -compress LZW", Info{TIFF, 37, 23, 0, 0, 8, CMYK, false, 1}},
		{"turned.tif", "-orient LeftBottom -density 200x100 -units PixelsPerInch", Info{TIFF, 23, 37, 100, 200, 8, RGB, false, 8}},
		{"lossy.webp", "-quality 90", Info{WebP, 37, 23, 0, 0, 8, RGB, false, 1}},
		{"lossless.webp", "-define webp:lossless=true", Info{WebP, 37, 23, 0, 0, 8, RGB, false, 1}},
		{"alpha.webp", "-alpha set -channel A -evaluate set 40% -define webp:lossless=true", Info{WebP, 37, 23, 0, 0, 8, RGB, true, 1}},
	} {
		t.Run(test.name, func(t *testing.T) {
			name, args, _ := strings.Cut(test.args, "PNG8:")
			got, err := Inspect(made(t, test.name, name+args))
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(test.want, got); diff != "" {
				t.Errorf("-want +got:\n%s", diff)
			}
		})
	}
}

// TestNotes reads the notes of a camera from each format that has them.
func TestNotes(t *testing.T) {
	for _, test := range []struct{ name, args string }{
		{"camera.jpg", "-density 72 -units Undefined"}, {"camera.png", ""}, {"camera.webp", ""},
	} {
		for _, order := range []byteOrder{binary.LittleEndian, binary.BigEndian} {
			file := noted(read(t, made(t, test.name, test.args)), notes(order, 6))
			if strings.HasSuffix(test.name, "webp") {
				binary.LittleEndian.PutUint32(file[4:], uint32(len(file)-8))
			}
			got, err := Inspect(wrote(t, test.name, file))
			if err != nil {
				t.Fatal(err)
			}
			if got.Orientation != 6 || got.Width != 23 || got.Height != 37 {
				t.Errorf("%s: %+v is not turned", test.name, got)
			}
			if got.XPPI != 120 || got.YPPI != 240 {
				t.Errorf("%s: %d by %d to the inch, want 120 by 240", test.name, got.XPPI, got.YPPI)
			}
		}
	}
}

// TestRefusals: each is one line that says what to do.
func TestRefusals(t *testing.T) {
	good := func(name, args string) []byte { return read(t, made(t, name, args)) }
	png, jpg, tif, webp := good("a.png", ""), good("a.jpg", ""), good("a.tif", "-compress LZW"), good("a.webp", "")
	patched := func(file []byte, old, new string) []byte {
		if !strings.Contains(string(file), old) {
			t.Fatalf("no %q to patch", old)
		}
		return []byte(strings.Replace(string(file), old, new, 1))
	}
	cmyk := good("c.jpg", "-colorspace CMYK")
	for _, test := range []struct {
		name string
		file []byte
		says string
	}{
		{"empty.png", nil, "empty"},
		{"text.png", []byte("Once upon a time"), "save it as PNG, JPEG or TIFF"},
		{"short.png", png[:5], "ends too early"},
		{"half.png", png[:len(png)/2], "ends too early"},
		{"endless.png", png[:len(png)-12], "ends too early"},
		{"headless.png", append([]byte(pngSignature), png[33:]...), "no header"},
		{"nothing.png", append(append([]byte(pngSignature), header(0, 9)...), png[33:]...), "shows nothing"},
		{"bomb.png", append(append([]byte(pngSignature), header(30_000, 30_000)...), png[33:]...), "30000 by 30000 pixels are more than the 300 million"},
		{"huge.png", append(append([]byte(pngSignature), header(1<<31, 1<<31)...), png[33:]...), "impossible size"},
		{"moves.png", append(append(append([]byte{}, png[:33]...), chunk("acTL", []byte{0, 0, 0, 9, 0, 0, 0, 0})...), png[33:]...), "APNG"},
		{"half.jpg", jpg[:len(jpg)/2], "ends too early"},
		{"head.jpg", jpg[:40], "ends too early"},
		{"bomb.jpg", patched(jpg, "\x08\x00\x17\x00\x25\x03", "\x08\x75\x30\x75\x30\x03"), "30000 by 30000 pixels"},
		{"twelve.jpg", patched(jpg, "\x08\x00\x17\x00\x25\x03", "\x0c\x00\x17\x00\x25\x03"), "12 bits"},
		{"arithmetic.jpg", patched(jpg, "\xff\xc0", "\xff\xc9"), "rare kind"},
		{"unmarked.jpg", patched(cmyk, "Adobe", "Other"), "0 is paper or ink"},
		{"noise.jpg", append([]byte("\xff\xd8\xff\xdb\x00\x04ab"), "noise"...), "do not follow"},
		{"half.tif", tif[:len(tif)/2], "ends too early"},
		{"bomb.tif", patched(patched(tif, "\x00\x01\x03\x00\x01\x00\x00\x00\x25\x00", "\x00\x01\x03\x00\x01\x00\x00\x00\x30\x75"),
			"\x01\x01\x03\x00\x01\x00\x00\x00\x17\x00", "\x01\x01\x03\x00\x01\x00\x00\x00\x30\x75"), "30000 by 30000 pixels"},
		{"pages.tif", good("p.tif", "-clone 0"), "2 pages"},
		{"planar.tif", good("p.tif", "-interlace Plane"), "planar"},
		{"jpeg.tif", good("j.tif", "-compress JPEG"), "cannot be read"},
		{"fax3.tif", good("g.tif", "-threshold 50% -compress Fax"), "compression 3"},
		{"channels.tif", good("g.tif", "-colorspace Gray -alpha set -channel A -evaluate set 40%"), "flatten"},
		{"half.webp", webp[:len(webp)/2], "ends too early"},
		{"moves.webp", good("m.webp", "-clone 0 -delay 10"), "animated WebP"},
		{"a.gif", good("a.gif", ""), "export it as PNG or TIFF"},
		{"a.bmp", good("a.bmp", ""), "BMP"},
		{"a.svg", []byte("<?xml version=\"1.0\"?>\n<!-- a map --><svg xmlns=\"http://www.w3.org/2000/svg\"/>"), "export it as PNG or TIFF at 600 ppi"},
		{"a.pdf", []byte("%PDF-1.4\n"), "PDF"},
		{"a.heic", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00"), "HEIF"},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := wrote(t, test.name, test.file)
			_, err := Inspect(path)
			if err == nil || !strings.Contains(err.Error(), test.says) {
				t.Fatalf("%v, want %q", err, test.says)
			}
			if !strings.HasPrefix(err.Error(), "picture "+path+": ") || strings.Contains(err.Error(), "\n") {
				t.Errorf("not a line about the file: %q", err)
			}
			t.Log(strings.TrimPrefix(err.Error(), "picture "+path+": "))
		})
	}
	if _, err := Inspect("no/such.png"); !errors.Is(err, fs.ErrNotExist) || err.Error() != "picture no/such.png: no such file or directory" {
		t.Error(err)
	}
	if _, err := Inspect(t.TempDir()); !errors.Is(err, errFolder) {
		t.Error(err)
	}
}

// TestBombs: what a header claims costs nothing.
func TestBombs(t *testing.T) {
	var files []string
	for _, size := range []uint32{17_000, 30_000, 1<<31 - 1} { // the first is within the limit
		bomb := append(append([]byte(pngSignature), header(size, size)...), chunk("IDAT", make([]byte, 100))...)
		files = append(files, wrote(t, "bomb.png", append(bomb, chunk("IEND", nil)...)))
	}
	chunks := append([]byte(pngSignature), header(9, 9)...)
	for len(chunks) < mostChunks*12+100 {
		chunks = append(chunks, chunk("noTe", nil)...)
	}
	files = append(files, wrote(t, "chunks.png", append(chunks, chunk("IEND", nil)...)))
	loop := []byte("II\x2a\x00\x08\x00\x00\x00\x01\x00\x00\x01\x03\x00\x01\x00\x00\x00\x09\x00\x00\x00\x08\x00\x00\x00")
	files = append(files, wrote(t, "loop.tif", loop))
	for i, path := range files {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		_, err := Inspect(path)
		runtime.ReadMemStats(&after)
		if (err == nil) != (i == 0) {
			t.Errorf("%s: %v", path, err)
		}
		if took := after.TotalAlloc - before.TotalAlloc; took > 1<<20 {
			t.Errorf("%s: took %d bytes", path, took)
		}
	}
}

func TestResolution(t *testing.T) {
	for _, test := range []struct {
		width, height   int
		pwidth, pheight length.Length
		want            int
	}{
		{1500, 2400, 5 * length.Inch, 8 * length.Inch, 300},
		{1500, 2000, 5 * length.Inch, 8 * length.Inch, 250}, // the coarser of the two
		{1499, 2400, 5 * length.Inch, 8 * length.Inch, 300}, // 299.8
		{1000, 1000, length.Point, length.Point, 72_000},
		{1000, 1000, 0, length.Inch, 0},
	} {
		if got := Resolution(Info{Width: test.width, Height: test.height}, test.pwidth, test.pheight); got != test.want {
			t.Errorf("%+v: %d", test, got)
		}
	}
}

// seeds are the files that fuzzing begins with.
var seeds = []string{"a.png", "a.jpg", "a.tif", "a.webp", "gray.jpg", "cmyk.jpg", "cmyk.tif", "turned.tif", "fax.tif", "alpha.png"}

// FuzzInspect: no file makes it panic, and none that it takes is larger than
// it may be.
func FuzzInspect(f *testing.F) {
	for _, name := range seeds {
		f.Add(read(f, "testdata/"+name))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		info, err := inspect(strings.NewReader(string(data)), int64(len(data)))
		if err != nil {
			if strings.Contains(err.Error(), "\n") {
				t.Errorf("more than a line: %q", err)
			}
			return
		}
		if info.Width <= 0 || info.Height <= 0 || info.Width > MostPixels/info.Height ||
			info.Orientation < 1 || info.Orientation > 8 || info.Model == 0 || info.Bits <= 0 {
			t.Errorf("%+v", info)
		}
	})
}

// FuzzExif: notes are read or are as good as missing.
func FuzzExif(f *testing.F) {
	f.Add(notes(binary.LittleEndian, 6))
	f.Add(notes(binary.BigEndian, 3))
	f.Fuzz(func(t *testing.T, data []byte) {
		if e := readExif(strings.NewReader(string(data))); e.x < 0 || e.y < 0 {
			t.Errorf("%+v", e)
		}
	})
}
