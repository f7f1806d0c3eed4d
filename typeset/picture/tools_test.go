package picture

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// convert runs ImageMagick and returns what it prints. Where it is missing the
// test is skipped, but fails when CI is true.
func convert(t *testing.T, args ...string) []byte {
	t.Helper()
	if _, err := exec.LookPath("convert"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("convert is needed here: %v", err)
		}
		t.Skip("ImageMagick is not installed")
	}
	var out, complaint bytes.Buffer
	cmd := exec.Command("convert", args...)
	cmd.Env = append(os.Environ(), "MAGICK_THREAD_LIMIT=1") // small pictures: threads only cost
	cmd.Stdout, cmd.Stderr = &out, &complaint
	if err := cmd.Run(); err != nil {
		t.Fatalf("convert %s: %v\n%s", strings.Join(args, " "), err, &complaint)
	}
	return out.Bytes()
}

// drawing is a picture with flat parts and soft ones, in which every corner
// and both directions differ.
var drawing = strings.Fields(`-size 37x23 gradient:#f04020-#20c0f0 -depth 8
	-fill #ffe000 -draw rectangle~3,2,12,7 -fill #003000 -draw rectangle~25,14,34,21 -alpha off`)

// made has ImageMagick make a file of a drawing.
func made(t *testing.T, name, args string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	all := append(append([]string{}, drawing...), strings.Fields(args)...)
	for i := range all {
		all[i] = strings.ReplaceAll(all[i], "~", " ")
	}
	convert(t, append(all, path)...)
	return path
}

// wrote writes a file.
func wrote(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// chunk is a chunk of PNG (ISO/IEC 15948, 5.3).
func chunk(name string, data []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	b = append(append(b, name...), data...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// header is the IHDR of a PNG of 8-bit RGB.
func header(width, height uint32) []byte {
	b := binary.BigEndian.AppendUint32(nil, width)
	b = binary.BigEndian.AppendUint32(b, height)
	return chunk("IHDR", append(b, 8, 2, 0, 0, 0))
}

// notes are EXIF notes with an orientation and 240 by 120 pixels to the inch.
func notes(order byteOrder, orientation uint16) []byte {
	b := []byte("II\x2a\x00")
	if order == byteOrder(binary.BigEndian) {
		b = []byte("MM\x00\x2a")
	}
	b = order.AppendUint32(b, 8)
	b = order.AppendUint16(b, 3)
	entry := func(tag, kind uint16, count uint32) {
		b = order.AppendUint16(b, tag)
		b = order.AppendUint16(b, kind)
		b = order.AppendUint32(b, count)
	}
	entry(tagOrientation, 3, 1)
	b = append(order.AppendUint16(b, orientation), 0, 0)
	entry(tagXResolution, 5, 1)
	b = order.AppendUint32(b, 50)
	entry(tagYResolution, 5, 1)
	b = order.AppendUint32(b, 58)
	b = order.AppendUint32(b, 0)
	for _, n := range []uint32{480, 2, 120, 1} {
		b = order.AppendUint32(b, n)
	}
	return b
}

// noted puts EXIF notes into a JPEG, PNG or WebP file.
func noted(file, notes []byte) []byte {
	switch {
	case bytes.HasPrefix(file, []byte("\xff\xd8")):
		b := append([]byte("\xff\xd8\xff\xe1"), byte((len(notes)+8)>>8), byte(len(notes)+8))
		b = append(append(b, "Exif\x00\x00"...), notes...)
		return append(b, file[2:]...)
	case bytes.HasPrefix(file, []byte(pngSignature)):
		at := len(pngSignature) + 25
		return append(append(append([]byte{}, file[:at]...), chunk("eXIf", notes)...), file[at:]...)
	}
	return append(append([]byte{}, file...), riff("EXIF", notes)...)
}

// riff is a chunk of WebP (RFC 9649, 2.3).
func riff(name string, data []byte) []byte {
	b := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(data)))
	b = append(b, data...)
	return append(b, make([]byte, len(data)&1)...)
}
