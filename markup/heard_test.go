package markup_test

import (
	"strings"
	"testing"

	"bodkin/markup"
	"bodkin/markup/markuptest"
)

// TestHeard tells real texts by their words, and says nothing of too few or of
// those in no language that it knows. The Universal Declaration of Human
// Rights, article 1, is quoted in each language (United Nations; from memory).
func TestHeard(t *testing.T) {
	for lang, text := range map[string]string{
		"en": "All human beings are born free and equal in dignity and rights. They are endowed with reason and conscience and should act towards one another in a spirit of brotherhood. ",
		"de": "Alle Menschen sind frei und gleich an Würde und Rechten geboren. Sie sind mit Vernunft und Gewissen begabt und sollen einander im Geist der Brüderlichkeit begegnen. ",
		"fr": "Tous les êtres humains naissent libres et égaux en dignité et en droits. Ils sont doués de raison et de conscience et doivent agir les uns envers les autres dans un esprit de fraternité. ",
		"es": "Todos los seres humanos nacen libres e iguales en dignidad y derechos y, dotados como están de razón y conciencia, deben comportarse fraternalmente los unos con los otros. ",
		"it": "Tutti gli esseri umani nascono liberi ed eguali in dignità e diritti. Essi sono dotati di ragione e di coscienza e devono agire gli uni verso gli altri in spirito di fratellanza. ",
		"nl": "Alle mensen worden vrij en gelijk in waardigheid en rechten geboren. Zij zijn begiftigd met verstand en geweten, en behoren zich jegens elkander in een geest van broederschap te gedragen. ",
		"sv": "Alla människor är födda fria och lika i värde och rättigheter. De har utrustats med förnuft och samvete och bör handla gentemot varandra i en anda av broderskap. ",
		"":   "Lorem ipsum dolor sit amet, consectetur adipiscing elit, sed do eiusmod tempor incididunt ut labore et dolore magna aliqua. ",
	} {
		var l markup.Listener
		l.Hear(strings.Repeat(text, 3))
		if got, hits, words := l.Language(); got != lang {
			t.Errorf("%q is %q: %d of %d", text, got, hits, words)
		}
	}
	var few markup.Listener
	few.Hear("The tide was in, and the clerk was not.")
	if got, _, _ := few.Language(); got != "" {
		t.Errorf("nine words are %q", got)
	}
	for _, text := range []markuptest.Text{markuptest.TomSawyer(t), markuptest.Opticks(t)} {
		b, err := markup.Load(t.Context(), text.Source)
		if err != nil {
			t.Fatal(err)
		}
		if got, hits, words := b.Heard(); got != "en" || words < 10_000 {
			t.Errorf("%s is %q: %d of %d", text.Path, got, hits, words)
		}
	}
	for _, c := range []struct {
		said, heard string
		want        bool
	}{{"en-US", "de", true}, {"de-CH", "de", false}, {"da", "sv", false}, {"ca", "es", false}, {"en", "", false}} {
		if got := markup.Mistaken(c.said, c.heard); got != c.want {
			t.Errorf("%s, heard as %q: %v", c.said, c.heard, got)
		}
	}
}
