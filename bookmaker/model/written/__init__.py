"""What a cook wrote, file by file: amounts as text, names unbound, nothing checked but the shape.

Each field carries what it means and an example; the format reference is generated from them. A key with spaces is a
field with underscores (`keep back` is `keep_back`).
"""

from collections.abc import Mapping

Names = str | tuple[str, ...]
"""Names as a list, or in one text with commas between them."""


def doc(meaning: str, example: str, without: str = "") -> Mapping[str, str]:
    """A field's metadata: what the key means to a cook, one way to write it, and what holds where it is left out.

    `without` is written as the cook would write it, so that leaving the key out and writing this come to the same.
    """
    return {"doc": meaning, "example": example, "without": without}
