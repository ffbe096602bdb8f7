"""What there is to know about each topic of examination, in a few sentences, with where it was written down.

Facts that nobody looked up while writing are marked `from memory`. Laws and guidance change: all of it defers to local
rules and to the supervisor.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from bookmaker.editions.workbook.views_parts import Say, say
from bookmaker.kitchen.law import LAWS
from bookmaker.model import teaching
from bookmaker.model.house import Region

STANDARDS = (
    (
        "Baker, ST0191, version 1.1, level 2: K4 recipe formulation, K10 yield and waste, K11 legislation (food "
        "safety, allergen control, HACCP, labelling, acrylamide, flour dust)"
    ),
    "Lead baker, ST1349, version 1.0, level 3: product costing and improvement",
    "Pastry chef, ST0929, version 1.0, level 3: planning and producing patisserie",
)
"""England's occupational standards, as seen on copies of their pages. Contains public sector information licensed under
the Open Government Licence v3.0.
"""


@dataclass(frozen=True, slots=True)
class Reading:
    """What there is to know, what to do, and sources."""

    text: tuple[Say, ...]
    do: tuple[Say, ...]
    sources: tuple[str, ...] = ()


_PLAIN: Mapping[str, Reading] = {
    teaching.YIELD: Reading(
        (
            say(
                "Everything that goes into the bowl is paid for; only what comes out is sold. What "
                "leaves as water makes "
                "the product lighter and richer. What leaves as product is left in the bowl, trimmed off, broken or "
                "burnt: it is thrown away together with the work in it."
            ),
            say(
                "A loss acts on what is there by then, so losses one after the other are multiplied, "
                "never added. To find "
                "how much must be mixed, go back along them and divide."
            ),
        ),
        (
            say("Scrape bowls and scale pieces: both show in the yield of the day."),
            say("Weigh what is thrown away, and write down why."),
            say("Ask what an offcut is used for before you bin it."),
        ),
    ),
    teaching.FORMULATION: Reading(
        (
            say(
                "A formula in percent shows what a dough is, whatever its size. Bakers count all the "
                "flour as 100 %%: so "
                "one number can be changed and all others stand."
            ),
            say(
                "Where a part of the flour ferments beforehand, only the total formula, with "
                "preferments and soakers taken "
                "apart again, says how wet, salty or sweet the dough is."
            ),
        ),
        (
            say("Weigh everything, water and eggs too."),
            say("Use the scale whose step is small enough for the line."),
            say("Change one thing at a time, and write it down."),
        ),
    ),
    teaching.HACCP: Reading(
        (
            say(
                "Hazard analysis and critical control points: think before what can make somebody ill, find the steps "
                "where that is prevented, set a limit for each, measure, and know beforehand what is "
                "done when a limit is "
                "missed."
            ),
            say(
                "Its seven principles: analyse the hazards; find the critical control points; set "
                "critical limits; watch "
                "them; lay down what is done when one is missed; check that the plan works; write it all down."
            ),
            say(
                "Not every limit is a critical control point. Which are, the house's own plan says; "
                "methods in this book "
                "number them."
            ),
        ),
        (
            say("Measure in the middle of the thickest piece, with a clean probe."),
            say("Write the reading down when you take it, with the time and your initials."),
            say("When a limit is missed, do what the step says. If in doubt, keep the food apart and ask."),
        ),
        (
            "Codex Alimentarius, General principles of food hygiene, CXC 1-1969 (from memory)",
            "In the EU: Regulation (EC) No 852/2004, Article 5 (from memory)",
        ),
    ),
    teaching.COSTING: Reading(
        (
            say(
                "What a piece costs is built up: its ingredients as they were bought, with what was "
                "peeled, spilt and left "
                "over; the work, minute by minute; energy; packaging; and a share of what the house costs anyway."
            ),
            say(
                "Food cost is the ingredients in percent of the net price. Tax is no income: it is "
                "reckoned on top, and "
                "handed on."
            ),
            say("What is not known is missing, not free: a cost that lacks a price is at least so much."),
        ),
        (
            say("Weigh to the formula: a little too much in every piece is a piece in every tray."),
            say("Waste what nobody sells as little as if you had paid for it."),
        ),
    ),
    teaching.DUST: Reading(
        (
            say(
                "Flour dust in the breath can cause asthma that lasts, and rashes. Improvers with "
                "enzymes, egg and soya "
                "powder, and spices can do the same. Who has become sensitive may have to leave the trade."
            ),
            say(
                "In Great Britain the workplace exposure limit is 10 milligrams in a cubic metre of "
                "air over eight hours, "
                "and 30 over fifteen minutes; because flour is an asthmagen it must be kept as far below that as is "
                "reasonably practicable, and the authority holds less than 2 to be usually achievable. Other countries "
                "have limits of their own."
            ),
            say("A dense cloud of flour in a closed room can also catch fire and explode."),
        ),
        (
            say("Tip low and slowly; roll the empty sack up, do not shake or fold it flat."),
            say("Start mixers slowly, lid on, until flour and liquid are one."),
            say("Dust by hand from a sieve or dredger; do not throw flour."),
            say("Vacuum or wipe wet. Never sweep dry, never blow with air."),
            say("Tell your employer about a cough, a tight chest, sneezing or itching eyes that come at work."),
        ),
        (
            (
                "Health and Safety Executive (Great Britain), Bakery products, page updated 2021-09-01, "
                "and COSHH and bakers: "
                "key messages"
            ),
        ),
    ),
    teaching.ACRYLAMIDE: Reading(
        (
            say(
                "Acrylamide forms from asparagine and sugars, which cereals hold by nature, when "
                "food low in moisture is "
                "baked or fried, typically above 120 °C. It is held to raise the risk of cancer, so "
                "bakers are asked to "
                "keep it as low as they can."
            ),
            say(
                "In the EU the benchmark levels are, in micrograms in a kilogram: 50 for wheat "
                "bread, 100 for other soft "
                "bread, 350 for biscuits, wafers and crispbread, 400 for crackers, 800 for "
                "gingerbread. A benchmark is no "
                "limit: who is above it must look for what to do better."
            ),
        ),
        (
            say("Bake to the house's colour, and not darker: gold, not brown."),
            say("Give doughs the time that the formula gives them: yeast uses up asparagine (from memory)."),
            say(
                "Do not exchange raising agents or sugars by yourself: ammonium salts and fructose "
                "make more of it (from "
                "memory)."
            ),
        ),
        (
            (
                "Commission Regulation (EU) 2017/2158 of 20 November 2017: recitals 2 and 3 as "
                "published; benchmarks of its "
                "Annex IV from a printed copy"
            ),
        ),
    ),
}


def reading_of(topic: str, region: Region) -> Reading:
    """What there is to know about a topic of examination, under the region's law."""
    if topic == teaching.ALLERGENS:
        return _allergens(region)
    if topic == teaching.LABELLING:
        return _labelling(region)
    return _PLAIN[topic]


