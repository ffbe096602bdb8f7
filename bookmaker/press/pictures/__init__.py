"""Pictures as SVG: drawn by us, in ink and hatching that survive black-and-white print, with a title and a description.

Every function takes `width`: None for a picture as wide as its place (horizontal positions in percent, text unscaled,
so that it stays readable on a telephone), or a width in pixels for print. `uid` keeps ids apart within one document.
"""
