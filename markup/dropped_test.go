package markup

import "testing"

// The apostrophe, not an opening mark, where a word has lost its beginning
// (The Chicago Manual of Style 6.117, from memory); the words are those of
// London speech in novels.
func TestDroppedBeginnings(t *testing.T) {
	for _, c := range [][2]string{
		{`"'Allo, 'Allo!" said 'Arry.`, "“’Allo, ’Allo!” said ’Arry."},
		{`"'Ow d'you do?" said 'Erbert, and 'e went 'ome.`, "“’Ow d’you do?” said ’Erbert, and ’e went ’ome."},
		{`"'Enery the Eighth, I am," she sang.`, "“’Enery the Eighth, I am,” she sang."},
		{`"I say, 'Erb, what's up?"`, "“I say, ’Erb, what’s up?”"},
		{`He met 'Arriet at 'Ampstead 'Eath.`, "He met ’Arriet at ’Ampstead ’Eath."},
		{`'Alf past ten, guv.`, "’Alf past ten, guv."},
		{`'Ead down!`, "’Ead down!"},
		{`'Ouse in order, mate.`, "’Ouse in order, mate."},
		{`'Ere, what's this?`, "’Ere, what’s this?"},
		{"\"Oh.\"\n\n'Ampstead was dark.", "“Oh.”¶’Ampstead was dark."}, // speech has other marks here

		// quotations, closed here or in a later paragraph
		{`"He said 'No,' and left 'Arry there."`, "“He said ‘No,’ and left ’Arry there.”"},
		{`'He came in and said nothing.`, "‘He came in and said nothing."},
		{`"'Dear Tom. I came`, "“‘Dear Tom. I came"},
		{`She said: 'He came home`, "She said: ‘He came home"},
		{`"'Come home,' he said."`, "“‘Come home,’ he said.”"},
		{`I know 'The Ebb' and 'The Flood.'`, "I know ‘The Ebb’ and ‘The Flood.’"},
	} {
		if got := textOf(t, "en", c[0]); got != c[1] {
			t.Errorf("%s\n got %s\nwant %s", c[0], got, c[1])
		}
	}
}
