package wordproc

import (
	"bytes"
	"cmp"
	"fmt"
	"image"
	"image/gif"
	_ "image/jpeg" // the forms of pictures whose size is looked at
	"image/png"
	"io"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"golang.org/x/image/bmp"
	_ "golang.org/x/image/tiff" // as above
	_ "golang.org/x/image/webp" // as above
)

// PictureFile is a picture on its way into the book folder.
type PictureFile struct {
	Name  string // "pictures/01-a-well.png"
	Write func(io.Writer) error
}

// pictureFile is what becomes of a picture of the document.
type pictureFile struct {
	name  string
	unset bool // bodkin cannot set it
}

// Pictures are the picture files of the book, in the order of the text.
func (m *Manuscript) Pictures() []PictureFile { return m.pictures }

// maxPixels bounds a picture that is turned into another form: some 20 by 20
// inches at 300 pixels to the inch.
const maxPixels = 40_000_000

// gather gives the pictures of all pieces their files, one for those that are
// used several times.
func (m *Manuscript) gather() {
	m.files = map[int]pictureFile{}
	byPart := map[string]pictureFile{}
	all := func(ps []*Paragraph) {
		for _, p := range ps {
			if p == nil || p.Table != nil {
				continue
			}
			for _, r := range p.Runs {
				if r.Picture > 0 {
					m.gatherOne(r.Picture, p, byPart)
				}
			}
		}
	}
	for _, p := range m.Pieces {
		all(p.head)
		for _, b := range p.blocks {
			all(b.paras)
		}
	}
}

func (m *Manuscript) gatherOne(n int, at *Paragraph, byPart map[string]pictureFile) {
	pic := m.doc.Pictures[n-1]
	if f, ok := byPart[pic.Name]; ok && pic.Name != "" {
		m.files[n] = f
		return
	}
	kind, err := sniff(pic)
	if err != nil {
		m.Left = append(m.Left, Finding{Kind: KindPicture, N: at.N, Text: shorten(err.Error())})
		return
	}
	name := slug(pic.Alt)
	if name == "" {
		name = slug(stem(pic.Name))
	}
	if name == "" || len(name) > 12 && strings.Trim(name, "0123456789abcdef-") == "" {
		name = "picture" // or a name that only a program gives
	}
	f := pictureFile{name: fmt.Sprintf("%s/%02d-%s", picturesDir, len(m.pictures)+1, name)}
	write := func(w io.Writer) error { return copyPicture(pic, w) }
	switch kind {
	case "gif", "bmp":
		f.name += ".png"
		write = func(w io.Writer) error { return toPNG(pic, kind, w) }
		m.guess(true, at, "picture", "it was a "+strings.ToUpper(kind)+" and is now a PNG")
	case "png", "jpeg", "tiff", "webp":
		f.name += "." + strings.Replace(kind, "jpeg", "jpg", 1)
	default:
		f.name += strings.ToLower(path.Ext(pic.Name))
		if kind != "" {
			f.name = strings.TrimSuffix(f.name, path.Ext(f.name)) + "." + kind
		}
		f.unset = true
		m.Left = append(m.Left, Finding{Kind: KindPicture, N: at.N, Text: f.name + " is extracted, but of a form that is not printed; export it as PNG"})
	}
	m.pictures = append(m.pictures, PictureFile{f.name, write})
	m.files[n] = f
	if pic.Name != "" {
		byPart[pic.Name] = f
	}
}

