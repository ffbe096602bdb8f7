"""The marked edges of cards: a pattern for each section, to be told apart in black and white and at a glance."""

from base64 import b64encode

INK = "#1d1a16"

_RING = (
    '<path fill-rule="evenodd" d="M4 .5A4 4 0 0 1 4 8.5 4 4 0 0 1 4 .5ZM4 2.3'
    'A2.2 2.2 0 0 0 4 6.7 2.2 2.2 0 0 0 4 2.3Z"/>'
)

_TILES: tuple[tuple[float, float, str], ...] = (
    (8, 400, '<path d="M2 0H6V400H2Z"/>'),  # one thick rail
    (8, 8, '<path d="M0 0H8V4H0Z"/>'),  # bars
    (8, 6, '<circle cx="4" cy="3" r="2"/>'),  # one row of dots
    (8, 8, '<path d="M0 8 8 0V4L4 8ZM0 4V0H4Z"/>'),  # slanting up
    (8, 8, '<path d="M0 0H4V4H0ZM4 4H8V8H4Z"/>'),  # checks
    (8, 3, '<path d="M0 0H8V1H0Z"/>'),  # fine rules
    (8, 8, '<path d="M0 8 4 1 8 8Z"/>'),  # triangles
    (8, 400, '<path d="M1 0H3V400H1ZM5 0H7V400H5Z"/>'),  # two rails
    (8, 8, '<path d="M8 8 0 0V4L4 8ZM8 4V0H4Z"/>'),  # slanting down
    (4, 4, '<circle cx="2" cy="2" r="1"/>'),  # fine dots
    (8, 6, '<path d="M0 0 4 4 8 0V2.4L4 6.4 0 2.4Z"/>'),  # chevrons
    (8, 12, '<path d="M0 0H8V2H0ZM0 4H8V6H0Z"/>'),  # double bars
    (8, 9, _RING),
    (8, 8, '<path d="M3 0H5V3H8V5H5V8H3V5H0V3H3Z"/>'),  # crosses
    (8, 8, '<path d="M0 4 4 0 8 4 4 8Z"/>'),  # diamonds
    (8, 16, '<path d="M0 0H8V1.5H0ZM0 4H8V11H0Z"/>'),  # thin and thick
)
"""Width and height of a tile in the strip's eighths, and what is drawn in it."""


def edge(pattern: int) -> str:
    """A tile of the pattern as an address that holds it, for a background eight units wide."""
    width, height, drawn = _TILES[pattern % len(_TILES)]
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" fill="{INK}">{drawn}</svg>'
    return "data:image/svg+xml;base64," + b64encode(svg.encode()).decode("ascii")


def edge_size(pattern: int, strip: float) -> str:
    """The size of a tile on a strip so many millimetres wide, as a style sheet writes it."""
    width, height, _ = _TILES[pattern % len(_TILES)]
    return f"{width * strip / 8:.3f}mm {height * strip / 8:.3f}mm"
