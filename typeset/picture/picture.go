package picture

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"bodkin/typeset/length"
)

// MostPixels is how many pixels a picture may have. A spread of two pages of
// 8.5 by 11 in has 224 million at 1 100 pixels to the inch, more than any press
// resolves. A picture of that many takes at most 2.4 GB while it is decoded,
// at 16 bits a sample, and after that 0.3 GB as gray or 1.2 GB as CMYK.
const MostPixels = 300_000_000

// Format is the format of a file.
type Format uint8

const (
	PNG  Format = iota + 1 // ISO/IEC 15948
	JPEG                   // ISO/IEC 10918-1
	TIFF                   // TIFF 6.0
	WebP                   // RFC 9649
)

func (f Format) String() string {
	return [...]string{"no picture", "PNG", "JPEG", "TIFF", "WebP"}[f]
}

// Model is how a file keeps colour.
type Model uint8

const (
	Bilevel Model = iota + 1 // black and white, 1 bit: line art
	Gray
	Indexed // numbers of colours in a palette
	RGB
	CMYK
)

func (m Model) String() string {
	return [...]string{"none", "bilevel", "gray", "indexed colour", "RGB", "CMYK"}[m]
}

// Info is what a file says of its picture before its pixels are read.
type Info struct {
	Format        Format
	Width, Height int // in pixels, upright: Orientation is applied
	XPPI, YPPI    int // pixels to the inch that the file states, upright; 0 where it states none
	Bits          int // of a sample; of a number in a palette
	Model         Model
	Alpha         bool // parts of it may be transparent
	Orientation   int  // as the file keeps it, 1 to 8 (TIFF 6.0, Orientation); 1 is upright
}

// Turned reports whether the file keeps the picture on its side.
func (i Info) Turned() bool { return i.Orientation >= 5 }

// Resolution returns the pixels to the inch of a picture that is printed in
// the given size: the fewer of those across and down, rounded to the nearest;
// 0 for a size of nothing.
func Resolution(i Info, width, height length.Length) int {
	if width <= 0 || height <= 0 {
		return 0
	}
	return int(min(
		length.Length(i.Width).Scale(int64(length.Inch), int64(width)),
		length.Length(i.Height).Scale(int64(length.Inch), int64(height))))
}

// The reasons that are not particular to a format.
var (
	errTruncated = errors.New("the file ends too early: it was not copied or saved to its end")
	errEmpty     = errors.New("the file is empty")
	errFolder    = errors.New("this is a folder, not a picture")
	errFormat    = errors.New("this is not a picture that can be read: save it as PNG, JPEG or TIFF")
)

// Inspect reads what a picture file says of itself. It reads headers only,
// and its memory does not depend on the size of the picture. An error names
// the file and says in one line what is wrong and how to mend it; that of a
// file that is not there wraps [fs.ErrNotExist].
func Inspect(path string) (Info, error) {
	f, err := open(path)
	if err != nil {
		return Info{}, err
	}
	defer f.Close()
	return f.info, nil
}

// file is an open picture file whose header has been read.
type file struct {
	*os.File
	size int64
	info Info
}

func open(path string) (*file, error) {
	f, err := os.Open(path)
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err // the path would stand there twice
		}
		return nil, fmt.Errorf("picture %s: %w", path, err)
	}
	stat, err := f.Stat()
	if err == nil && stat.IsDir() {
		err = errFolder
	}
	var info Info
	if err == nil {
		info, err = inspect(f, stat.Size())
	}
	if err != nil {
		f.Close()
		return nil, fmt.Errorf("picture %s: %w", path, err)
	}
	return &file{f, stat.Size(), info}, nil
}

// inspect reads the header of a file of the given size.
func inspect(r io.ReaderAt, size int64) (Info, error) {
	if size == 0 {
		return Info{}, errEmpty
	}
	head := make([]byte, min(size, 1024))
	if err := readAt(r, head, 0); err != nil {
		return Info{}, err
	}
	format, err := formatOf(head)
	if err != nil {
		return Info{}, err
	}
	var info Info
	switch format {
	case PNG:
		info, err = inspectPNG(r, size)
	case JPEG:
		info, err = inspectJPEG(r, size)
	case TIFF:
		info, err = inspectTIFF(r, size)
	case WebP:
		info, err = inspectWebP(r, size)
	}
	if err != nil {
		return Info{}, err
	}
	info.Format = format
	if err := checkSize(info.Width, info.Height); err != nil {
		return Info{}, err
	}
	// The reader of the pixels must see the same picture in the file.
	config, err := decoders[format].config(r, size)
	if err != nil {
		return Info{}, unreadable(err)
	}
	if config.Width != info.Width || config.Height != info.Height {
		return Info{}, fmt.Errorf("the file gives two sizes, %d by %d and %d by %d pixels: save it again",
			info.Width, info.Height, config.Width, config.Height)
	}
	if info.Orientation < 1 || info.Orientation > 8 {
		info.Orientation = 1
	}
	if info.Turned() {
		info.Width, info.Height = info.Height, info.Width
		info.XPPI, info.YPPI = info.YPPI, info.XPPI
	}
	return info, nil
}

func checkSize(width, height int) error {
	switch {
	case width <= 0 || height <= 0:
		return fmt.Errorf("a picture of %d by %d pixels shows nothing", width, height)
	case width > MostPixels/height:
		return fmt.Errorf("%d by %d pixels are more than the %d million that a picture may have: scale it down",
			width, height, MostPixels/1_000_000)
	}
	return nil
}

// readAt fills b from the file at an offset.
func readAt(r io.ReaderAt, b []byte, at int64) error {
	n, err := r.ReadAt(b, at)
	switch {
	case n == len(b):
		return nil
	case err == io.EOF:
		return errTruncated
	}
	return fmt.Errorf("reading it: %w", err)
}

// unreadable tells of an error of a reader of pixels.
func unreadable(err error) error {
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF) {
		return errTruncated
	}
	return fmt.Errorf("its pixels cannot be read (%w): save it again, as PNG or TIFF", err)
}
