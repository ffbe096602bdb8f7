"""The guide for cooks: the format reference and the list of problems, made from the code's own tables.

`format.md` and `problems.md` are written by `python -m bookmaker.guide`, never by hand; the prose between the tables
stands in `format.in.md`.
"""
