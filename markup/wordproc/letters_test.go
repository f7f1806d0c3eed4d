package wordproc

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestLetters finds letters in the ways that authors set them off, and none
// where speech and story only sound like one.
func TestLetters(t *testing.T) {
	for _, c := range []struct{ name, script, want string }{
		{"address at the right, text as elsewhere", ">Thornwick, 10 May 1887\nMy dear Captain,\n\tFILLER\n>Your obedient servant,\n>A. Pole\nP.S. Burn this.",
			"Thornwick, 10 May 1887\n\nMy dear Captain,\n\nFILLER\n\nYour obedient servant,\n\nA. Pole\n\nP.S. Burn this."},
		{"at the left, told by its words", "Dear Captain,\n\tFILLER\n\tFILLER\nYours ever,\nA. Pole", "Dear Captain,\n\nFILLER\n\nFILLER\n\nYours ever,\n\nA. Pole"},
		{"in italics, without a close", "_Dear Captain,\n\t_FILLER\n\t_Come soon.", "*Dear Captain,*\n\n*FILLER*\n\n*Come soon.*"},
		{"in another face", "=Dear Captain,\n\t=FILLER\n\t=Come soon.", "Dear Captain,\n\nFILLER\n\nCome soon."},
		{"among empty lines", "\nDear Captain,\n\tFILLER\n\tFILLER\nPole\n", "Dear Captain,\n\nFILLER\n\nFILLER\n\nPole"},
		{"signed with a dash", "Dear Captain,\n\tFILLER\n\tFILLER\nYours ever,\n— A. Pole", "Dear Captain,\n\nFILLER\n\nFILLER\n\nYours ever,\n\n— A. Pole"},
		{"a word and an initial", ">Monday\nAunt,\n\tFILLER\n\tFILLER\n>L.", "Monday\n\nAunt,\n\nFILLER\n\nFILLER\n\nL."},
		{"in another language", "Liebe Frau Lindhorst!\n\tFILLER\nHerzliche Grüße\nIhre Ines", "Liebe Frau Lindhorst!\n\nFILLER\n\nHerzliche Grüße\n\nIhre Ines"},
		{"with its address below the heading", "/\n^Chapter 2\nHamburg, den 3. Mai 1887\n\nLieber Hans!\n\tFILLER\n\tFILLER\nDein Karl", "Hamburg, den 3. Mai 1887\n\nLieber Hans!\n\nFILLER\n\nFILLER\n\nDein Karl"},
		{"speech is none", "\t“Dear Captain,\n\tFILLER\n\t“Yours ever,", ""},
		{"a cry in another language is none", "\tCara!\n\tFILLER\n\tFILLER\nYours ever,\nA. Pole", ""},
		{"in two words of another language", "Cara Lucia,\n\tFILLER\n\tFILLER\nYours ever,\nA. Pole", "Cara Lucia,\n\nFILLER\n\nFILLER\n\nYours ever,\n\nA. Pole"},
		{"a salutation alone is none", "\tDear Captain,\n\tFILLER\n\tFILLER", ""},
		{"a thought is none", "\tDear God—\n\tFILLER\n\tFILLER\n\tLove", ""},
		{"words that only begin so are none", "\tDear old Pole, dear foolish Pole,\n\tFILLER\n\tFILLER\n\tLove of money\n\tFILLER", ""},
		{"a close that goes on is none", "\tDear Captain,\n\tFILLER\n\tFILLER\n\tYour turn\n\tFILLER", ""},
		{"a close alone is none", "\tFILLER\n\tYours ever,\n\tFILLER", ""},
	} {
		script := "^Chapter 1\n\tFILLER\n\tFILLER\n\tFILLER\n\tFILLER\n" + c.script + "\n\tFILLER\n\tFILLER\n/\n^Chapter 9\n\tFILLER"
		wml, odt := typed(script)
		for name, document := range map[string][]byte{"a.docx": docxOf(t, wml), "a.odt": odtOf(t, odt)} {
			k := take(t, name, document)
			got := k.text(t)
			_, fenced, found := strings.Cut(got, "```letter\n")
			fenced, rest, _ := strings.Cut(fenced, "\n```")
			if diff := cmp.Diff(strings.ReplaceAll(c.want, "FILLER", filler), fenced); diff != "" || found != (c.want != "") || strings.Contains(rest, "```letter") {
				t.Errorf("%s, %s (-want +got):\n%s\n%s", c.name, name, diff, got)
			}
			if strings.Contains(got, "* * *") || !k.compared.Equal() {
				t.Errorf("%s, %s: %v\n%s", c.name, name, k.compared.Differences, got)
			}
		}
	}
}
