"""Makes rich.odt with python3-odf 1.4.2 (Debian):

    /usr/bin/python3 make_rich.py rich.odt

The same book as make_rich.mjs makes, as far as the library goes.
"""
import sys

from odf import draw, office, style, table, text
from odf.opendocument import OpenDocumentText

d = OpenDocumentText()
from odf.dc import Title
from odf.meta import InitialCreator
d.meta.addElement(Title(text="The Borrowed Tide"))
d.meta.addElement(InitialCreator(text="Ines Marrow"))


def para(name, parent=None, **props):
    s = style.Style(name=name, family="paragraph", parentstylename=parent) if parent else style.Style(name=name, family="paragraph")
    if props:
        s.addElement(style.ParagraphProperties(**props))
    (d.automaticstyles if parent else d.styles).addElement(s)
    return s


def char(name, **props):
    s = style.Style(name=name, family="text")
    s.addElement(style.TextProperties(**props))
    d.automaticstyles.addElement(s)
    return s


plain = para("Standard")
heading = para("Heading 1")
centred = para("P1", plain, textalign="center")
page = para("P2", plain, breakbefore="page")
centred_page = para("P3", plain, textalign="center", breakbefore="page")
indented = para("P4", plain, marginleft="0.5in", marginright="0.5in")
italic, bold = char("T1", fontstyle="italic"), char("T2", fontweight="bold")
both = char("T3", fontstyle="italic", fontweight="bold")
under = char("T4", textunderlinestyle="solid")
small = char("T5", fontvariant="small-caps")
raised = char("T6", textposition="super 58%")


def p(*parts, s=None):
    q = text.P(stylename=s) if s else text.P(stylename=plain)
    for part in parts:
        if isinstance(part, str):
            q.addText(part)
        elif isinstance(part, tuple):
            q.addElement(text.Span(stylename=part[0], text=part[1]))
        else:
            q.addElement(part)
    d.text.addElement(q)
    return q


def note(*paragraphs):
    n = text.Note(noteclass="footnote")
    n.addElement(text.NoteCitation(text="1"))
    body = text.NoteBody()
    for t in paragraphs:
        body.addElement(text.P(text=t))
    n.addElement(body)
    return n


def h(t, level=1):
    d.text.addElement(text.H(outlinelevel=level, stylename=heading, text=t))


p("The Borrowed Tide", s=centred)
p("A Novel", s=centred)
p("by Ines Marrow", s=centred)
p("Copyright © 2026 Ines Marrow", s=page)
p("All rights reserved.")
p((italic, "For the keeper of the lamp"), s=centred_page)
h("Chapter One: The Long Ebb")
p("The clerk came ", (italic, "early"), " that day, with a ", (bold, "bold"), " face, ", (both, "both"), ", ", (under, "under"),
  " lined; ", (small, "small"), " letters, the 1", (raised, "st"), " of May.", note("The tide-table of 1871, page 12."))
c = office.Annotation()
c.addElement(text.P(text="Is this right?"))
p("A remark", c, " was made.")
p("* * *", s=centred)
p("1. typed numbers # signs _under_ *star* [brackets] <angle> \\ back & amp; 5 > 3")
p("- dash at the beginning")
p("Line one", text.LineBreak(), "line two", text.LineBreak(), "line three", s=centred)
p("Quoted text stands in from both sides of the measure.", s=indented)
items = text.List()
for t in ("a card of thread", "two needles"):
    i = text.ListItem()
    i.addElement(text.P(text=t))
    items.addElement(i)
d.text.addElement(items)
t = table.Table()
t.addElement(table.TableColumn(numbercolumnsrepeated=2))
for row in (("Place", "Hour"), ("Harwich | pier", "5.29")):
    r = table.TableRow()
    for cell in row:
        k = table.TableCell()
        k.addElement(text.P(text=cell))
        r.addElement(k)
    t.addElement(r)
d.text.addElement(t)
f = draw.Frame(width="1in", height="1in", anchortype="paragraph")
f.addElement(draw.Image(href=d.addPicture("dial.png")))
q = text.P(stylename=centred)
q.addElement(f)
d.text.addElement(q)
p("See ", text.A(href="https://tides.example/", text="our page"), "; hy\u00adphen.")
h("A second chapter")
p("“’Twas late,” she said, and ‘no’.")
p("The end.", note("A second note.", "And a second paragraph."))
h("Acknowledgements")
p("Thanks to all.")
d.save(sys.argv[1])
