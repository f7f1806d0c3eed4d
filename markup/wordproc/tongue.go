package wordproc

import "bodkin/markup"

// spoken is the language that the words of a document are in, where they say it
// clearly and it is another than the document says; reason tells by how many
// words.
func (d *Document) spoken(said string) (tag, reason string) {
	var l markup.Listener
	for _, p := range d.Paragraphs {
		if !l.Hear(p.Text()) {
			break
		}
	}
	tag, hits, words := l.Language()
	if !markup.Mistaken(said, tag) {
		return "", ""
	}
	return tag, itoa(hits) + " of its " + itoa(words) + " words are among the commonest of that language"
}
