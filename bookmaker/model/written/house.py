"""`house.yaml`, `cautions.yaml` as written."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from bookmaker.model.written import Names, doc


@dataclass(frozen=True, slots=True)
class WrittenPriceRule:
    """How the house chooses among prices."""

    choose: str = field(
        default="", metadata=doc("cheapest or preferred: which price in force counts", "preferred", "cheapest")
    )
    preferred: Names = field(
        default=(), metadata=doc("suppliers, the most preferred first", "[Millstone & Reed, Lowfield Dairy]")
    )
    stale_after: str = field(default="", metadata=doc("the age at which a price is marked as old", "180 days"))


@dataclass(frozen=True, slots=True)
class WrittenChannel:
    """A way of selling."""

    tax: str = field(default="", metadata=doc("sales tax, in percent of the net price", "10 %", "0 %"))
    food_cost: str = field(default="", metadata=doc("this channel's own food-cost target", "30 %"))


@dataclass(frozen=True, slots=True)
class WrittenEquipment:
    """A machine or a place to work."""

    kind: str = field(
        metadata=doc("bench, mixer, oven, hob, cold, freezer, proofer, sheeter or other", "oven"),
    )
    count: str = field(default="", metadata=doc("how many there are", "2", "1"))
    holds: Names = field(default=(), metadata=doc("what one takes at once: a mass, or trays, sheets ...", "6 trays"))
    power: str = field(default="", metadata=doc("full power, for the cost of energy while it runs", "12 kW"))


@dataclass(frozen=True, slots=True)
class WrittenMould:
    """A mould with cavities."""

    cavities: str = field(metadata=doc("how many cavities one mould has", "24"))
    volume: str = field(metadata=doc("the volume of one cavity", "62 ml"))
    fill: str = field(default="", metadata=doc("how full a cavity is filled", "95 %", "100 %"))
    food_contact: str = field(
        default="", metadata=doc("`declared` if the maker declares the material fit for food", "declared")
    )
    made_of: str = field(default="", metadata=doc("the material, or the recipe of kind moulding", "moulding silicone"))


@dataclass(frozen=True, slots=True)
class WrittenTin:
    """A tin or ring: its volume, or its diameter and height."""

    volume: str = field(default="", metadata=doc("inside volume", "2.3 l"))
    diameter: str = field(default="", metadata=doc("inside diameter", "24 cm"))
    height: str = field(default="", metadata=doc("inside height", "25 mm"))


@dataclass(frozen=True, slots=True)
class WrittenFlat:
    """A frame or a tray."""

    size: str = field(metadata=doc("inside size", "60 × 40 cm"))
    height: str = field(default="", metadata=doc("inside height", "40 mm"))


@dataclass(frozen=True, slots=True)
class WrittenStaff:
    """People who work in one role."""

    role: str = field(metadata=doc("one of the roles under `labour`", "night baker"))
    people: str = field(default="", metadata=doc("how many", "2", "1"))
    hours: str = field(
        default="", metadata=doc("working hours; past midnight is understood", "22:00..06:00", "00:00..24:00")
    )


@dataclass(frozen=True, slots=True)
class WrittenStickers:
    """A sheet of labels to print on."""

    size: str = field(metadata=doc("one label, width × height", "70 × 37 mm"))
    across: str = field(metadata=doc("how many stand side by side", "3"))
    down: str = field(metadata=doc("how many stand one below the other", "8"))
    left: str = field(
        default="",
        metadata=doc("from the paper's left edge to the first label; they stand in the middle unless said", "5 mm"),
    )
    top: str = field(
        default="",
        metadata=doc("from the paper's top edge to the first label; they stand in the middle unless said", "0 mm"),
    )
    gap_across: str = field(default="", metadata=doc("between labels side by side", "2 mm", "0 mm"))
    gap_down: str = field(default="", metadata=doc("between labels one below the other", "0 mm", "0 mm"))
    small_packs: str = field(
        default="",
        metadata=doc(
            "yes where they go on packs whose largest side is under 80 cm²: letters may be smaller", "yes", "no"
        ),
    )


@dataclass(frozen=True, slots=True)
class WrittenLabels:
    """What the house decides about labels and product sheets."""

    compounds: str = field(
        default="",
        metadata=doc(
            "merged: each ingredient is named once; nested: components keep their name and a list of their own",
            "nested",
            "merged",
        ),
    )
    additives: str = field(
        default="", metadata=doc("names or numbers: what stands behind an additive's class", "numbers", "names")
    )
    packed: str = field(
        default="",
        metadata=doc(
            "for sale elsewhere, or on premises: packed where it is sold, before the guest chooses",
            "on premises",
            "for sale elsewhere",
        ),
    )
    price: str = field(default="", metadata=doc("the channel whose price is shown on product sheets", "tea room"))
    stickers: Mapping[str, WrittenStickers] = field(
        default_factory=dict,
        metadata=doc("sheets of labels to print on, by name", "{small: {size: 70 × 37 mm, across: 3, down: 8}}"),
    )


@dataclass(frozen=True, slots=True)
class WrittenCards:
    """What the house decides about bench cards."""

    paper: str = field(
        default="",
        metadata=doc("A4, A5 or Letter, on its long side; as the house's paper unless said", "A5"),
    )


@dataclass(frozen=True, slots=True)
class WrittenHouse:
    """Everything that the house decides."""

    format: str = field(metadata=doc("the version of this format", "1"))
    name: str = field(metadata=doc("the house's name, on every page", "Quillhaven Kitchen"))
    language: str = field(
        default="", metadata=doc("language of the pages' figures and dates; their words exist in en only", "en", "en")
    )
    region: str = field(default="", metadata=doc("EU, UK or US: whose label law applies", "UK", "EU"))
    paper: str = field(default="", metadata=doc("A4 or Letter", "Letter", "A4"))
    money: str = field(default="", metadata=doc("the house's currency, as a code", "EUR", "EUR"))
    batches: Names = field(default=(), metadata=doc("the batch columns of recipe pages", "[1, 2, 3]", "[1/2, 1, 2, 4]"))
    temperature: str = field(
        default="",
        metadata=doc(
            "C or F: the scale of all readings; what a recipe says on the other stands as written, this behind it",
            "F",
            "C",
        ),
    )
    spoons: str = field(default="", metadata=doc("metric (5 and 15 ml) or US, which also allows cups", "US", "metric"))
    prices: WrittenPriceRule = field(
        default=WrittenPriceRule(),
        metadata=doc("how a price is chosen", "{choose: cheapest, stale after: 180 days}"),
    )
    food_cost: str = field(default="", metadata=doc("target: ingredients in percent of the net price", "28 %"))
    labour: Mapping[str, str] = field(
        default_factory=dict, metadata=doc("hourly rate of each role", "{pastry cook: 21.50 EUR/h}")
    )
    labour_role: str = field(
        default="", metadata=doc("who is meant when a recipe says nothing; the first role if not said", "pastry cook")
    )
    overhead: str = field(
        default="",
        metadata=doc(
            "percent of ingredients, of labour, or of ingredients and labour", "12 % of labour", "0 % of ingredients"
        ),
    )
    energy: str = field(default="", metadata=doc("price of energy", "0.28 EUR/kWh"))
    channels: Mapping[str, WrittenChannel] = field(
        default_factory=dict, metadata=doc("ways of selling, by name", "{tea room: {tax: 10 %}}")
    )
    scales: tuple[str, ...] = field(
        default=(),
        metadata=doc(
            "the scales: how much each takes and the step it shows", "[up to 6 kg in 1 g]", "[up to 5 kg in 1 g]"
        ),
    )
    equipment: Mapping[str, WrittenEquipment] = field(
        default_factory=dict, metadata=doc("machines and places to work, by name", "{hob: {kind: hob}}")
    )
    moulds: Mapping[str, WrittenMould] = field(
        default_factory=dict, metadata=doc("moulds, by name", "{pebble mould: {cavities: 24, volume: 62 ml}}")
    )
    tins: Mapping[str, WrittenTin] = field(
        default_factory=dict, metadata=doc("tins and rings, by name", "{loaf tin 900: {volume: 2.3 l}}")
    )
    frames: Mapping[str, WrittenFlat] = field(
        default_factory=dict, metadata=doc("frames, by name", "{bar frame: {size: 60 × 40 cm, height: 40 mm}}")
    )
    trays: Mapping[str, WrittenFlat] = field(
        default_factory=dict, metadata=doc("trays, by name", "{baking tray: {size: 60 × 40 cm}}")
    )
    staff: Mapping[str, WrittenStaff] = field(
        default_factory=dict,
        metadata=doc("who works here, by name or role", "{night baker: {role: night baker, hours: 22:00..06:00}}"),
    )
    see_costs: Names = field(default=(), metadata=doc("who may see costs", "[office, development chef]"))
    classes: Names = field(
        default=(), metadata=doc("classes of apprentices: each gets a workbook of its own", "[autumn intake]")
    )
    published_at: str = field(
        default="", metadata=doc("the book's address, for the codes on cards", "https://book.example/")
    )
    cross_contact: str = field(
        default="", metadata=doc("the house's cross-contact statement", "Made where wheat and nuts are handled.")
    )
    cross_contact_allergens: Names = field(
        default=(), metadata=doc("allergens that anything made here may contain", "[wheat, milk]")
    )
    forbid_claims: Names = field(
        default=(), metadata=doc("claims that no product of this house may carry", "[gluten-free]")
    )
    contact: str = field(
        default="", metadata=doc("whom clients may ask, on their sheets", "kitchen@quillhaven.example")
    )
    labels: WrittenLabels = field(
        default=WrittenLabels(),
        metadata=doc("labels and product sheets", "{price: tea room}"),
    )
    cards: WrittenCards = field(default=WrittenCards(), metadata=doc("bench cards", "{paper: A5}"))
    sections: Mapping[str, str] = field(
        default_factory=dict,
        metadata=doc("folder and heading of the sections that should not go by name", "{breads: Breads}"),
    )


@dataclass(frozen=True, slots=True)
class WrittenCaution:
    """A hazard of the house."""

    hazard: str = field(metadata=doc("what can hurt, and how", "Syrup above 110 °C sticks and burns deeply."))
    do: str = field(metadata=doc("what to do about it", "Long sleeves; keep a bowl of cold water at hand."))
    first_aid: str = field(default="", metadata=doc("what helps at once", "Cool under running water for 20 minutes."))
