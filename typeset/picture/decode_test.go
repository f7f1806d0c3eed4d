package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestLuminance checks grays against the luminance Y and the lightness L* of
// the colours of sRGB: Y of the primaries from IEC 61966-2-1, L* calculated
// from it by CIE 15 (red 53.24, green 87.73, blue 32.30 are printed in many
// tables; from memory).
func TestLuminance(t *testing.T) {
	for _, test := range []struct {
		c         rgb
		luminance float64
		lightness float64
		want      byte
	}{
		{rgb{white, 0, 0}, .2126, 53.24, 127},
		{rgb{0, white, 0}, .7152, 87.73, 220},
		{rgb{0, 0, white}, .0722, 32.30, 76},
		{rgb{white, white, 0}, .9278, 97.14, 247},
		{rgb{0, white, white}, .7874, 91.11, 229},
		{rgb{white, 0, white}, .2848, 60.32, 145},
		{rgb{white, white, white}, 1, 100, 255},
		{rgb{0, 0, 0}, 0, 0, 0},
	} {
		got := luminance().gray(test.c)
		if got != test.want {
			t.Errorf("%v: %d, want %d", test.c, got, test.want)
		}
		// Within half a step of gray, back in linear light.
		v := float64(got) / 255
		light := func(v float64) float64 {
			if v <= 0.04045 {
				return max(0, v/12.92)
			}
			return math.Pow((v+.055)/1.055, 2.4)
		}
		if y := test.luminance; y < light(v-.5/255)-1e-5 || y > light(v+.5/255)+1e-5 {
			t.Errorf("%v: %d is of luminance %.4f, want %.4f", test.c, got, light(v), y)
		}
		l := 903.3 * light(v)
		if light(v) > 0.008856 {
			l = 116*math.Cbrt(light(v)) - 16
		}
		if math.Abs(l-test.lightness) > .25 {
			t.Errorf("%v: lightness %.2f, want %.2f", test.c, l, test.lightness)
		}
	}
}

// TestNeutral: what is gray already keeps its value, at 8 bits and at 16.
func TestNeutral(t *testing.T) {
	for v := range 1 << 16 {
		s := uint16(v)
		if got, want := luminance().gray(rgb{s, s, s}), to8(s); got != want && v%0x101 == 0 || absDiff(got, want) > 1 {
			t.Fatalf("%d becomes %d, want %d", v, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) { // and more light is never darker
		a := rgb{rapid.Uint16().Draw(t, "r"), rapid.Uint16().Draw(t, "g"), rapid.Uint16().Draw(t, "b")}
		b := a
		b.g = uint16(min(white, int(a.g)+rapid.IntRange(0, white).Draw(t, "more")))
		if luminance().gray(b) < luminance().gray(a) {
			t.Fatalf("%v is lighter than %v", a, b)
		}
	})
}

func absDiff(a, b byte) int { return max(int(a)-int(b), int(b)-int(a)) }

// toLuminance has ImageMagick do what Decode does: lay on white as coded,
// weigh linear light, and code it again.
const toLuminance = "-background white -alpha remove -alpha off -colorspace RGB" +
	" -color-matrix .2126~.7152~.0722~.2126~.7152~.0722~.2126~.7152~.0722 -colorspace sRGB -depth 8"

// reference returns what ImageMagick makes of a file, as bytes.
func reference(t *testing.T, path, args, out string) []byte {
	t.Helper()
	all := append([]string{path}, strings.Fields(args)...)
	for i := range all {
		all[i] = strings.ReplaceAll(all[i], "~", " ")
	}
	return convert(t, append(all, out)...)
}

func decoded(t *testing.T, path string, o Options) *Image {
	t.Helper()
	img, err := Decode(context.Background(), path, o)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// same compares samples; slack is for decoders that round in other places.
func same(t *testing.T, got, want []byte, slack int) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d bytes, want %d", len(got), len(want))
	}
	for i := range got {
		if absDiff(got[i], want[i]) > slack {
			t.Fatalf("byte %d is %d, want %d", i, got[i], want[i])
		}
	}
}

