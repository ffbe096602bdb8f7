"""Printed editions assembled: each piece laid out alone and kept, then merged into one tagged PDF.

Laying out a thousand pages as one document takes minutes and gigabytes, every time. A piece (a recipe, a part's opener,
a list) takes a moment, and seldom changes. What ties pieces together is filled in when they are merged: page numbers,
running heads, links, bookmarks, the tree of tags. In the order of the work:

    sheet      the theme's style sheet, changed so that a piece can be laid out without the rest
    stamp      the tool chain, part of each piece's key in the store
    boxes      what the page engine laid out: lines, links, page furniture, places of numbers
    content    drawing instructions with holes for what is not known yet
    objects    the engine's PDF objects, made movable
    figures    fonts as a piece uses them
    places     destinations and bookmarks
    setter     one piece laid out: the work of a process
    fragment   a piece laid out, as a value and as bytes for the store
    rooms      how many figures its page numbers have room for
    carrier    the fonts, once for the whole file
    imposition page numbers, blank pages, destinations
    filling    content with its holes filled
    outline    bookmarks
    writer     a PDF file from numbered objects
    merge      all of it together
    assembling the way in: pieces to PDF bytes, from the store where possible
    book       the printed book

The document laid out in one go (`press.pdf.to_pdf`) stays: tests compare against it, and it is the way out where a
theme or an installation does not allow pieces.
"""
