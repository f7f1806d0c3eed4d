package sheet

import (
	"strconv"

	"bodkin/typeset"
	"bodkin/typeset/length"
)

// The bar by which a print is checked: 100 mm above a line and 4 in below it,
// from one zero, with numbers on either side.
var (
	barWidth  = 4*length.Inch + mm(4) // with half a number at either end
	tickLong  = mm(4)
	barHeight = 2*tickLong + 2*(mm(1)+barNumber)
)

// barNumber is the size of the numbers of the bar.
const barNumber = length.Point * 7

// barWords must stand beside the bar.
const barWords = "Print at 100 % (actual size); this bar must measure 100 mm / 4 in. If it does not, switch off “fit to page” and print again."

// barText is how wide the words are set: beside the bar if there is room,
// else above it.
func barText(width length.Length) (measure length.Length, beside bool) {
	if rest := width - barWidth - mm(6); rest >= mm(35) {
		return rest, true
	}
	return width, false
}

// barDepth returns how deep the bar is, with its words, in a column so wide.
func barDepth(c *canvas, width length.Length) length.Length {
	measure, beside := barText(width)
	words := entryLeading * length.Length(len(c.hand.wrap(entrySize, measure, plain(barWords))))
	if beside {
		return max(barHeight, words)
	}
	return barHeight + mm(2) + words
}

// bar draws the bar at the foot of a box.
func (c *canvas) bar(b typeset.Box) {
	measure, beside := barText(b.Width)
	lines := c.hand.wrap(entrySize, measure, plain(barWords))
	x, y := b.X, b.Y+entrySize
	if beside {
		x = b.X + barWidth + mm(6)
		y = b.Y + (b.Height-entryLeading*length.Length(len(lines)))/2 + entrySize
	}
	for n, line := range lines {
		c.text(x, y+entryLeading*length.Length(n), entrySize, fromLeft, line)
	}
	zero, line := b.X+mm(2), b.Y+b.Height-barHeight/2
	if beside {
		line = b.Y + b.Height/2
	}
	c.rule(zero-hairline/2, line, zero+4*length.Inch+hairline/2, line, hairline)
	for n := range int64(101) {
		tick := tickLong * 3 / 8
		switch {
		case n%10 == 0:
			tick = tickLong
			c.text(zero+mm(n), line-tickLong-mm(1), barNumber, centred, plain(strconv.FormatInt(n, 10)))
		case n%5 == 0:
			tick = tickLong * 5 / 8
		}
		c.rule(zero+mm(n), line, zero+mm(n), line-tick, hairline)
	}
	for n := range int64(65) {
		tick := tickLong / 4
		switch {
		case n%16 == 0:
			tick = tickLong
			c.text(zero+length.Inch*length.Length(n)/16, line+tickLong+mm(1)+barNumber*2/3, barNumber, centred, plain(strconv.FormatInt(n/16, 10)))
		case n%8 == 0:
			tick = tickLong * 3 / 4
		case n%4 == 0:
			tick = tickLong / 2
		case n%2 == 0:
			tick = tickLong * 3 / 8
		}
		c.rule(zero+length.Inch*length.Length(n)/16, line, zero+length.Inch*length.Length(n)/16, line+tick, hairline)
	}
	c.text(zero+mm(100)+mm(3), line-tickLong-mm(1), barNumber, fromLeft, plain("mm"))
	c.text(zero+4*length.Inch+mm(1)+mm(1)/2, line+tickLong+mm(1)+barNumber*2/3, barNumber, fromLeft, plain("in"))
}
