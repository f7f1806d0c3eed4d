package typeset

// generatedWords are the words that the program adds to a book in a language.
type generatedWords struct {
	tag             string
	contents, notes string    // headings
	chapters        [3]string // the number of a first chapter, as examples of Numbers
	parts           [2]string // of a first part
}

// generated lists the words by language, for those that can be hyphenated.
// The headings are those of the trade (common practice).
var generated = [...]generatedWords{
	{"en", "Contents", "Notes", [3]string{"Chapter One", "1", "I"}, [2]string{"Part One", "Part I"}},
	{"de", "Inhalt", "Anmerkungen", [3]string{"Erstes Kapitel", "Kapitel 1", "I"}, [2]string{"Erster Teil", "Teil I"}},
	{"es", "Índice", "Notas", [3]string{"Capítulo primero", "Capítulo 1", "I"}, [2]string{"Primera parte", "Parte I"}},
	{"fr", "Table des matières", "Notes", [3]string{"Chapitre premier", "Chapitre 1", "I"}, [2]string{"Première partie", "Partie I"}},
	{"it", "Indice", "Note", [3]string{"Capitolo primo", "Capitolo 1", "I"}, [2]string{"Parte prima", "Parte I"}},
	{"nl", "Inhoud", "Noten", [3]string{"Hoofdstuk een", "Hoofdstuk 1", "I"}, [2]string{"Eerste deel", "Deel I"}},
	{"pl", "Spis treści", "Przypisy", [3]string{"Rozdział pierwszy", "Rozdział 1", "I"}, [2]string{"Część pierwsza", "Część I"}},
	{"pt-BR", "Sumário", "Notas", [3]string{"Capítulo um", "Capítulo 1", "I"}, [2]string{"Primeira parte", "Parte I"}},
	{"pt", "Índice", "Notas", [3]string{"Capítulo um", "Capítulo 1", "I"}, [2]string{"Primeira parte", "Parte I"}},
	{"sv", "Innehåll", "Noter", [3]string{"Första kapitlet", "Kapitel 1", "I"}, [2]string{"Första delen", "Del I"}},
}

// generatedIn returns the words of the language of a BCP 47 tag; those of
// English for a language that is not listed.
func generatedIn(tag string) *generatedWords {
	for i := range generated {
		if generated[i].tag == tag {
			return &generated[i]
		}
	}
	for i := range generated {
		if generated[i].tag == primary(tag) {
			return &generated[i]
		}
	}
	return &generated[0]
}
