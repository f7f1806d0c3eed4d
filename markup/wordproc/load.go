package wordproc

import "fmt"

// The bounds of what is taken from a document. A novel of a million words has
// some 6 MiB of letters, and in quick dialogue 80 000 paragraphs of a run or
// two; what goes beyond was made to fill a memory, or is no one book.
const (
	maxLetters = 16 << 20 // bytes of text
	maxPieces  = 200_000  // paragraphs, runs, cells, styles, findings and so on
)

// load is how much has been taken so far.
type load struct{ letters, pieces int }

// full says what there is too much of; "" while all is well.
func (l *load) full() string {
	switch {
	case l.letters > maxLetters:
		return fmt.Sprintf("the document has more than %d MiB of text, as no book has", maxLetters>>20)
	case l.pieces > maxPieces:
		return fmt.Sprintf("the document has more than %d paragraphs and changes of look, as no book has", maxPieces)
	}
	return ""
}

// overload is the refusal of a document with more than a book can have.
func (d *Document) overload() error {
	if what := d.load.full(); what != "" {
		return &Error{File: d.Name, What: what, Mend: "divide it into two"}
	}
	return nil
}
