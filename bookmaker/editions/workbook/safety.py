"""Which dangers belong together, and what to ask before beginning. Their words are the book's own cautions."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Danger:
    """A part of the safety pages: the cautions that belong to it, by name, and what an apprentice asks first."""

    heading: str
    cautions: tuple[str, ...]
    ask: tuple[str, ...]


DANGERS = (
    Danger(
        "Sugar burns and hot liquids",
        ("hot sugar", "hot liquids", "hot oil"),
        ("Where is the cold water, and who stands by?", "Where do I put the pan down, and is the way there free?"),
    ),
    Danger(
        "Mixers and rollers",
        ("moving machinery", "sheeter"),
        ("Who has shown me this machine?", "Where is the stop switch, and does it work?"),
    ),
    Danger(
        "Blades",
        ("blades", "glass"),
        ("Is it unplugged?", "Where does the blade lie while I clean?"),
    ),
    Danger(
        "Ovens and steam",
        ("oven steam", "hot trays", "alcohol vapour"),
        ("Are the gloves dry?", "Where do hot trays go, and does everybody know?"),
    ),
    Danger(
        "Flour dust",
        ("flour dust", "spray mist"),
        ("Which mask do our rules ask for at this work?", "Is the extraction on?"),
    ),
    Danger(
        "Allergens",
        ("allergens", "raw egg"),
        ("What was made on this bench before?", "Where is the matrix?"),
    ),
    Danger(
        "Cold",
        ("cold burn", "cooling"),
        ("Who knows that I am in the freezer?", "Which limit holds while this cools, and where do I write it down?"),
    ),
    Danger(
        "Moulding materials",
        ("moulding materials", "vacuum chamber"),
        ("Where is the supplier's safety data sheet?", "Is the ventilation on, and is no food in the room?"),
    ),
)
"""In the order of the page. Cautions of the book that stand in none of them follow at its end."""
