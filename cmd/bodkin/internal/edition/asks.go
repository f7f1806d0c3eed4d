package edition

import (
	"bodkin/typeset"
	"bodkin/typeset/preflight"
)

// Asks returns what a file of a block must keep to, by the terms and the
// choice: what preflight looks for. Without terms they are those of most
// printers. A trim of no size is not looked at.
func (t *Terms) Asks(trim typeset.Size, choice Choice) (preflight.Limits, error) {
	l := preflight.Common()
	l.Trim = trim
	m, err := t.resolve(choice)
	if err != nil || t == nil {
		return l, err
	}
	p := t.pages(m)
	l.Least, l.Most, l.Multiple = p.Least, p.Most, p.Multiple
	l.Bleed, l.Safety, l.Back = t.Bleed.Length, t.Safety.Length, t.Back
	if t.Pictures.Picture > 0 {
		l.PPI = t.Pictures.Picture
	}
	if t.Pictures.Line > 0 {
		l.LinePPI = t.Pictures.Line
	}
	return l, nil
}
