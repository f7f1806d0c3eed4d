package pdf

import (
	"bytes"
	"compress/zlib"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"

	"bodkin/markup"
	"bodkin/typeset"
	"bodkin/typeset/length"
	"bodkin/typeset/picture"
)

// plates counts the picture files that pages show. A file is written once, as
// an image XObject (ISO 32000-1, 8.9.5), however many plates show it.
type plates struct {
	files []*markup.Picture // the first that shows each file
	wide  []length.Length   // the widest that each is shown
	known map[string]int    // by path: index in files
}

var errPlate = errors.New("a plate has no picture or no size")

// resource returns the name of a picture's file in the resources of a page.
func (p *plates) resource(pic *markup.Picture) string {
	path := filepath.Clean(pic.Path)
	n, ok := p.known[path]
	if !ok {
		if p.known == nil {
			p.known = make(map[string]int)
		}
		n = len(p.files)
		p.known[path] = n
		p.files = append(p.files, pic)
		p.wide = append(p.wide, 0)
	}
	return "I" + strconv.Itoa(n+1)
}

// draw appends what draws a plate on a page whose trim has its corner at left
// and top of a sheet of the given height; paper is what it may cover of the page.
func (p *plates) draw(b []byte, plate *typeset.Plate, paper typeset.Box, left, top, height length.Length) ([]byte, error) {
	if plate.Picture == nil || plate.Width <= 0 || plate.Height <= 0 {
		return nil, errPlate
	}
	whole, shown := plate.Box(), plate.Shown(paper)
	if shown == (typeset.Box{}) {
		return b, nil
	}
	name := p.resource(plate.Picture)
	n := p.known[filepath.Clean(plate.Picture.Path)]
	p.wide[n] = max(p.wide[n], plate.Width)
	// Edges are rounded, and widths follow: what touches still does.
	edges := func(b typeset.Box) (x, y, w, h int64) {
		x, y = points(left+b.X, 3), points(height-top-b.Y-b.Height, 3)
		return x, y, points(left+b.X+b.Width, 3) - x, points(height-top-b.Y, 3) - y
	}
	numbers := func(values ...int64) {
		for _, v := range values {
			b = append(appendDecimal(b, v, 3), ' ')
		}
	}
	b = append(b, "q\n"...)
	if shown != whole {
		numbers(edges(shown))
		b = append(b, "re W n\n"...)
	}
	x, y, w, h := edges(whole)
	numbers(w, 0, 0, h, x, y)
	b = append(b, "cm\n/"...)
	return append(append(b, name...), " Do\nQ\n"...), nil
}

// resources is the dictionary of the pictures, whose objects are numbered from first.
func (p *plates) resources(first int) string {
	b := []byte("<<")
	for i, pic := range p.files {
		b = fmt.Appendf(b, "/%s %d 0 R\n", p.resource(pic), first+i)
	}
	return string(append(b, ">>"...))
}

// imageObject reads a picture file, which is shown so wide at the most, as an
// image XObject. A gray JPEG goes in as it is; all else is compressed without
// loss.
func imageObject(num int, pic *markup.Picture, wide length.Length, o Options) (object, error) {
	img, err := picture.Decode(context.Background(), pic.Path, picture.Options{Colour: o.Colour})
	if err != nil {
		return object{}, &markup.Error{Pos: pic.Pos, What: err.Error(), Err: err}
	}
	if most := int(wide.Scale(int64(o.MostPPI), int64(length.Inch))); o.MostPPI > 0 && most < img.Width {
		img = img.Shrunk(most, (img.Height*most+img.Width/2)/img.Width)
	}
	space, colours, bits := "/DeviceGray", 1, 8
	switch img.Model {
	case picture.CMYK:
		space, colours = "/DeviceCMYK", 4
	case picture.Bilevel:
		bits = 1
	}
	ob := object{num: num}
	ob.dict.set("Type", "/XObject")
	ob.dict.set("Subtype", "/Image")
	ob.dict.set("Width", strconv.Itoa(img.Width))
	ob.dict.set("Height", strconv.Itoa(img.Height))
	ob.dict.set("ColorSpace", space)
	ob.dict.set("BitsPerComponent", strconv.Itoa(bits))
	if img.JPEG != nil {
		ob.dict.set("Filter", "/DCTDecode")
		ob.stream = img.JPEG
		return ob, nil
	}
	ob.dict.set("Filter", "/FlateDecode")
	if bits == 8 {
		ob.dict.set("DecodeParms", fmt.Sprintf("<</Predictor 15/Colors %d/Columns %d>>", colours, img.Width))
	}
	ob.stream = flate(img, colours, bits == 8)
	return ob, nil
}

// flate compresses a picture. Bytes are first predicted from their neighbours
// (ISO/IEC 15948, clause 9): what is left is smaller numbers.
func flate(img *picture.Image, bytesPerPixel int, predict bool) []byte {
	var packed bytes.Buffer
	w, _ := zlib.NewWriterLevel(&packed, level) // the level is valid
	stride := img.Stride()
	f := newFilter(stride, bytesPerPixel)
	for y := range img.Height {
		row := img.Pix[y*stride:][:stride]
		if predict {
			row = f.row(row)
		}
		w.Write(row) // to memory: no error
	}
	w.Close()
	return packed.Bytes()
}

// filter is the state of the five filters of PNG.
type filter struct {
	back  int    // to the same sample of the pixel before
	above []byte // the row above
	tries [5][]byte
}

func newFilter(stride, back int) *filter {
	f := &filter{back: back, above: make([]byte, stride)}
	for i := range f.tries {
		f.tries[i] = make([]byte, 1+stride)
		f.tries[i][0] = byte(i)
	}
	return f
}

// row filters a row: by whichever filter leaves the least sum of differences,
// as ISO/IEC 15948, 12.8 advises. The result holds until the next call.
func (f *filter) row(row []byte) []byte {
	var sums [5]int
	for i, v := range row {
		up := f.above[i]
		var left, corner byte
		if i >= f.back {
			left, corner = row[i-f.back], f.above[i-f.back]
		}
		for n, guess := range [5]byte{0, left, up, byte((int(left) + int(up)) / 2), paeth(left, up, corner)} {
			d := v - guess
			f.tries[n][1+i] = d
			sums[n] += int(min(d, -d))
		}
	}
	copy(f.above, row)
	least := 0
	for n := range sums {
		if sums[n] < sums[least] {
			least = n
		}
	}
	return f.tries[least]
}

// paeth is the nearest of its three neighbours to what they foretell
// (ISO/IEC 15948, 9.4).
func paeth(left, up, corner byte) byte {
	a, b, c := int(left), int(up), int(corner)
	pa, pb, pc := max(b-c, c-b), max(a-c, c-a), max(a+b-2*c, 2*c-a-b)
	switch {
	case pa <= pb && pa <= pc:
		return left
	case pb <= pc:
		return up
	}
	return corner
}
