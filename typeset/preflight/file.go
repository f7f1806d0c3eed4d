package preflight

import (
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"
)

// file looks at what is said of the whole file.
func (c *checker) file() {
	d := c.doc
	root := d.dict(*d.x.Root)
	if d.x.Encrypt != nil {
		c.find("encrypted", 0, nil, "")
	}
	names := d.dict(root["Names"])
	if d.action(root["OpenAction"]) || d.dict(root["AA"]) != nil || names["JavaScript"] != nil {
		c.find("scripts", 0, nil, "")
	}
	if names["EmbeddedFiles"] != nil {
		c.find("attachments", 0, nil, "")
	}
	if form := d.dict(root["AcroForm"]); len(d.array(form["Fields"])) > 0 || form["XFA"] != nil {
		c.find("form", 0, nil, "")
	}
	if layers := d.dict(root["OCProperties"]); len(d.array(layers["OCGs"])) > 0 {
		c.find("layers", 0, nil, "")
	}
	var info types.Dict
	if d.x.Info != nil {
		info = d.dict(*d.x.Info)
	}
	c.claims(root, info)
	c.metadata(root, info)
}

// action reports whether o does something, apart from going to a page.
func (d *document) action(o types.Object) bool {
	a := d.dict(o)
	kind := d.name(a["S"])
	return kind != "" && kind != "GoTo" || a["Next"] != nil
}

// claims looks at whether the file keeps what it claims to keep (ISO 15930-4).
func (c *checker) claims(root, info types.Dict) {
	d := c.doc
	claim := d.text(info["GTS_PDFXVersion"])
	c.report.Standard = claim
	if !strings.HasPrefix(claim, "PDF/X") {
		c.find("standard-none", 0, nil, "")
		return
	}
	if strings.HasPrefix(claim, "PDF/X-1") && d.version() > "1.4" {
		c.find("standard-version", 0, nil, "it is PDF "+d.version())
	}
	intended := false
	for _, o := range d.array(root["OutputIntents"]) {
		in := d.dict(o)
		if d.name(in["S"]) != "GTS_PDFX" {
			continue
		}
		switch profile := in["DestOutputProfile"] != nil; {
		case d.text(in["OutputConditionIdentifier"]) == "":
			c.find("standard-intent", 0, nil, "it names no printing condition")
		case !profile && (d.text(in["RegistryName"]) == "" || d.text(in["Info"]) == ""):
			c.find("standard-intent", 0, nil, "without a profile it must say where the condition is registered")
		}
		intended = true
	}
	if !intended {
		c.find("standard-intent", 0, nil, "")
	}
	if d.text(info["CreationDate"]) == "" || d.text(info["ModDate"]) == "" {
		c.find("standard-dates", 0, nil, "")
	}
	if d.text(info["Title"]) == "" {
		c.find("standard-title", 0, nil, "")
	}
	if t := d.name(info["Trapped"]); t != "True" && t != "False" {
		c.find("standard-trapped", 0, nil, "")
	}
	if len(d.x.ID) != 2 {
		c.find("standard-identifier", 0, nil, "")
	}
	for _, e := range d.x.Table {
		if e == nil || e.Free {
			continue
		}
		s, ok := e.Object.(types.StreamDict)
		if ok && slices.ContainsFunc(s.FilterPipeline, func(f types.PDFFilter) bool { return f.Name == "LZWDecode" }) {
			c.find("standard-packing", 0, nil, "")
			break
		}
	}
}

// metadata compares the title in XMP (ISO 16684-1) with that of the document
// information.
func (c *checker) metadata(root, info types.Dict) {
	d := c.doc
	if root["Metadata"] == nil {
		return
	}
	b, err := d.decode(root["Metadata"])
	if err != nil {
		c.find("standard-metadata", 0, nil, "the metadata cannot be read")
		return
	}
	var said struct {
		Title    []string `xml:"RDF>Description>title>Alt>li"`
		Standard []string `xml:"RDF>Description>GTS_PDFXVersion"`
	}
	decoder := xml.NewDecoder(strings.NewReader(string(b)))
	decoder.Strict = false
	if err := decoder.Decode(&said); err != nil {
		c.find("standard-metadata", 0, nil, "the metadata is not well formed")
		return
	}
	if title := d.text(info["Title"]); len(said.Title) > 0 && title != "" && !slices.Contains(said.Title, title) {
		c.find("standard-metadata", 0, nil, fmt.Sprintf("the titles are %q and %q", said.Title[0], title))
	}
	if len(said.Standard) > 0 && !slices.Contains(said.Standard, c.report.Standard) {
		c.find("standard-metadata", 0, nil, fmt.Sprintf("the standards are %q and %q", said.Standard[0], c.report.Standard))
	}
}

// book looks at all pages together.
func (c *checker) book() {
	pages, l := c.report.Pages, &c.limits
	n := len(pages)
	switch {
	case l.Least > 0 && n < l.Least:
		c.find("pages-few", 0, nil, fmt.Sprintf("%d, and %d are the least", n, l.Least))
	case l.Most > 0 && n > l.Most:
		c.find("pages-many", 0, nil, fmt.Sprintf("%d, and %d are the most", n, l.Most))
	}
	switch {
	case l.Multiple > 1 && n%l.Multiple != 0:
		c.find("pages-multiple", 0, nil, fmt.Sprintf("%d, and %d are bound together", n, l.Multiple))
	case n%2 != 0:
		c.find("pages-odd", 0, nil, fmt.Sprint(n))
	}
	usual := make(map[[2]int]int)
	size := func(p *Page) [2]int {
		return [2]int{int((p.Trim.X1-p.Trim.X0)*2 + 0.5), int((p.Trim.Y1-p.Trim.Y0)*2 + 0.5)}
	}
	most := size(&pages[0])
	for i := range pages {
		s := size(&pages[i])
		if usual[s]++; usual[s] > usual[most] {
			most = s
		}
	}
	for i := range pages {
		if s := size(&pages[i]); abs(s[0]-most[0]) > 1 || abs(s[1]-most[1]) > 1 {
			c.find("sizes-mixed", i+1, nil, fmt.Sprintf("%s, and most are %s", inches(s), inches(most)))
		}
	}
	for i := 0; i < n; {
		k := i
		for k < n && len(pages[k].marks) == 0 {
			k++
		}
		if k-i >= 3 && k < n {
			c.find("pages-blank", i+1, nil, fmt.Sprintf("pages %d to %d", i+1, k))
		}
		i = max(k, i+1)
	}
}

func abs(n int) int { return max(n, -n) }

// inches writes a size in half points for a person.
func inches(halves [2]int) string {
	return fmt.Sprintf("%.2f × %.2f in", float64(halves[0])/144, float64(halves[1])/144)
}
