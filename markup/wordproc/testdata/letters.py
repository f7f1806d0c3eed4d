"""Prints the text of a document, paragraph by paragraph, with its notes behind it.

    /usr/bin/python3 letters.py FILE.docx|FILE.odt ...

Between the texts of several files stands a form feed.

Another reader than the program's: python3-docx with lxml, and python3-odf, both of
Debian. Deleted text, comments, descriptions of pictures, and the second form of what is there
in two are no text; the marks of notes are none either.
"""
import sys


def docx(path):
    import docx as library
    d = library.Document(path)
    w = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
    skip = {"{http://schemas.openxmlformats.org/markup-compatibility/2006}Fallback", w + "del", w + "moveFrom", w + "instrText"}

    def words(node):
        for child in node:
            if child.tag in skip:
                continue
            if child.tag in (w + "t", "{http://schemas.openxmlformats.org/officeDocument/2006/math}t"):
                yield child.text or ""
            elif child.tag in (w + "p", w + "br", w + "tab"):
                yield "\n"
            yield from words(child)

    print("".join(words(d.element.body)))
    for rel in d.part.rels.values():
        if rel.reltype.endswith("/footnotes") or rel.reltype.endswith("/endnotes"):
            from lxml import etree
            for note in etree.fromstring(rel.target_part.blob):
                if note.get(w + "type") is None:
                    print("".join(words(note)))


def odt(path):
    from odf import teletype, text
    from odf.opendocument import load
    d = load(path)
    notes = []
    for tag in (text.NoteCitation, text.NoteBody):
        for n in list(d.getElementsByType(tag)):
            if tag is text.NoteBody:
                notes.append(teletype.extractText(n))
            n.parentNode.removeChild(n)
    for c in list(d.getElementsByType(text.TrackedChanges)):
        c.parentNode.removeChild(c)
    from odf.office import Annotation
    from odf.svg import Desc
    for c in list(d.getElementsByType(Annotation)) + list(d.getElementsByType(Desc)):
        c.parentNode.removeChild(c)
    print(teletype.extractText(d.text))
    print("\n".join(notes))


for i, path in enumerate(sys.argv[1:]):
    if i:
        print("\f")
    try:
        (docx if path.endswith(".docx") else odt)(path)
    except Exception as e:
        raise SystemExit("%s: %r" % (path, e))
