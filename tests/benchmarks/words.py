"""The words that generated books are made of: enough of them that no two pages read alike."""

FRUITS = (
    "apricot", "raspberry", "strawberry", "rhubarb", "blackcurrant", "sour cherry", "quince", "pear", "plum", "apple",
    "lemon", "orange", "bergamot", "passion fruit", "fig", "redcurrant", "gooseberry", "blackberry", "medlar",
    "mirabelle",
)  # fmt: skip
FLAVOURS = (
    "vanilla", "coffee", "black tea", "honey", "caramel", "dark chocolate", "milk chocolate", "white chocolate",
    "hazelnut", "almond", "pistachio", "walnut", "sesame", "malt", "rye", "cardamom", "cinnamon", "long pepper",
    "tonka", "bay leaf", "thyme", "rosemary", "elderflower", "chamomile",
)  # fmt: skip
PLACES = (
    "harbour", "quay", "lighthouse", "ropewalk", "sail loft", "old mill", "orchard", "headland", "ferry", "tide",
    "market", "chapel", "north bank", "south bank", "weir", "boathouse", "causeway", "lookout", "signal", "cooper's",
)  # fmt: skip
SUPPLIERS = (("Millstone & Reed", "MR"), ("Lowfield Dairy", "LD"), ("Orchard Gate", "OG"), ("Cold Quay", "CQ"))
TAGS = ("stall", "tea room", "hotel", "wedding", "base", "frozen", "bread", "spring", "winter", "gifts", "layered")

INTRODUCTIONS = (
    "It came into the book after a summer of trials and has changed little since, apart from the {one}.",
    "Made twice a week in the quiet hour after the bread is out; the {one} has to be weighed before anything is warm.",
    "The {one} gives it its body, the {two} its length; neither should be tasted alone.",
    "We make it for the hotels first, so it has to look the same on a Monday as on a Friday.",
    "A batch that fits the small mixer. A larger one does not cool in the same time and must be divided.",
    "Older than the house: the formula was written for {two} by the cup, and was turned into grams one winter.",
    "It forgives a warm room but not a wet {one}; look at the delivery before you begin.",
    "The apprentice's third recipe: nothing in it is difficult, and every step shows at once when it was hurried.",
)
WHYS = (
    "Below {cold} °C the {one} sets before the mass is even; above {warm} °C it runs and separates within the hour.",
    "The {one} takes up water for a good while after mixing. Worked too early the mass is slack, too late it tears.",
    "Sugar first, then the {two}: the other way round the crystals never dissolve, and one feels them on the tongue.",
    "Rest lets the fat set again, so that the edge stands in the oven and the surface stays plain.",
    "Half of the {two} is held back for the end, when it is no longer cooked: that is where the smell is.",
)
SIGNS = (
    "Even in colour from the rim to the middle; a knife drawn through leaves a line that closes slowly.",
    "The surface is matt, then shines again: that is the moment, and it lasts for about {warm} seconds.",
    "It falls from the spoon in one piece. If it runs it is too warm by some {cold} degrees.",
    "Small bubbles all through and none that are large; it smells of {one}, never of yeast alone.",
)
FIXES = (
    "Grainy: warm it to {warm} °C, blend for ten seconds with a spoonful of {two}, and let it rest again.",
    "Too soft at the end: the {one} was not dry. Chill the batch for an hour and write the weight down for next time.",
    "Cracks on top: too hot, too long, or both. The next tray goes in at {cold} degrees less.",
    "It sticks: the tray was cold. Warm it from below for half a minute, then lift from the corner.",
)
NOTES = (
    "In summer take the {one} straight from the refrigerator; in winter it stands out for an hour.",
    "The tea room wants it plain, the hotel with {two}; both are the same batch until the last step.",
    "What is left over goes into the tub for the staff table, with the date on the lid.",
)
STEPS = (
    "Weigh everything; warm the {one} to room temperature, keep the {two} cold.",
    "Work the {one} and the {two} together until no streak is left; scrape the bowl twice.",
    "Bring to the boil with the {one}, stirring along the bottom, and hold it there for a minute.",
    "Whip until pale, at the second speed; the bowl must not feel warm from outside.",
    "Fold in the {two} in three parts with a broad spatula, turning the bowl rather than the hand.",
    "Strain, press the rest through with a ladle, and cover at the surface.",
    "Divide, round loosely and let the pieces rest under a cloth until they no longer spring back.",
    "Spread from the middle to the corners, the same height everywhere; knock the tray once on the bench.",
    "Brush thinly and evenly; drops at the rim burn before the middle is done.",
    "Cover with {one}, level with the palette knife, clean the rim.",
)