// TestDecodeGray compares pixels with ImageMagick's.
func TestDecodeGray(t *testing.T) {
	for _, test := range []struct {
		name, args string
		slack      int
	}{
		{"rgb.png", "-define png:color-type=2", 1},
		{"rgb16.png", "-resize 61x41! -depth 16 -define png:bit-depth=16", 1},
		{"interlaced.png", "-interlace PNG", 1},
		{"palette.png", "-posterize 2 -type Palette", 1},
		{"palette-alpha.png", "-posterize 2 -alpha set -channel A -fx (i+j)%5/4 -channel RGBA -type PaletteMatte", 1},
		{"alpha.png", "-alpha set -channel A -fx i/w -define png:color-type=6", 1},
		{"alpha16.png", "-alpha set -channel A -fx j/h -define png:color-type=6 -define png:bit-depth=16", 1},
		{"gray-alpha.png", "-colorspace Gray -alpha set -channel A -fx i/w -define png:color-type=4", 1},
		{"rgb.jpg", "-sampling-factor 1x1 -quality 95", 3},
		{"progressive.jpg", "-sampling-factor 1x1 -interlace Plane", 3},
		{"rgb.tif", "-compress LZW", 1},
		{"deflate.tif", "-compress Zip -depth 16 -endian MSB", 1},
		{"packbits.tif", "-compress RLE", 1},
		{"tiled.tif", "-define tiff:tile-geometry=16x16", 1},
		{"alpha.tif", "-alpha set -channel A -fx i/w +channel", 1},
		{"palette.tif", "-colors 40 -type Palette", 1},
		{"lossless.webp", "-define webp:lossless=true", 1},
		{"lossy.webp", "-resize 64x64! -blur 0x9 -quality 95", 3},
		{"lossy-alpha.webp", "-resize 64x64! -blur 0x9 -alpha set -channel A -fx i/w +channel -quality 95", 3},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := made(t, test.name, strings.ReplaceAll(test.args, "(i+j)%5/4", "(i+j)/60"))
			img := decoded(t, path, Options{})
			if img.Model != Gray {
				t.Fatal(img.Model)
			}
			same(t, img.Pix, reference(t, path, toLuminance+" -channel R -separate", "gray:-"), test.slack)
		})
	}
	for _, test := range []struct {
		name, args string
		slack      int
	}{
		{"gray.png", "-colorspace Gray", 0},
		{"gray16.png", "-colorspace Gray -depth 16 -define png:bit-depth=16", 1},
		{"gray.jpg", "-colorspace Gray", 1},
		{"gray16.tif", "-colorspace Gray -depth 16 -compress Zip", 1},
		{"inverse.tif", "-colorspace Gray -define quantum:polarity=min-is-white", 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := made(t, test.name, test.args)
			same(t, decoded(t, path, Options{}).Pix, reference(t, path, "-depth 8", "gray:-"), test.slack)
			if got := decoded(t, path, Options{Colour: true}).Model; got != Gray {
				t.Errorf("gray becomes %v", got)
			}
		})
	}
}

// TestDecodeBilevel compares bits with ImageMagick's PBM, in which 1 is black.
func TestDecodeBilevel(t *testing.T) {
	for _, test := range []struct{ name, args string }{
		{"two.png", "-threshold 50%"},
		{"palette.png", "-colorspace Gray -threshold 50% -define png:color-type=3 -define png:bit-depth=1"},
		{"fax.tif", "-threshold 50% -compress Group4"},
		{"inverse.tif", "-threshold 50% -compress Group4 -define quantum:polarity=min-is-white"},
		{"plain.tif", "-colorspace Gray -threshold 50% -type Bilevel -depth 1 -compress None -define quantum:polarity=min-is-black"},
	} {
		t.Run(test.name, func(t *testing.T) {
			path := made(t, test.name, test.args)
			img := decoded(t, path, Options{Colour: true})
			if img.Model != Bilevel || img.Stride() != 5 {
				t.Fatalf("%v, %d bytes a row", img.Model, img.Stride())
			}
			pbm := reference(t, path, "", "pbm:-")
			want := pbm[len(pbm)-len(img.Pix):]
			gray := img.Image().(*image.Gray)
			for y := range img.Height {
				for x := range img.Width {
					black := want[y*5+x/8]>>(7-x%8)&1 == 1
					if got := img.Pix[y*5+x/8]>>(7-x%8)&1 == 0; got != black {
						t.Fatalf("%d,%d: black is %v", x, y, got)
					}
					if got := gray.GrayAt(x, y).Y; got != map[bool]byte{true: 0, false: 255}[black] {
						t.Fatalf("%d,%d: drawn as %d", x, y, got)
					}
				}
			}
		})
	}
	// A palette of two colours is gray.
	two := image.NewPaletted(image.Rect(0, 0, 9, 1), color.Palette{color.Black, color.RGBA{255, 0, 0, 255}})
	two.SetColorIndex(0, 0, 1)
	var b bytes.Buffer
	if err := png.Encode(&b, two); err != nil {
		t.Fatal(err)
	}
	if img := decoded(t, wrote(t, "red.png", b.Bytes()), Options{}); img.Model != Gray || img.Pix[0] != 127 || img.Pix[1] != 0 {
		t.Errorf("%v %v", img.Model, img.Pix)
	}
}

