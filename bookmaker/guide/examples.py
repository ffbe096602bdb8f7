"""What a cook may write in one line, and what it means. Every text here is read by the tests with the demo book."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Example:
    """A text as a cook writes it, and what it means."""

    text: str
    meaning: str


LINES = (
    Example("480 g plain flour", "a weight and a name: what goes into the bowl, after peeling and sieving"),
    Example("340 g unsalted butter, 14 °C, diced", "behind the first comma stands the preparation, in any words"),
    Example("1 kg apricot, as bought", "the weight before stoning: the item's `usable` says what is left of it"),
    Example("1/2 kg icing sugar", "fractions, also `½ kg` and `1 1/2 kg`"),
    Example("2 tbsp flower honey", "a volume; the item's `density` turns it into grams"),
    Example("2 vanilla pods", "a count; the item's `measures` say what one weighs"),
    Example("3 leaves gelatine", "a count by a measure of the item's own"),
    Example("60 % water", "a share of the base; then `batch` or the yield says how much is made"),
    Example("24 × 42 g honey mousse, piped", "twenty-four times 42 g; `24 pieces of 42 g` says the same"),
    Example("480 g honey mousse", "another recipe by its title, by weight"),
    Example("24 pieces apricot heart", "pieces of a recipe that yields pieces"),
    Example("1/2 batch vanilla pastry cream", "a share of its batch"),
    Example("1 sheet almond sablé", "a whole sheet, frame, tray or tin of a recipe that yields such"),
    Example("24 discs of 40 mm almond sablé", "cut from its sheets: the line takes the sheets, the offcut is geometry"),
    Example("12 pieces of 30 × 80 mm almond sablé", "the same with corners; the better way round is taken"),
    Example("4 tarts rhubarb custard tart (8 cm)", "a recipe in one of its sizes; without it, in its first"),
    Example("270 g lemon bar offcuts", "what another recipe leaves over, by the name it `gives` it"),
    Example("to taste fine salt", "named and declared, never weighed or costed"),
    Example("as needed icing sugar", "the same, for dusting, greasing and the like"),
    Example("as needed 20 g icing sugar", "as needed, and about how much that is: costed and declared"),
    Example("about 520 g whole egg (480..560)", "the middle counts for cost and label, the top for drawing stock"),
    Example("480..560 g whole egg", "the same, where the middle is the usual amount"),
)
"""Formula lines."""

YIELDS = (
    Example("1.1 kg", "a weight of finished product"),
    Example("24 pieces", "a count"),
    Example("24 pieces of 46 g", "a count and what a finished piece weighs"),
    Example("24 buns scaled at 55 g", "a count and what a raw piece weighs: the losses say what is left"),
    Example("fills 4 pebble mould", "moulds of the house: one piece for each cavity"),
    Example("1 sheet of 60 × 40 cm at 4 mm", "sheets, with their finished size and thickness"),
    Example("2 sheets of 60 × 40 cm", "sheets, where the thickness does not matter"),
    Example("1 frame of bar frame", "frames of the house"),
    Example("2 tins of loaf tin 900", "tins or rings of the house: one piece each"),
    Example("3 trays", "trays; `tray` says how many pieces one takes"),
)
"""Values of `yields`."""

CUTS = (
    Example("30 × 80 mm", "pieces with corners, laid out the better way round"),
    Example("30 × 80 mm, trim 5 mm", "the same after 5 mm are taken off each side"),
    Example("discs of 40 mm", "rounds, in straight or staggered rows, whichever gives more"),
    Example("squares of 25 mm", "squares"),
)
"""Values of `cut`."""

END_POINTS = (
    Example("65 °Brix", "boiled until so much of it is dissolved solids"),
    Example("2.4 kg", "boiled down to a weight"),
)
"""Values of `to`."""

LAYERS = (
    Example("almond sablé, disc 40 mm at 4 mm", "shape and thickness behind the comma"),
    Example("sweet tart dough, 3 mm", "a thickness alone"),
    Example("honey mousse > apricot heart", "the first holds the second"),
    Example("dark glaze coats", "a coating"),
)
"""Entries of `layers`."""

PACKAGING = (
    Example("24 pieces cake card", "so many for a batch"),
    Example("1 cake box per 6 pieces", "one for so many pieces"),
)
"""Entries of `packaging`."""

PRICES = (
    Example("4.20 EUR incl", "tax is in it"),
    Example("2.60 EUR net", "tax comes on top"),
)
"""Values of `price`, by channel."""

PORTIONS = (Example("1 piece", "pieces of the yield"), Example("120 g", "a weight"))
"""Values of `portion`."""

KEEPING = (
    Example("3 days at 4 °C", "how long, and at what temperature"),
    Example("10 days dry at 18 °C", "with a word about how"),
    Example("2 months at -18 °C, from raw within 1 day", "counted if it got there from that state in that time"),
    Example("2 days at 4 °C, use by", "what the client's date is called: `use by` or `best before`"),
)
"""Values of `keeps`, by state."""

DURATIONS = (
    Example("10 min", "a duration"),
    Example("1 h 30 min", "of several parts"),
    Example("18 min..22 min", "a span"),
    Example("18..22 min", "the same"),
    Example("4 h..", "a span with an open end"),
)
"""Values of `takes` and `wait`."""

READINGS = (
    Example("160 °C", "degrees Celsius; `160 C` is understood"),
    Example("350 °F", "degrees Fahrenheit; `350 F` is understood"),
    Example("top 180 °C, bottom 160 °C, steam", "any words; the temperatures in them are found"),
    Example("45, 27, 31 °C", "a tempering curve"),
    Example("core 75 °C", "measured inside"),
    Example("65 °Brix", "measured by refractometer"),
)
"""Values of `at` and `to` in a step."""

PACKS = (
    Example("25 kg", "a weight"),
    Example("10 l", "a volume; the item needs a `density`"),
    Example("40 × 250 g", "packs in a case"),
    Example("12 × 1 l", "bottles in a case"),
    Example("360 pieces", "a count; for food the item needs the measure `piece`"),
)
"""Values of `pack` in the price list."""

MADE_OF = (
    Example("cocoa mass 54 %", "a part and its share"),
    Example("emulsifier lecithin", "a part whose share the supplier does not say"),
)
"""Entries of `made of`."""

HOLDS = (Example("8 kg", "a weight"), Example("6 trays", "a count of trays, sheets, frames, tins, moulds or pieces"))
"""Entries of `holds`."""