// sniff tells the form of a picture by its first bytes: "" for one that is
// not known.
func sniff(pic *Picture) (string, error) {
	r, err := pic.open()
	if err != nil {
		return "", err
	}
	defer r.Close()
	head := make([]byte, 64<<10)
	n, err := io.ReadFull(r, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return "", fmt.Errorf("%s cannot be unpacked: %w", pic.Name, err)
	}
	head = head[:n]
	known := ""
	for _, k := range []struct{ mark, kind string }{
		{"\x89PNG\r\n\x1a\n", "png"}, {"\xFF\xD8\xFF", "jpeg"}, {"II*\x00", "tiff"}, {"MM\x00*", "tiff"}, {"GIF8", "gif"}, {"BM", "bmp"},
	} {
		if bytes.HasPrefix(head, []byte(k.mark)) {
			known = k.kind
		}
	}
	if bytes.HasPrefix(head, []byte("RIFF")) && len(head) > 12 && string(head[8:12]) == "WEBP" {
		known = "webp"
	}
	if bytes.Contains(head[:min(len(head), 1024)], []byte("<svg")) {
		known = "svg"
	}
	switch known {
	case "", "svg":
		return known, nil
	}
	again, err := pic.open() // TIFF has its size anywhere
	if err != nil {
		return "", err
	}
	defer again.Close()
	c, _, err := image.DecodeConfig(again)
	if err != nil {
		return "", fmt.Errorf("%s is damaged: %w", pic.Name, err)
	}
	if c.Width*c.Height > maxPixels {
		if known == "gif" || known == "bmp" {
			return "", fmt.Errorf("%s is too large: %d by %d pixels", pic.Name, c.Width, c.Height)
		}
		return known, nil
	}
	whole, err := pic.open()
	if err != nil {
		return "", err
	}
	defer whole.Close()
	if _, _, err := image.Decode(whole); err != nil {
		return "", fmt.Errorf("%s is damaged: %w", pic.Name, err)
	}
	return known, nil
}

func copyPicture(pic *Picture, w io.Writer) error {
	r, err := pic.open()
	if err != nil {
		return err
	}
	defer r.Close()
	_, err = io.Copy(w, r)
	return err
}

func toPNG(pic *Picture, kind string, w io.Writer) error {
	r, err := pic.open()
	if err != nil {
		return err
	}
	defer r.Close()
	decode := gif.Decode
	if kind == "bmp" {
		decode = bmp.Decode
	}
	img, err := decode(r)
	if err != nil {
		return fmt.Errorf("%s is damaged: %w", pic.Name, err)
	}
	return png.Encode(w, img)
}

// mentioned is the mention of a picture in Markdown, up to the end of its
// address.
var mentioned = regexp.MustCompile(`(!\[[^\[\]]*\]\()(<[^<>\n]*>|[^\s()<>]+)`)

// withPictures copies the pictures that a block of Markdown mentions, and has
// it mention the copies. What is not found stays as it is.
func (m *Manuscript) withPictures(raw string) string {
	if !strings.Contains(raw, "![") || fenceLine.MatchString(raw) {
		return raw
	}
	return mentioned.ReplaceAllStringFunc(raw, func(s string) string {
		k := mentioned.FindStringSubmatch(s)
		if name := m.copyOf(strings.Trim(k[2], "<>")); name != "" {
			return k[1] + "../" + name
		}
		return s
	})
}

// copyOf is the new name of a picture beside the manuscript; "" where there is
// none.
func (m *Manuscript) copyOf(address string) string {
	if name, ok := m.copied[address]; ok {
		return name
	}
	dir, local := filepath.Dir(m.doc.Name), filepath.FromSlash(address)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return ""
	}
	defer root.Close()
	info, err := root.Stat(local)
	if err != nil {
		if plain, bad := url.PathUnescape(address); bad == nil {
			local = filepath.FromSlash(plain)
			info, err = root.Stat(local)
		}
	}
	if err != nil || !info.Mode().IsRegular() {
		return ""
	}
	pic := &Picture{Name: local, open: func() (io.ReadCloser, error) { return os.OpenInRoot(dir, local) }}
	name := fmt.Sprintf("%s/%02d-%s%s", picturesDir, len(m.pictures)+1, cmp.Or(slug(stem(local)), "picture"), strings.ToLower(filepath.Ext(local)))
	m.pictures = append(m.pictures, PictureFile{name, func(w io.Writer) error { return copyPicture(pic, w) }})
	if m.copied == nil {
		m.copied = map[string]string{}
	}
	m.copied[address] = name
	return name
}

func (m *Manuscript) leavePictures(p *Paragraph, why string) {
	for _, r := range p.Runs {
		if r.Picture > 0 {
			m.Left = append(m.Left, Finding{Kind: KindPicture, N: p.N, Text: why})
		}
	}
}
