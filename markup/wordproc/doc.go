// Package wordproc takes a manuscript that is not in chapters into Markdown
// chapters: a word-processing document of ISO/IEC 29500 (WordprocessingML,
// .docx) or ISO/IEC 26300 (OpenDocument Text, .odt), or one file of Markdown or
// plain text. A manuscript in several documents, such as one for each chapter, is
// read as one ([ReadAll]).
//
// A reader makes a [Document] of the file: paragraphs with what the document
// says of their look, and runs of letters. [Document.Recognise] finds the book
// in it, a [Manuscript]: title, chapters, scenes. [Manuscript.Save] writes the
// chapters, reads them again with package markup, and holds letter against
// letter.
//
// The paragraphs
//
//	1  "Chapter One"              centred, begins a page
//	2  "The Long Ebb"             centred
//	3  "The clerk came early."    "early" in italics
//	4  "#"                        centred
//	5  "1. He said."
//
// become the file chapters/01-the-long-ebb.md
//
//	# Chapter One: The Long Ebb
//
//	The clerk came *early*.
//
//	* * *
//
//	1\. He said.
//
// and two [Guess]es: that paragraph 1 opens a chapter, because it says "Chapter
// One", begins a page and is centred; and that 4 is a scene break, because it is
// a line of nothing but signs.
//
// # What is found
//
// A heading opens a chapter by its style or its outline level. The highest
// level that most text stands below is that of chapters; headings above it
// that say so, or have no text of their own, are parts, and one alone above all
// others, or first with a name below it, names the book. Without such headings a
// line opens a chapter by its look: it is short, and has enough of a number
// ("Chapter 7", "VII", "Seven"), a new page, the centre, a larger or bolder
// letter, capitals, empty lines around it; or numbers go on from one such line to
// the next; or all lines of that look stand alone above text. The word, the number
// and the title, or a name above the number, can stand in lines of their own.
// Prologues, prefaces, afterwords and their like are known by name, in nine
// languages.
//
// A scene ends at a line of signs, a line that is drawn, a small picture that
// comes again and again, an empty line where paragraphs follow each other
// without (or more of them than is the rule), much more space than is the rule,
// or a new page without a heading. Short lines of one look that say when it is, or
// stand where scenes begin, or have the same names again and again, are headings
// inside a chapter.
//
// Before the first chapter, pages are told apart by page breaks: the title page
// gives title, subtitle and author; copyright, dedication and epigraph get
// files of their own, and so do pages that begin with a name, such as a cast of
// characters; tables of contents are left out. A page of text before the last of
// them is one of the front; a page that is none of these is kept in the folder
// aside, which the book does not list. The back begins with a name,
// such as Acknowledgments, behind which no number goes on.
//
// A letter is told by its salutation, and ends with its close and signature, or
// where its look ends. Paragraphs that stand in on both sides, or have such a
// style, are quotations; lines that the author ended short, or typed in deeper
// than the text, are verse, but those that say who speaks, or when, or have
// numbers, hold in a quotation, as do messages at the left and at the right.
// Short lines in the middle are a sign, or four of them and more verse. What
// stands between a heading and the text, out of the text's own lines, is a motto,
// or in one short line place and date; below a number alone it can be the title.
// Lists, tables, notes and pictures stay what they are, as far as the Markdown
// of package markup has them; what it has not becomes text and is listed.
//
// # What is kept, changed and left out
//
// Emphasis, strong letters, small capitals, superscripts and subscripts,
// languages, no-break spaces, soft hyphens, and quotation marks as they were
// typed are kept. Underlines and letterspaced words become emphasis, capitals by
// format small capitals; sides, faces and colours of the text go; each is a
// [Change], and what is in a colour, or says that it is for the author, is a
// Guess of a place left open. Tabs and spaces that were typed as indents go.
// Tracked changes are accepted, or refused ([Options.Strict]). Comments,
// headers and footers, hidden text, contents and so on are left out; each is a
// [Finding]. Fields are the text that they show.
//
// # Bounds
//
// Files are read as a stream. A package is looked over before anything in it is
// unpacked: names that lead out of it, parts that would grow as no text does,
// and too many parts are refused, as are document types (and so entities) and
// elements nested deeper than 200. Nothing outside the document is ever read,
// whatever it refers to. An [*Error] is one line with the file, the part, and
// the mend.
package wordproc
