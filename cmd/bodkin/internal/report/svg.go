package report

import (
	"fmt"
	"html"
	"strings"

	"bodkin/typeset/length"
)

// drawing is SVG that is being written. Its unit is the point.
type drawing struct{ strings.Builder }

// add writes markup; what comes from a book is escaped by the caller.
func (d *drawing) add(format string, args ...any) { fmt.Fprintf(d, format, args...) }

// pt writes a length in points, to hundredths.
func pt(l length.Length) string { return length.Decimal(int64(l.Scale(100, int64(length.Point))), 2) }

// mm writes a length in millimetres, to thousandths.
func mm(l length.Length) string { return length.Decimal(int64(l.Scale(25400, int64(length.Inch))), 3) }

func escape(s string) string { return html.EscapeString(s) }

// picture opens an svg element that a screen reader takes for one picture:
// its title and what it says. id tells it from the others of the page.
func (d *drawing) picture(id, class, size, box, title, says string) {
	d.add(`<svg id="%s" class="%s" %s viewBox="%s" role="img" aria-labelledby="%s-t %s-d">`, id, class, size, box, id, id)
	d.add(`<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, id, escape(title), id, escape(says))
}
