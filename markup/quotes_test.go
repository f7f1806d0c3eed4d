package markup

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// load makes a book of one file.
func load(t testing.TB, lang, text string) (*Book, error) {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.md"), []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return Load(context.Background(), Source{Dir: dir, Title: "T", Language: lang, Body: []string{"a.md"}})
}

// textOf is the text of all paragraphs of a book.
func textOf(t testing.TB, lang, md string) string {
	t.Helper()
	b, err := load(t, lang, md)
	if err != nil {
		t.Fatal(err)
	}
	var ps []string
	for _, s := range b.Sections {
		for _, bl := range s.Blocks {
			ps = append(ps, Plain(bl.(*Paragraph).Text))
		}
	}
	return strings.Join(ps, "¶")
}

// The expectations are the rules of The Chicago Manual of Style, 6.115–6.117
// (apostrophes, not opening marks, for what is left out at the beginning of a
// word; from memory) and common practice in novels.
func TestQuotesEnglish(t *testing.T) {
	for _, c := range [][2]string{
		// double
		{`"Hello," she said.`, `“Hello,” she said.`},
		{`She said, "Hello."`, `She said, “Hello.”`},
		{`"Hello!" "Hello!"`, `“Hello!” “Hello!”`},
		{`"No," he said, "not yet."`, `“No,” he said, “not yet.”`},
		{`("Hello")`, `(“Hello”)`},
		{`["Hello"]`, `[“Hello”]`},
		{`He said---"Come in."`, `He said—“Come in.”`},
		{`"I thought---" he began.`, `“I thought—” he began.`},
		{`"I thought---"`, `“I thought—”`},
		{`"Wait"---he rose---"for me."`, `“Wait”—he rose—“for me.”`},
		{`"Wait!"---he rose`, `“Wait!”—he rose`},
		{`"---and so on," he said`, `“—and so on,” he said`},
		{`"...and so on," he said`, `“…and so on,” he said`},
		{`"Well..." he said`, `“Well…” he said`},
		{`"What?!" he said`, `“What?!” he said`},
		{`"*Now*," he said`, `“Now,” he said`},
		{`*"Now,"* he said`, `“Now,” he said`},
		{`*"Now*," he said`, `“Now,” he said`},
		{`the **"Albatross"**.`, `the “Albatross”.`},
		{"\"It goes\non,\" he said", `“It goes on,” he said`},
		{"\"It breaks  \nhere,\" he said", `“It breaks here,” he said`},
		{"\"It breaks\\\n\"again\\\n\"and again.\"", `“It breaks “again “and again.”`},
		{`"One paragraph.` + "\n\n" + `"Another," he said.`, `“One paragraph.¶“Another,” he said.`},
		{`a "b"/"c" d`, `a “b”/“c” d`},
		{`the so-"called" thing`, `the so-“called” thing`},
		{`" odd "`, `“ odd ”`},
		{`he typed "!" and "?".`, `he typed “!” and “?”.`},
		{`"Hello,"she said`, `“Hello,”she said`},
		{`"It's [the sea](x)," he said`, `“It’s the sea,” he said`},
		{`"See[^1]" he said` + "\n\n[^1]: There.", `“See” he said`},
		{`"*A*" "**B**" "C"`, `“A” “B” “C”`},
		// single
		{`'Hello,' she said.`, `‘Hello,’ she said.`},
		{`She said, 'Hello.'`, `She said, ‘Hello.’`},
		{`'Don't,' she said, 'go.'`, `‘Don’t,’ she said, ‘go.’`},
		{`'I thought---' he began.`, `‘I thought—’ he began.`},
		{`He said---'Come in.'`, `He said—‘Come in.’`},
		{`('Hello')`, `(‘Hello’)`},
		{`'One paragraph.` + "\n\n" + `'And another,' he said.`, `‘One paragraph.¶‘And another,’ he said.`},
		{`'And on it goes.` + "\n\n" + `'And ends.'`, `‘And on it goes.¶‘And ends.’`},
		{`'*Now*,' he said`, `‘Now,’ he said`},
		// nested
		{`"He said 'no,'" she said.`, `“He said ‘no,’” she said.`},
		{`"'No,' he said," she said.`, `“‘No,’ he said,” she said.`},
		{`'He said "no,"' she said.`, `‘He said “no,”’ she said.`},
		{`"'Tis so,' he said"`, `“’Tis so,’ he said”`},
		{`"''Tis so,' he said"`, `“‘’Tis so,’ he said”`},
		{`''Tis so,' he said`, `‘’Tis so,’ he said`},
		{`"'But she called it "home,"' he said."`, `“‘But she called it “home,”’ he said.”`},
		// apostrophes inside and at the end of words
		{`don't I'm you're we've he'd o'clock`, `don’t I’m you’re we’ve he’d o’clock`},
		{`O'Brien's rock'n'roll`, `O’Brien’s rock’n’roll`},
		{`*Nancy*'s crew`, `Nancy’s crew`},
		{`the *Nancy's* crew`, `the Nancy’s crew`},
		{`the boys' room`, `the boys’ room`},
		{`"the boys' room," he said`, `“the boys’ room,” he said`},
		{`'the boys' room was cold,' he said`, `‘the boys’ room was cold,’ he said`},
		{`James' hat`, `James’ hat`},
		{`"I'm goin' home," he said`, `“I’m goin’ home,” he said`},
		{`'I'm goin' home,' he said`, `‘I’m goin’ home,’ he said`},
		{`ol' man an' th' sea o' grass`, `ol’ man an’ th’ sea o’ grass`},
		{`"Nothin'," he said; "nothin'."`, `“Nothin’,” he said; “nothin’.”`},
		{`"goin'"`, `“goin’”`},
		{`fo'c's'le`, `fo’c’s’le`},
		{`the 1920's and the 1920s' end`, `the 1920’s and the 1920s’ end`},
		{`A's and p's and q's`, `A’s and p’s and q’s`},
		{`café's`, `café’s`},
		// apostrophes at the beginning
		{`'Twas a dark night.`, `’Twas a dark night.`},
		{`"'Twas a dark night."`, `“’Twas a dark night.”`},
		{`And 'tis done.`, `And ’tis done.`},
		{`'Tisn't so; 'twouldn't do.`, `’Tisn’t so; ’twouldn’t do.`},
		{`Get 'em! "Get 'em," he said.`, `Get ’em! “Get ’em,” he said.`},
		{`wait 'til then`, `wait ’til then`},
		{`"'Cause I say so."`, `“’Cause I say so.”`},
		{`just 'cause`, `just ’cause`},
		{`'Cause of death unknown,' he read.`, `‘Cause of death unknown,’ he read.`},
		{`how 'bout it`, `how ’bout it`},
		{`rock 'n' roll`, `rock ’n’ roll`},
		{`rock 'n roll`, `rock ’n roll`},
		{`'I like rock 'n' roll,' he said`, `‘I like rock ’n’ roll,’ he said`},
		{`come 'round here`, `come ’round here`},
		{`as I said 'fore now`, `as I said ’fore now`},
		{`the '90s and the '60s.`, `the ’90s and the ’60s.`},
		{`the summer of '45 was hot`, `the summer of ’45 was hot`},
		{`'45 men were lost,' he said`, `‘45 men were lost,’ he said`},
		{`in the "'90s"`, `in the “’90s”`},
		{`"'E said 'is 'ouse," she said`, `“’E said ’is ’ouse,” she said`},
		{`now 'ere---'tis---'twas`, `now ’ere—’tis—’twas`},
		{`('tis true)`, `(’tis true)`},
		{`*'tis* true`, `’tis true`},
		{`stand at 'tention there`, `stand at ’tention there`},
		{`gone 'tween decks`, `gone ’tween decks`},
		{`"He might 'a' known," the letter 'a' said`, `“He might ’a’ known,” the letter ‘a’ said`},
		{`"You'd 'a' seen it"`, `“You’d ’a’ seen it”`},
		{`go 'long an' 'tend to it; 'deed I 'low`, `go ’long an’ ’tend to it; ’deed I ’low`},
		{`that 'dangerous' job, 'the observed of all observers,' went`, `that ‘dangerous’ job, ‘the observed of all observers,’ went`},
		// measures stay straight
		{`he was 5'10" tall`, `he was 5'10" tall`},
		{`he was 5' 10" tall`, `he was 5' 10" tall`},
		{`"He's 5'10"," she said.`, `“He’s 5'10",” she said.`},
		{`"He's 5'10""`, `“He’s 5'10"”`},
		{`a 6' pole and a 3½" nail`, `a 6' pole and a 3½" nail`},
		{`in "1906" and '1906' too`, `in “1906” and ‘1906’ too`},
		{`"It was 1906," he said; "1906"`, `“It was 1906,” he said; “1906”`},
		// typed by the author, escaped, and not text
		{`“Hello,” ‘he’ said—‘tis’`, `“Hello,” ‘he’ said—‘tis’`},
		{`“'Tis so,” he said`, `“’Tis so,” he said`},
		{`“'No,' he said,” she said`, `“‘No,’ he said,” she said`},
		{`\"straight\" and \'straight\' 5\'10\"`, `"straight" and 'straight' 5'10"`},
		{`&quot;straight&quot; &#39;x&#39;`, `"straight" 'x'`},
		{"a `\"b\" 'c' -- ...` d", `a "b" 'c' -- ... d`},
		{"\"`x`\" 'y'", `“x” ‘y’`},
		{`<http://a/'b'>`, `http://a/'b'`},
		// dashes and ellipses
		{`a--b --- c -- d`, `a—b — c—d`},
		{`"Wait--" she said, "no--*so*--yes"`, `“Wait—” she said, “no—so—yes”`},
		{"she was--\nwell\n--gone---\nno ---\nyes", `she was—well—gone—no — yes`},
		{`1914--18 and ---no`, `1914–18 and —no`},
		{`1914--1918`, `1914–1918`},
		{`well... so....`, `well… so….`},
		{`a\-\-b`, `a--b`},
		{`well… so`, `well… so`},
	} {
		if got := textOf(t, "en-US", c[0]); got != c[1] {
			t.Errorf("%s\n got %s\nwant %s", c[0], got, c[1])
		}
	}
}

