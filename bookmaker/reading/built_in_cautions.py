"""Cautions that every book may name without writing them. General kitchen sense, no source; local rules go before them.

A house replaces any of them in its `cautions.yaml`: it knows its machines, its suppliers' sheets and its law.
"""

from bookmaker.model.book import Caution

_BURN = (
    "Cool under cool running water for 20 minutes, take off rings and loose clothing, then get help for all but "
    "small burns."
)

BUILT_IN: tuple[Caution, ...] = (
    Caution(
        "hot sugar",
        "Boiling syrup and caramel are far hotter than water, stick to the skin and burn deeply. They foam up and "
        "spit when liquid, butter or acid goes in.",
        "Long sleeves, closed shoes, dry gloves. A pan no more than half full; add liquid warm, a little at a "
        "time, standing back. A basin of cold water within reach. Never leave it, never carry it through people.",
        "Put the hand into cold water at once and leave the sugar on; do not wipe or pull it off. " + _BURN,
    ),
    Caution(
        "hot trays",
        "Trays, tins, racks and oven doors burn, and look the same hot or cold.",
        "Dry oven gloves on both hands; call out when you carry. Put hot trays on the marked rack only, and chalk "
        "or mark them.",
        _BURN,
    ),
    Caution(
        "hot oil",
        "Frying fat burns deeply, boils over when water or ice goes in, and can catch fire.",
        "Fill to the mark, fry dry pieces, lower them in away from you, never leave it. Know where lid, fire "
        "blanket and the right extinguisher are. Never put water on burning fat. Let it cool before you move or "
        "filter it.",
        _BURN,
    ),
    Caution(
        "oven steam",
        "Steam comes out as soon as the door opens; it is hard to see and scalds face and arms.",
        "Stand to the side, open the door a hand's breadth, wait, then open it. Glasses off or cleared before you "
        "look in.",
        _BURN,
    ),
    Caution(
        "moving machinery",
        "Mixers, kneaders and other machines catch sleeves, cloths, hair and fingers.",
        "Guard down and stop switch tested before use. Stop the machine and wait until it stands before you "
        "scrape, feel or add by hand; unplug it to clean. Nothing loose: sleeves, strings, rings, hair. Only "
        "people who were shown.",
        "Stop the machine at the emergency switch. Press on a bleeding wound and get help.",
    ),
    Caution(
        "sheeter",
        "Rollers draw in fingers together with the dough.",
        "Guards in place, hands flat and behind the guard, feed with the belt. Never reach in to free dough: stop, "
        "unplug, then free it.",
        "Stop the machine at the emergency switch; do not run it backwards with a hand in it unless its "
        "instructions say so. Get help.",
    ),
    Caution(
        "blades",
        "Knives, cutters, blender and processor blades cut even when they stand still.",
        "Sharp knives, a board that cannot slip, blades never loose in the sink. Unplug before you touch a "
        "machine's blade; lid on before you switch on. Cut-resistant gloves for changing blades.",
        "Press on the wound with a clean dressing, raise it, and get help if it gapes or goes on bleeding. A blue "
        "plaster and a glove before you go back to food.",
    ),
    Caution(
        "flour dust",
        "Flour and improver dust in the breath can cause lasting asthma and rashes; dense clouds of it can explode.",
        "Tip slowly and low, start mixers at low speed with the lid on, dust by hand without throwing. Vacuum or "
        "wipe wet; never sweep dry or blow with air. A mask of the class your rules ask for when weighing much.",
        "Fresh air. Tell your employer or doctor about a cough, a tight chest or a running nose that comes back at "
        "work.",
    ),
    Caution(
        "allergens",
        "Traces too small to see can make a guest gravely ill.",
        "Clean bench, tools and hands before and after; own tools where the house has them; keep to the formula, "
        "no swaps without asking. Never answer an allergy question from memory: look at the matrix and the packet.",
        "If a guest's lips swell, breath is short or they collapse: call an ambulance at once, and let them use "
        "their own adrenaline pen.",
    ),
    Caution(
        "raw egg",
        "Raw egg can carry salmonella; a cream or mousse that is not heated does not kill it.",
        "Use pasteurised egg where it is not cooked through, or heat it to the limit in the step. Keep it cold, "
        "crack it away from ready food, wash hands and tools. Not for young children, pregnant, old or ill guests "
        "unless heated.",
    ),
    Caution(
        "cooling",
        "Creams, custards and cooked fillings grow dangerous bacteria while they cool slowly. A larger mass does "
        "not cool in the same time.",
        "Spread it shallow (a few centimetres) in clean trays, film on the surface, straight into the blast "
        "chiller or on ice; probe the centre and write time and temperature down. Keep to the limit in your "
        "food-safety plan; throw away what missed it.",
    ),
    Caution(
        "moulding materials",
        "Uncured silicones, catalysts, sealers and release agents are not food and can harm skin, eyes and lungs.",
        "Away from food, with its own tools and bench. Read the supplier's safety data sheet first; gloves and "
        "goggles as it says; good ventilation. Only a fully cured mould whose maker declares it fit for food may "
        "touch food.",
        "Eyes: rinse with water for 15 minutes and get help. Skin: wash with soap and water. Take the sheet along.",
    ),
    Caution(
        "cold burn",
        "Blast freezers, frozen moulds and metal below about -20 °C freeze skin on touch; wet fingers stick.",
        "Dry insulated gloves, short stays in the freezer, someone who knows that you are inside, and the inside "
        "door release tested.",
        "Warm the skin slowly in lukewarm water; do not rub it. Get help if it stays white or numb.",
    ),
    Caution(
        "alcohol vapour",
        "Spirits give off vapour that catches fire at a flame or hot plate, in a flash and without warning.",
        "Take the pan off the heat and the flame away before you add spirits; measure away from the stove; close "
        "the bottle. Ventilate. A lid at hand to smother a flame.",
        _BURN,
    ),
    Caution(
        "spray mist",
        "A fine mist of fat or cocoa butter settles in the lungs and on floors, and can catch fire.",
        "Spray in the cabin or under extraction, with goggles and the mask your rules ask for, away from flames "
        "and hot plates. Clean the floor at once: it is slippery.",
        "Fresh air; get help if the breath stays short.",
    ),
    Caution(
        "heavy load",
        "Sacks, bowls and full trays strain the back, and fall.",
        "Two people or a trolley above what your rules allow one person to lift; close to the body, from the "
        "knees, way clear. Heavy things on low shelves.",
    ),
    Caution(
        "glass",
        "A splinter of glass in food can cut a guest's mouth or throat.",
        "No glass above open food. When something breaks: stop, throw away all open food around it, clean wet, "
        "look over clothes and shoes before you go on, and write it down.",
        "Press on a wound with a clean dressing; leave a splinter that sits deep, and get help.",
    ),
)
"""By name; the names are what recipes and stores write under `cautions`."""
