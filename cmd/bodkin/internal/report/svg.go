package report

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"bodkin/typeset/length"
)

// drawing is SVG that is being written. Its unit is the point.
type drawing struct{ strings.Builder }

// add writes markup; what comes from a book is escaped by the caller.
func (d *drawing) add(format string, args ...any) { fmt.Fprintf(d, format, args...) }

// pt writes a length in points, to hundredths.
func pt(l length.Length) string { return decimal(int64(l.Scale(100, int64(length.Point))), 2) }

// mm writes a length in millimetres, to thousandths.
func mm(l length.Length) string { return decimal(int64(l.Scale(25400, int64(length.Inch))), 3) }

// decimal writes n units of the last of some places, without zeros at its end.
func decimal(n int64, places int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := strconv.FormatInt(n, 10)
	for len(digits) <= places {
		digits = "0" + digits
	}
	whole, part := digits[:len(digits)-places], strings.TrimRight(digits[len(digits)-places:], "0")
	if part != "" {
		whole += "." + part
	}
	if whole == "0" {
		return whole
	}
	return sign + whole
}

func escape(s string) string { return html.EscapeString(s) }

// picture opens an svg element that a screen reader takes for one picture:
// its title and what it says. id tells it from the others of the page.
func (d *drawing) picture(id, class, size, box, title, says string) {
	d.add(`<svg id="%s" class="%s" %s viewBox="%s" role="img" aria-labelledby="%s-t %s-d">`, id, class, size, box, id, id)
	d.add(`<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, id, escape(title), id, escape(says))
}
