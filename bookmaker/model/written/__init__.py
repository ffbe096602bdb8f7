"""What a cook wrote, file by file: amounts as text, names unbound, nothing checked but the shape.

Each field carries what it means and an example; the format reference is generated from them. A key with spaces is a
field with underscores (`keep back` is `keep_back`).
"""

from collections.abc import Mapping

Names = str | tuple[str, ...]
"""Names as a list, or in one text with commas between them."""


def doc(meaning: str, example: str = "") -> Mapping[str, str]:
    """A field's metadata: what the key means to a cook, and one way to write it."""
    return {"doc": meaning, "example": example}