// TestDecodeCMYK: inks stay what they are, and become gray by the formula of
// ISO 32000-1, 10.3.3.
func TestDecodeCMYK(t *testing.T) {
	ycck := func(path string) string { // the same file, read as luma, chroma and black
		file := read(t, path)
		at := bytes.Index(file, []byte("Adobe"))
		file[at+11] = 2
		return wrote(t, "ycck.jpg", file)
	}
	plainJPEG := made(t, "cmyk.jpg", "-colorspace CMYK -sampling-factor 1x1 -quality 95")
	for _, test := range []struct {
		path  string
		slack int
	}{
		{made(t, "cmyk.tif", "-colorspace CMYK -compress LZW"), 0},
		{made(t, "cmyk16.tif", "-colorspace CMYK -depth 16 -compress Zip"), 1},
		{plainJPEG, 3},
		{ycck(plainJPEG), 3},
	} {
		img := decoded(t, test.path, Options{Colour: true})
		if img.Model != CMYK {
			t.Fatal(img.Model)
		}
		same(t, img.Pix, reference(t, test.path, "-depth 8", "cmyk:-"), test.slack)
		gray := decoded(t, test.path, Options{})
		for i, got := range gray.Pix {
			p := img.Pix[4*i:]
			want := 1 - min(1, .3*float64(p[0])/255+.59*float64(p[1])/255+.11*float64(p[2])/255+float64(p[3])/255)
			if math.Abs(float64(got)-255*want) > .51 {
				t.Fatalf("%s: pixel %d is %d, want %.2f", test.path, i, got, 255*want)
			}
		}
	}
}

