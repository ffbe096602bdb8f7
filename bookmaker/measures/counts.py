"""The words a kitchen counts its pieces by, and the vessels it counts whole."""

_PLURALS = {
    "piece": "pieces", "bun": "buns", "loaf": "loaves", "tart": "tarts", "slice": "slices", "bar": "bars",
    "bonbon": "bonbons", "baguette": "baguettes", "roll": "rolls", "croissant": "croissants", "éclair": "éclairs",
    "biscuit": "biscuits", "cookie": "cookies", "cracker": "crackers", "dome": "domes", "pebble": "pebbles",
    "heart": "hearts",
    "disc": "discs", "strip": "strips", "cake": "cakes", "portion": "portions", "jar": "jars", "puff": "puffs",
    "square": "squares", "cube": "cubes", "caramel": "caramels", "scoop": "scoops", "insert": "inserts",
    "mould": "moulds", "muffin": "muffins", "scone": "scones", "doughnut": "doughnuts",
    "donut": "donuts", "pie": "pies",
    "pasty": "pasties", "pastry": "pastries", "twist": "twists", "knot": "knots", "ring": "rings", "crown": "crowns",
    "plait": "plaits", "stick": "sticks", "cracknel": "cracknels", "wafer": "wafers", "finger": "fingers",
    "macaron": "macarons", "macaroon": "macaroons", "meringue": "meringues", "madeleine": "madeleines",
    "financier": "financiers", "brownie": "brownies", "flapjack": "flapjacks", "shortbread": "shortbreads",
    "tartlet": "tartlets", "quiche": "quiches", "shell": "shells", "ball": "balls", "truffle": "truffles",
    "praline": "pralines", "marshmallow": "marshmallows", "nougat": "nougats", "jelly": "jellies", "toffee": "toffees",
    "lolly": "lollies", "pop": "pops", "sandwich": "sandwiches", "waffle": "waffles", "pancake": "pancakes",
    "crumpet": "crumpets", "pretzel": "pretzels", "bagel": "bagels", "flatbread": "flatbreads", "pitta": "pittas",
    "focaccia": "focaccias", "boule": "boules", "bloomer": "bloomers", "batard": "batards", "cob": "cobs",
    "glass": "glasses", "cup": "cups", "pot": "pots", "ramekin": "ramekins", "verrine": "verrines", "tub": "tubs",
    "bottle": "bottles", "bag": "bags", "box": "boxes", "log": "logs", "entremet": "entremets", "gateau": "gateaux",
}  # fmt: skip

COUNT_WORDS: dict[str, str] = {
    **{one: one for one in _PLURALS}, **{many: one for one, many in _PLURALS.items()},
    "eclair": "éclair", "eclairs": "éclair",
    "disk": "disc", "disks": "disc", "round": "disc", "rounds": "disc", "circle": "disc", "circles": "disc",
}  # fmt: skip
"""Every accepted spelling of a count word, and its singular."""

VESSEL_WORDS: dict[str, str] = {
    "sheet": "sheet", "sheets": "sheet", "frame": "frame", "frames": "frame", "tray": "tray", "trays": "tray",
    "tin": "tin", "tins": "tin",
}  # fmt: skip
"""What holds a component whole, and its singular."""

DISC_WORDS = frozenset({"disc"})
"""Words for which a single length is a diameter."""

SQUARE_WORDS = frozenset({"square", "cube"})
"""Words for which a single length is a side."""


def singular(word: str) -> str:
    """The singular of a count or vessel word; any other word as it is."""
    low = word.lower()
    return COUNT_WORDS.get(low) or VESSEL_WORDS.get(low) or low


def counted(word: str, count: object) -> str:
    """The form of a count word that goes with `count`: `1 loaf`, `6 loaves`."""
    one = singular(word)
    return one if count == 1 else _PLURALS.get(one, word)
