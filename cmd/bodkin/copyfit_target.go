package main

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"strconv"

	"bodkin/cmd/bodkin/internal/copyfit"
	"bodkin/cmd/bodkin/internal/edition"
	"bodkin/typeset"
)

// wish is what a call wants of the book: one of these.
type wish struct {
	pages        string // 240, 230..240, ..240, 240..
	multiple     int
	as           string // the name of a setting
	charge, earn string // amounts
}

// target is a wish for a book that is known.
type target struct {
	copyfit.Target
	words string
}

// check complains of none, and of several.
func (w *wish) check() error {
	n := 0
	for _, is := range []bool{w.pages != "", w.multiple != 0, w.as != "", w.charge != "", w.earn != ""} {
		if is {
			n++
		}
	}
	switch {
	case n == 0:
		return &callError{errors.New("say what the book should come to: --pages 240, --multiple 16, --as SETTING, --charge 4.50 or --earn 3.90")}
	case n > 1:
		return &callError{errors.New("ask for one thing: --pages, --multiple, --as, --charge or --earn")}
	case w.multiple != 0 && (w.multiple < 2 || w.multiple%2 != 0 || w.multiple > 128):
		return &callError{fmt.Errorf("--multiple %d: a signature has an even number of pages, from 2 to 128", w.multiple)}
	}
	return nil
}

// of returns the target for a book that has own pages now.
func (w *wish) of(ctx context.Context, j *job, flags *editionFlags, printer offer, trims []typeset.Trim, own int) (*target, error) {
	fill := 2
	if p := j.setting.Press; p != nil && p.Multiple > 0 {
		fill = p.Multiple + p.Multiple%2
	}
	switch {
	case w.pages != "":
		return pagesWanted(w.pages, fill, own)
	case w.multiple != 0:
		return fullSignatures(w.multiple, own), nil
	case w.as != "":
		pages, err := w.pagesOf(ctx, j, flags)
		if err != nil {
			return nil, err
		}
		t, err := pagesWanted(strconv.Itoa(pages), fill, own)
		if err == nil {
			t.words = fmt.Sprintf("as many pages as %s makes: %d", w.as, pages)
		}
		return t, err
	}
	if len(trims) == 0 {
		trims = []typeset.Trim{j.setting.Trim}
	}
	return w.money(printer.terms, printer.choice, trims, own)
}

// pagesOf sets the book in another of its settings.
func (w *wish) pagesOf(ctx context.Context, j *job, flags *editionFlags) (int, error) {
	s, name, err := j.named(w.as)
	if err != nil {
		return 0, &callError{fmt.Errorf("--as: %w", err)}
	}
	printer, err := flags.of(j, name)
	if err != nil {
		return 0, err
	}
	s.Press = printer.press
	l, err := j.composer.Compose(ctx, s)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", w.as, err)
	}
	return len(l.Pages), nil
}

var pagesForm = regexp.MustCompile(`^(\d{0,4})(\.\.)?(\d{0,4})$`)

// mostPages is more than any press binds.
const mostPages = 4000

// pagesWanted reads a number of pages: 240 is that, or as near below it as
// may be; 230..240 is any between them, and a range may be open at one end.
func pagesWanted(text string, fill, own int) (*target, error) {
	m := pagesForm.FindStringSubmatch(text)
	if m == nil || m[1] == "" && m[3] == "" || m[2] == "" && m[3] != "" {
		return nil, &callError{fmt.Errorf("--pages %q: write a number, as in 240, or a range, as in 230..240, ..240 or 240..", text)}
	}
	from, _ := strconv.Atoi(m[1])
	to, _ := strconv.Atoi(m[3])
	t := new(target)
	switch {
	case m[2] == "":
		to = from / fill * fill
		from = to - max(fill, to/50)
		t.words = fmt.Sprintf("%d pages, or as near below as the book comes", to)
		if odd, _ := strconv.Atoi(m[1]); odd != to {
			t.words = fmt.Sprintf("no more than %d pages: that is %d, since pages are bound in multiples of %d", odd, to, fill)
		}
	case m[3] == "":
		to = max(own, from) * 3 / 2
		t.words = fmt.Sprintf("%d pages or more", from)
	case m[1] == "":
		from = min(own, to) * 2 / 3
		t.words = fmt.Sprintf("no more than %d pages", to)
	default:
		t.words = fmt.Sprintf("from %d to %d pages", from, to)
	}
	switch first := (from + fill - 1) / fill * fill; {
	case from > to:
		return nil, &callError{fmt.Errorf("--pages %s runs backwards: write the smaller number first", text)}
	case to < fill || to > mostPages:
		return nil, &callError{fmt.Errorf("--pages %s: a book has from %d to %d pages", text, fill, mostPages)}
	case first > to:
		return nil, &callError{fmt.Errorf("--pages %s: pages are bound in multiples of %d, and none is among these", text, fill)}
	}
	exact := m[2] == ""
	t.Least, t.Most = from, to
	t.Meets = func(_ typeset.Trim, pages int) (bool, int) {
		switch {
		case pages < from:
			return false, from - pages
		case pages > to:
			return false, pages - to
		case exact:
			return true, to - pages
		}
		return true, 0
	}
	return t, nil
}

