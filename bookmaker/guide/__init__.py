"""The guide: how a book is written, what may be wrong with it, how the record is laid out; made from the code's tables.

`format.md`, `problems.md` and `record.md` are written by `python -m bookmaker.guide`, never by hand; the prose between
the tables of the first stands in `format.in.md`.
"""
