package shelf

// Form is an empty survey to fill in.
const Form = `# A survey of the shelf on which your book will stand. Measure a dozen books or
# more of its genre, in a shop or a library, one a row. Lines that begin with
# "# " are not read; the order of the columns is yours.
#
# title      a title or a note, so that you find the book again
# genre      bodkin shelf --genre looks at one
# binding    paperback or case (hardcover)
# height     over all, head to foot; on a case-bound book, of the boards
# width      over all, from the back of the spine to the fore-edge
# unit       in, mm or cm; or write it after each number
# pages      if you like: the last folio
# thickness  if you like: of the spine
#
# A quarter of an inch is fine enough for most trims; a sixteenth, or a
# millimetre, tells the near ones apart. 8.25, 8 1/4 and 8¼ are the same. A
# number with a comma, "8,25", stands in quotation marks. As in:
# An Invented Title,mystery,paperback,8 1/4,5 1/2,in,312,0.8
title,genre,binding,height,width,unit,pages,thickness
`
