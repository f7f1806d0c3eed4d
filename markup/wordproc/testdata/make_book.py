"""Makes a document of a book, for the tests.

    /usr/bin/python3 make_book.py BOOK.json OUT.docx|OUT.odt

BOOK.json is a list of paragraphs: {"heading": bool, "runs": [[text, italic], ...]}.
Written with the general libraries python3-docx (WordprocessingML) and python3-odf
(OpenDocument), both of Debian.
"""
import json
import sys


def docx(book, out):
    import docx as library
    d = library.Document()
    for p in book:
        q = d.add_heading(level=1) if p["heading"] else d.add_paragraph()
        for text, italic in p["runs"]:
            q.add_run(text).italic = True if italic else None
    d.save(out)


def odt(book, out):
    from odf.opendocument import OpenDocumentText
    from odf.style import Style, TextProperties
    from odf.teletype import addTextToElement
    from odf.text import H, P, Span
    d = OpenDocumentText()
    heading = Style(name="Heading 1", family="paragraph")
    italic_style = Style(name="Emphasis", family="text")
    italic_style.addElement(TextProperties(fontstyle="italic"))
    d.styles.addElement(heading)
    d.styles.addElement(italic_style)
    for p in book:
        q = H(outlinelevel=1, stylename=heading) if p["heading"] else P()
        for text, italic in p["runs"]:
            to = q
            if italic:
                to = Span(stylename=italic_style)
                q.addElement(to)
            addTextToElement(to, text)
        d.text.addElement(q)
    d.save(out)


book = json.load(open(sys.argv[1], encoding="utf-8"))
(docx if sys.argv[2].endswith(".docx") else odt)(book, sys.argv[2])