// TestColour checks colours as ISO 32000-1, 10.3.4 would have them.
func TestColour(t *testing.T) {
	for _, test := range []struct {
		c    rgb
		want string
	}{
		{rgb{white, white, white}, "[0 0 0 0]"},
		{rgb{0, 0, 0}, "[0 0 0 255]"},
		{rgb{white, 0, 0}, "[0 255 255 0]"},
		{rgb{0, white, white}, "[255 0 0 0]"},
		{rgb{0x8080, 0x8080, 0x8080}, "[0 0 0 127]"},
		{rgb{0xc8c8, 0x6464, 0x3232}, "[0 100 150 55]"},
	} {
		if got := fmt.Sprint(cmykOf(test.c)); got != test.want {
			t.Errorf("%v: %s, want %s", test.c, got, test.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		b := cmykOf(rgb{rapid.Uint16().Draw(t, "r"), rapid.Uint16().Draw(t, "g"), rapid.Uint16().Draw(t, "b")})
		if ink := int(b[0]) + int(b[1]) + int(b[2]) + int(b[3]); ink > 2*255 {
			t.Fatalf("%v is %d of ink", b, ink)
		}
	})
	path := made(t, "rgb.png", "-define png:color-type=2")
	img, file := decoded(t, path, Options{Colour: true}), reference(t, path, "-depth 8", "rgb:-")
	for i := range len(img.Pix) / 4 {
		for n := range 3 {
			if got := 255 - int(img.Pix[4*i+n]) - int(img.Pix[4*i+3]); got != int(file[3*i+n]) {
				t.Fatalf("pixel %d, colour %d: ink leaves %d of %d", i, n, got, file[3*i+n])
			}
		}
	}
}

// TestOrientation compares all eight with ImageMagick's -auto-orient.
func TestOrientation(t *testing.T) {
	jpg := read(t, made(t, "a.jpg", "-sampling-factor 1x1 -quality 98"))
	names := strings.Fields("TopLeft TopRight BottomRight BottomLeft LeftTop RightTop RightBottom LeftBottom")
	for i, name := range names {
		for _, path := range []string{
			wrote(t, name+".jpg", noted(jpg, notes(binary.BigEndian, uint16(i+1)))),
			made(t, name+".tif", "-orient "+name),
		} {
			img := decoded(t, path, Options{})
			if i >= 4 && img.Width != 23 || i < 4 && img.Width != 37 {
				t.Errorf("%s: %d wide", path, img.Width)
			}
			same(t, img.Pix, reference(t, path, "-auto-orient "+toLuminance+" -channel R -separate", "gray:-"), 3)
			cmyk := decoded(t, path, Options{Colour: true}).Pix
			want := reference(t, path, "-auto-orient -depth 8", "rgb:-")
			for n := range img.Pix {
				for c := range 3 {
					if got := 255 - cmyk[4*n+c] - cmyk[4*n+3]; absDiff(got, want[3*n+c]) > 3 {
						t.Fatalf("%s: pixel %d, colour %d: ink leaves %d, want %d", path, n, c, got, want[3*n+c])
					}
				}
			}
		}
	}
}

// TestJPEG: a gray JPEG may go to print as it is, but for its notes.
func TestJPEG(t *testing.T) {
	gray := read(t, made(t, "gray.jpg", "-colorspace Gray -set comment secret"))
	if !bytes.Contains(gray, []byte("secret")) {
		t.Fatal("no comment to leave out")
	}
	upright := noted(gray, notes(binary.LittleEndian, 1))
	img := decoded(t, wrote(t, "gray.jpg", append(upright, "behind the end"...)), Options{})
	if img.JPEG == nil {
		t.Fatal("no JPEG")
	}
	for _, word := range []string{"secret", "Exif", "JFIF", "behind"} {
		if bytes.Contains(img.JPEG, []byte(word)) {
			t.Errorf("%q goes to print", word)
		}
	}
	again, err := jpeg.Decode(bytes.NewReader(img.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	same(t, again.(*image.Gray).Pix[:img.Width], img.Pix[:img.Width], 0)
	restarts := read(t, made(t, "restart.jpg", "-resize 200x200 -colorspace Gray -define jpeg:restart-interval=3"))
	if img := decoded(t, wrote(t, "restart.jpg", restarts), Options{}); img.JPEG == nil {
		t.Error("no JPEG with restarts")
	}
	for name, file := range map[string][]byte{
		"turned":      noted(gray, notes(binary.LittleEndian, 3)),
		"colour":      read(t, made(t, "rgb.jpg", "")),
		"progressive": read(t, made(t, "p.jpg", "-colorspace Gray -interlace Plane")),
		"png":         read(t, made(t, "gray.png", "-colorspace Gray")),
	} {
		if img := decoded(t, wrote(t, name, file), Options{}); img.JPEG != nil {
			t.Errorf("%s: a JPEG", name)
		}
	}
}

// TestDecodeErrors: the header is good and the pixels are not.
func TestDecodeErrors(t *testing.T) {
	bomb := append(append([]byte(pngSignature), header(9_000, 9_000)...), chunk("IDAT", []byte("x\x9cnoise"))...)
	short := image.NewGray(image.Rect(0, 0, 50, 50))
	var b bytes.Buffer
	if err := jpeg.Encode(&b, short, nil); err != nil {
		t.Fatal(err)
	}
	cut := append(b.Bytes()[:b.Len()-20:b.Len()-20], 0xff, markEOI)
	for name, file := range map[string][]byte{"bomb.png": append(bomb, chunk("IEND", nil)...), "cut.jpg": cut} {
		path := wrote(t, name, file)
		if _, err := Inspect(path); err != nil {
			t.Error(err)
		}
		_, err := Decode(context.Background(), path, Options{})
		if err == nil || !strings.HasPrefix(err.Error(), "picture "+path+": ") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
		t.Log(err)
	}
	if _, err := Decode(context.Background(), "no/such.png", Options{}); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Decode(ctx, "testdata/a.png", Options{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// FuzzDecode: what Inspect takes decodes or is refused, in the size promised.
func FuzzDecode(f *testing.F) {
	for _, name := range seeds {
		f.Add(read(f, "testdata/"+name))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, size := bytes.NewReader(data), int64(len(data))
		info, err := inspect(r, size)
		if err != nil || info.Width*info.Height > 1<<16 {
			return
		}
		for _, o := range []Options{{}, {Colour: true}} {
			img, err := decode(context.Background(), r, size, info, o)
			if err != nil {
				continue
			}
			if img.Width != info.Width || img.Height != info.Height || len(img.Pix) != img.Stride()*img.Height {
				t.Errorf("%d by %d in %d bytes from %+v", img.Width, img.Height, len(img.Pix), info)
			}
		}
	})
}

// BenchmarkDecode is a photograph of 12 million pixels, as a camera makes them.
func BenchmarkDecode(b *testing.B) {
	img := image.NewRGBA(image.Rect(0, 0, 4000, 3000))
	for i := range img.Pix {
		img.Pix[i] = byte(i / 4000 * i % 251)
	}
	var file bytes.Buffer
	if err := jpeg.Encode(&file, img, nil); err != nil {
		b.Fatal(err)
	}
	path := wrote(b, "photo.jpg", file.Bytes())
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Decode(context.Background(), path, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