// The marks of each language are the delimiters of the Unicode CLDR (from
// memory); the French spaces those of the Lexique des règles typographiques en
// usage à l'Imprimerie nationale (from memory).
func TestQuotesByLanguage(t *testing.T) {
	const n = "\u202F"
	for _, c := range [][3]string{
		{"en-US", `"A 'b' it's," he`, "“A ‘b’ it’s,” he"},
		{"en-GB", `'A "b" it's,' he`, "‘A “b” it’s,’ he"},
		{"en-AU", `"A"`, "“A”"},
		{"de", `"Ja, 'so' geht's", sagte er.`, "„Ja, ‚so‘ geht’s“, sagte er."},
		{"de-AT", `"Ja"`, "„Ja“"},
		{"de", `"Was ist 'n das?" Hans' Hut --- "ja"`, "„Was ist ’n das?“ Hans’ Hut — „ja“"},
		{"de", `"'Ja', sagte er", sagte sie.`, "„‚Ja‘, sagte er“, sagte sie."},
		{"de", `»'Ja', sagte er«`, "»‚Ja‘, sagte er«"},
		{"de", `„'Ja', sagte er“, so 'war' es`, "„‚Ja‘, sagte er“, so ‚war‘ es"},
		{"de-CH", `"Ja, 'so' geht's"`, "«Ja, ‹so› geht’s»"},
		{"de-LI", `"Ja"`, "«Ja»"},
		{"fr", `"Oui", dit-il.`, "«" + n + "Oui" + n + "», dit-il."},
		{"fr", `" Oui ", dit-il.`, "«" + n + "Oui" + n + "», dit-il."},
		{"fr", `"L'ami 'vrai'"`, "«" + n + "L’ami “vrai”" + n + "»"},
		{"fr", `Quoi ? Quoi! Non ; si: oui.`, "Quoi" + n + "? Quoi" + n + "! Non" + n + "; si\u00A0: oui."},
		{"fr", `Quoi ?! Quoi?! Ah...! (?)`, "Quoi" + n + "?! Quoi" + n + "?! Ah…" + n + "! (?)"},
		{"fr", `« Oui ! » «Non»`, "«" + n + "Oui" + n + "!" + n + "» «Non»"},
		{"fr", `"Oui !" "Non!"`, "«" + n + "Oui" + n + "!" + n + "» «" + n + "Non" + n + "!" + n + "»"},
		{"fr", "à 10:30 sur http://a.b", "à 10:30 sur http://a.b"},
		{"fr", "Quoi\u00A0? Quoi\u202F!", "Quoi\u00A0? Quoi\u202F!"},
		{"fr", "*Quoi* !\n! Et\n; puis", "Quoi" + n + "!" + n + "! Et" + n + "; puis"},
		{"fr", "l'*ami* d'\"Anne\" aujourd'hui", "l’ami d’«" + n + "Anne" + n + "» aujourd’hui"},
		{"fr-CA", `"Oui!" : non!`, "«" + n + "Oui!" + n + "»\u00A0: non!"},
		{"es", `"Sí, 'así'", dijo. ¿"Qué"? "¡Hola!"`, "«Sí, “así”», dijo. ¿«Qué»? «¡Hola!»"},
		{"es-MX", `"Sí"`, "«Sí»"},
		{"it", `"Sì, 'così'", l'amico. Un po' d'acqua.`, "«Sì, “così”», l’amico. Un po’ d’acqua."},
		{"pt-PT", `"Sim, 'assim'"`, "«Sim, “assim”»"},
		{"pt-BR", `"Sim, 'assim'"`, "“Sim, ‘assim’”"},
		{"pt", `"Sim"`, "“Sim”"},
		{"nl", `"Ja, 'zo'", 's avonds, zo'n, 't huis, foto's`, "“Ja, ‘zo’”, ’s avonds, zo’n, ’t huis, foto’s"},
		{"sv", `"Ja, 'så'", sa han.`, "”Ja, ’så’”, sa han."},
		{"sv", `"'Ja', sa han", sa hon`, "”’Ja’, sa han”, sa hon"},
		{"fi", `"Niin"`, "”Niin”"},
		{"pl", `"Tak, 'tak'"`, "„Tak, ‚tak’”"},
		{"da", `"Ja"`, "»Ja«"},
		{"nb", `"Ja"`, "«Ja»"},
		{"ru", `"Да, 'так'"`, "«Да, „так“»"},
		{"ja", `"a"`, "“a”"},
		{"", `"a"`, "“a”"},
	} {
		if got := textOf(t, c[0], c[1]); got != c[2] {
			t.Errorf("%s: %s\n got %q\nwant %q", c[0], c[1], got, c[2])
		}
	}
}
