// Package markup reads a manuscript, a folder of Markdown files, into a Book.
//
// A [Book] is a list of sections in reading order: chapters, pieces of front
// and back matter, and pages that are made rather than written. A [Section]
// has a title and blocks; a [Block] has text; a text is a flat list of
// [Inline] values, each of one style and from one line of one file. Whoever
// sets the book never sees Markdown, and can name the file and line of every
// letter.
//
// The file
//
//	# The Pilot
//
//	"'Twas *late*," she
//	said.[^1]
//
//	***
//
//	[^1]: Past ten.
//
// makes one Section with
//
//	Title   "The Pilot"                        line 1
//	Blocks  Paragraph
//	          "“’Twas "                        line 3
//	          "late"           Emphasis        line 3
//	          ",” she "                        line 3
//	          "said."                          line 4
//	          Note: 1                          line 4
//	        SceneBreak                         line 6
//	Notes   1: Paragraph "Past ten."           line 8
//
// # Sections
//
// The first heading of a file is the title of its section. Further headings
// as high as it, or higher, open further sections, so that a file may hold a
// chapter or a whole novel; deeper ones are a [Heading]. Text before the first
// heading, and a file without one, is a section without a title. In a file
// that is the whole body, a single first heading of level 1 above headings of
// level 2 names the book (see [Load]).
//
// A heading may begin with a number, which is the Number of its section:
//
//	# Chapter One: The Long Ebb      Number "Chapter One", Title "The Long Ebb";
//	                                 the title may stand in a heading of its own
//	                                 right below, one level lower
//	# XII                            Number "XII"
//	# Part Two                       Number "Part Two"; the Piece is a Part
//	# The Long Ebb, # 1984           a Title and no Number
//
// The words are those of the section's language. Headings one level below a
// part's open the chapters of the part; what stands between its heading and
// the next is the part's own. A prologue, an epilogue and their like are
// Plain: the program does not count them among the chapters.
//
// An untitled file is by its name a dedication, an epigraph or the copyright
// page; without such a name, it is the copyright page right behind the title
// page, and a plate when it holds nothing but pictures. The lines of a
// dedication and of an epigraph hold as they are typed where none is longer
// than 60 letters. A picture on a copyright page is an error.
//
// # Attributes
//
// Where Markdown has no word for a thing, words in braces say it:
//
//	# The Ebb {.part}                also .chapter .unnumbered .unlisted, .recto
//	                                 .verso .next (the side it begins on),
//	                                 head="Short title", lang=fr
//	[NO ENTRY]{.caps}                Style Caps; .sign: Inscribed; .raised, .lowered;
//	                                 lang=fr
//	![](map.png){.page}              also .bleed .spread, width=60%
//	```verse {lang=fr}               of all fences with a form
//
// One that is not known is an error, and so is a quotation mark in braces that
// nothing closes; braces that hold no such word are text.
//
// # What becomes of Markdown
//
// The manuscript is CommonMark with notes, tables and attributes. Nothing of
// it vanishes unsaid:
//
//	paragraph                    Paragraph
//	heading, # or underlined     number and title of a section, or Heading
//	heading without text         a SceneBreak; before all text, error
//	heading inside a note        error
//	#Heading without a space     error
//	*emphasis*                   Emphasis; inside emphasis, upright again
//	**strong emphasis**          Strong; inside strong, strong
//	[text]{.caps}                Caps; Inscribed for .sign; Raised, Lowered; Inline.Lang
//	                             for lang=
//	> block quotation            Quotation; a Motto when it comes first under the
//	                             heading of a chapter or a part, and in epigraph.md
//	> line\                      Verse, when all its paragraphs have forced line
//	                             ends and no others
//	> -- Harbour Rules           Attribution, as the last paragraph of a quotation
//	                             or its last line behind a forced line end
//	*Harwich, 3 March*           Dateline, as a first paragraph of one line
//	list                         List; its numbers come from the setting
//	thematic break               SceneBreak, and so is a paragraph, a heading or an
//	                             empty list of nothing but one to seven of
//	                             # ~ • · * ⁂ § ❦ – — _ = + and the like, and ~~~
//	                             between empty lines
//	text above --- or ===        a heading if it has 60 letters at the most and ends
//	                             as no sentence does; else, above ---, a paragraph
//	                             and a SceneBreak, above ===, an error
//	tab behind an empty line     a paragraph of the story: it ends a note or a list,
//	                             which spaces go on with
//	line end                     a space at the end of the Inline
//	hard break, \ or two spaces  Inline with Break
//	several spaces, tab          one space
//	[text](address "title")      the text is set, the address kept in
//	                             Inline.Link and not printed; the title is not
//	<address>                    the address is set, and kept in Inline.Link
//	[text][label], [label]       as [text](address)
//	[label]: address             not set; an error when it is never used
//	![alt](file "caption")       Picture, in a paragraph of nothing but pictures;
//	                             anywhere else, an error. The file is found from
//	                             the mentioning file's folder or the book's
//	| table | of pipes |         Table; missing cells are empty, cells that are
//	                             too many an error
//	`code`                       Inline with Code, marks as typed
//	fence with the word verse    Verse: every line is a line, spaces before it
//	                             count, an empty line ends a stanza
//	... letter                   Quotation of Form Letter: its first and last
//	                             short lines are Address, Salutation, Signature; in
//	                             it, lines of 45 letters at the most hold in a
//	                             paragraph that ends as no sentence does
//	... sign                     Sign, line by line
//	... motto                    Quotation of Form Motto
//	... another word, or none    Verbatim, its lines as typed, tabs expanded to
//	                             every fourth column; the word is not set
//	fence that is never closed   error
//	indented code block          paragraph: authors indent paragraphs, with a tab
//	                             or spaces, and mean nothing by it
//	<!-- remark -->              left out: it is the author's own
//	any other HTML               error that says what to write in its place
//	front matter (---, +++)      error: its place is book.toml
//	&eacute; &#233; &#xE9;       the character, never a typographer's mark
//	\*                           the character; \" and \' stay straight
//	[^label]                     Inline with Note
//	[^label]: text               Note of the section that refers to it
//	~~struck out~~               not CommonMark: text as typed
//
// Inside a fence with a form, Markdown works as elsewhere: in verse and signs
// that of a line, in letters and mottoes all of it.
//
// A note is referred to once. A reference without a note, a note without a
// reference, a second reference, and a note inside a note are errors. Notes
// are numbered by section and may stand anywhere in their file.
//
// # Typographer's marks
//
// Two hyphens become an en dash, three an em dash, three points an ellipsis
// (a fourth stays a point). In English two hyphens that are closed up to the
// words around them are a typewriter's em dash (wait--no), but between figures
// an en dash (1871--74). In the English of America and Canada those between
// spaces (wait -- no) become an em dash too, and are closed up (The Chicago
// Manual of Style on dashes), as are those with which a speech breaks off or
// sets in ("She was --"), but at the beginning of a paragraph or a held line. A line end beside a dash that is closed up to a word is no space.
//
// Straight " and ' become quotation marks and apostrophes by the language of
// the book, judged over the whole paragraph whatever the changes of style in
// it, and anew in every paragraph, because speech that goes on is opened again
// and closed once. In French, points that want a space before them get a
// no-break one.
//
// A ' that could open a quotation is an apostrophe in words known to lose
// their beginning (’Twas, ’em), in decades (’90s), and where nothing could
// close the quotation: before a small letter in a sentence, and before a
// capital (’Arry, ’Allo) in a sentence, in speech that ends in the paragraph,
// and at the beginning of a paragraph where the file's speech has double marks.
// The last, like every rule here, can be wrong: a mark that is typed as the
// typographer's stays as it is. Marks of measure (5'10")
// stay straight, since not every face has primes.
//
// The spaces U+00A0, U+202F and U+2009, the soft hyphen, and the invisible
// U+200B to U+200D and U+2060 are kept in the text. French relies on U+202F,
// which few faces have a glyph for: it is a space of a fifth of an em or so.
//
// # Faults
//
// What cannot be read or set is an [*Error] with file, line and remedy; Load
// returns all of them at once. Files are UTF-8, with or without a byte-order
// mark and with any of the three line ends, and stand inside the book folder;
// one of a word processor, in rich text or a PDF is refused as what it is.
package markup
