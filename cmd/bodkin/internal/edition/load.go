package edition

import (
	"bodkin/cmd/bodkin/internal/strict"
)

// Load reads a printer's terms. Every key must be known and every figure that
// is needed there; the error is one line, with the file's.
func Load(path string) (*Terms, error) {
	text, modified, err := strict.Read(path)
	if err != nil {
		return nil, err
	}
	t, err := parse(path, text)
	if err != nil {
		return nil, err
	}
	t.Modified = modified
	return t, nil
}

// parse reads terms that stand in the file at path.
func parse(path string, text []byte) (*Terms, error) {
	t := &Terms{Path: path}
	if err := strict.Decode(path, text, t, "printer.toml"); err != nil {
		return nil, err
	}
	t.lines = strict.LinesOf(text)
	if err := t.check(); err != nil {
		return nil, err
	}
	return t, nil
}