// fullSignatures wants the pages that fill signatures, nearest to own or below
// it.
func fullSignatures(multiple, own int) *target {
	below := own / multiple * multiple
	above := below + multiple
	t := &target{words: fmt.Sprintf("full signatures of %d pages: %d", multiple, below)}
	t.Least, t.Most = below, below
	switch {
	case below == own:
	case below == 0:
		t.Least, t.Most = above, above
		t.words = fmt.Sprintf("a full signature of %d pages", multiple)
	case above-own <= own-below:
		t.Most = above
		t.words += fmt.Sprintf(" or %d", above)
	}
	t.Meets = func(_ typeset.Trim, pages int) (bool, int) {
		nearest := distance(pages, t.Least)
		if to := distance(pages, t.Most); to < nearest {
			nearest = to
		}
		return nearest == 0, nearest
	}
	return t
}

func distance(a, b int) int { return max(a-b, b-a) }

// money wants pages for which a copy costs little enough, or leaves enough.
func (w *wish) money(terms *edition.Terms, choice edition.Choice, trims []typeset.Trim, own int) (*target, error) {
	if terms == nil {
		return nil, &callError{errors.New("charge and earnings are in a printer's terms: name them with --printer FILE.toml, or as printer in book.toml; bodkin new writes an example")}
	}
	flag, amount := "--charge", w.charge
	if w.earn != "" {
		flag, amount = "--earn", w.earn
	}
	wanted, err := terms.Money(amount)
	if err != nil {
		return nil, &callError{fmt.Errorf("%s: %w", flag, err)}
	}
	if w.earn != "" && choice.List == nil {
		return nil, &callError{errors.New("--earn needs the list price: write --list 13.99, or list in [edition] of book.toml; bodkin price finds a price for earnings")}
	}
	t := &target{words: fmt.Sprintf("a copy for which %s charges no more than %s", terms.Name, edition.Show(wanted))}
	if w.earn != "" {
		t.words = fmt.Sprintf("a copy that earns %s or more at %s", edition.Show(wanted), edition.Show(*choice.List))
	}
	good := func(trim typeset.Trim, pages int) bool {
		c, err := terms.Copy(trim, pages, choice)
		if err != nil || c.Charge == nil || w.earn != "" && c.Earnings == nil {
			return false
		}
		for _, o := range c.Objections {
			if o.Code == "few-pages" || o.Code == "many-pages" {
				return false
			}
		}
		if w.earn != "" {
			more, err := c.Earnings.Cmp(wanted)
			return err == nil && more >= 0
		}
		more, err := c.Charge.Cmp(wanted)
		return err == nil && more <= 0
	}
	least, most, best := 0, 0, "" // pages that are good, and the best that any have
	for _, trim := range trims {
		for p := 2; p <= min(2*own, mostPages); p += 2 {
			c, err := terms.Copy(trim, p, choice)
			if err != nil {
				return nil, &callError{err}
			}
			of := c.Charge
			if w.earn != "" {
				of = c.Earnings
			}
			if of != nil && best == "" {
				best = edition.Show(*of) // of the thinnest book
			}
			if good(trim, p) {
				most = max(most, p)
				if least == 0 || p < least {
					least = p
				}
			}
		}
	}
	switch {
	case best == "" && w.earn != "":
		return nil, fmt.Errorf("%s does not say what a book like this earns: it needs [[charge]] and [earnings]", terms.Path)
	case best == "":
		return nil, fmt.Errorf("%s has no charge for a book like this: add [[charge]], or take another trim, stock or binding", terms.Path)
	case most == 0 && w.earn != "":
		return nil, fmt.Errorf("no number of pages earns %s at %s: the thinnest book earns %s; bodkin price --earn finds the price that does", edition.Show(wanted), edition.Show(*choice.List), best)
	case most == 0:
		return nil, fmt.Errorf("no number of pages has a charge of %s or less: the thinnest book has %s; take another stock, binding or trim", edition.Show(wanted), best)
	}
	t.Least, t.Most = min(own, most)*2/3, most
	t.Meets = func(trim typeset.Trim, pages int) (bool, int) {
		if good(trim, pages) {
			return true, 0
		}
		return false, distance(pages, most)
	}
	switch {
	case least > own:
		t.words += fmt.Sprintf(", so from %d pages on, the fewest that %s takes", least, terms.Name)
	case most+2 < min(2*own, mostPages):
		t.words += fmt.Sprintf(", so up to %d pages", most)
	}
	return t, nil
}
