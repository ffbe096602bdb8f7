"""Short codes that stand for a content: what is printed on paper can be told from what the book says now."""

from hashlib import blake2b

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Base 32 without the letters I, L, O and U, which are mistaken for others or make words."""

LENGTH = 8
"""Characters: 40 bits, so that two of ten thousand contents have the same code once in some twenty thousand houses."""


def content_code(*texts: str) -> str:
    """The code of texts in their order; each counts with its length, so that it matters where one ends."""
    told = "".join([f"{len(text)}:{text}" for text in texts])
    number = int.from_bytes(blake2b(told.encode("utf-8", "surrogatepass"), digest_size=5).digest(), "big")
    return "".join(ALPHABET[number >> shift & 31] for shift in range(35, -1, -5))
