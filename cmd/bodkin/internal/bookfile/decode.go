package bookfile

import "bodkin/cmd/bodkin/internal/strict"

// decode reads text into v strictly. The error is one line with the file and
// the line: a key that is not known names the nearest that is.
func decode(path string, text []byte, v any) error { return strict.Decode(path, text, v, Name) }