def _allergens(region: Region) -> Reading:
    law = LAWS[region]
    return Reading(
        (
            say(
                "For some guests a trace too small to see is enough to make them gravely ill. These "
                "must be declared here: "
                "%(names)s.",
                names=", ".join(group.name for group in law.groups),
            ),
            say(
                "Contains and may contain are two things. What an ingredient brings along is "
                "contained, by whichever way it "
                "comes. What the air, a bench or a tool may carry over is a may contain. And what "
                "nobody has declared is "
                "neither: it is not known, and never free from anything."
            ),
        ),
        (
            say("Keep to the formula; no swaps without asking."),
            say("Clean bench, tools and hands before the next product."),
            say("Read the packet again when a delivery looks different."),
            say("Never answer a guest from memory."),
        ),
        (f"{law.rule}; list written down on {law.written.isoformat()}. Check against your local law",),
    )


def _labelling(region: Region) -> Reading:
    if region is Region.US:
        order = say(
            "Ingredients are listed by weight as they are used, most first; what comes to 2 %% or less may stand at "
            "the end behind a statement that says so."
        )
        source = "21 CFR 101.4 (from memory)"
        share = say("Allergens are named in the list or in a statement behind it.")
    else:
        order = say(
            "Ingredients are listed by weight as they are used, most first; what comes to less than 2 %% of the "
            "finished product may follow in any order. Added water counts by what is left of it."
        )
        source = "Regulation (EU) No 1169/2011, Articles 18, 21 and 22, Annexes VII and VIII"
        if region is Region.UK:
            source += ", as retained in UK law"
        share = say(
            "An ingredient that is named or pictured must be given with its quantity: what went in ÷ what the product "
            "weighs when water has left. Allergens are set off from the rest of the list."
        )
    return Reading(
        (order, share),
        (
            say("Put the right label on: a wrong one is as dangerous as none."),
            say("Check the date and the batch before you stick it on."),
            say("When a recipe or a supplier changes, the label may have to change too: say so."),
        ),
        (f"{source}. Check against your local law",),
    )
