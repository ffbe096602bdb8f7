"""The layout of `book.json`, from the description that stands beside it."""

from bookmaker.editions.record.edition import FILE, FORMAT, KEYS
from bookmaker.guide.markdown import literal, table

_HEAD = """<!-- Made by `python -m bookmaker.guide` from bookmaker/editions/record/edition.py: change it there. -->

# The record of all figures

`{file}` holds every figure that the tool computes, at twelve significant digits, so that anyone can check it. It is the
office's: it has costs in it. This is version {format} of its layout; `format` in the file says which one it has.

Masses are grams, times minutes, money the house's currency, shares fractions of one; percents are as bakers write them.
A figure that lacks something is a group instead of a number: `at least` what is known so far, and what it `lacks`."""


def record_layout() -> str:
    """The whole description as Markdown."""
    head = _HEAD.format(file=FILE, format=FORMAT)
    return f"{head}\n\n{table(('key', 'what it holds'), ((literal(key), said) for key, said in KEYS.items()))}\n"
