"""Every kind of problem the tool can report: one table, from which the guide's list is made.

`message` is filled by `str.format`; it says what is wrong and why. `fix` is the usual advice; a place that knows better
(a near miss, a number) gives its own.
"""

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """Errors change the exit code, and all but those of a single sheet stop publishing; warnings and notes never."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Entry:
    """One kind of problem. An error that `withholds` is a sheet's own: that one is kept back, all else is published."""

    severity: Severity
    title: str
    message: str
    fix: str = ""
    withholds: bool = False


CATALOGUE: dict[str, Entry] = {
    # --- files
    "unreadable-file": Entry(
        Severity.ERROR,
        "A file that cannot be opened",
        "{document} cannot be opened ({why})",
        "check that the file is there and that you may read it",
    ),
    "not-utf8": Entry(
        Severity.ERROR,
        "A file in another text encoding",
        "{document} is not saved as UTF-8, so accents and signs such as é, × and ° cannot be told",
        "open it in your editor, choose the encoding UTF-8, and save it again",
    ),
    "too-large": Entry(
        Severity.ERROR,
        "A file too large to be part of a book",
        "{document} has {size} MB, and no text of a book has more than {most} MB",
        "check whether something else was saved under this name",
    ),
    "same-name": Entry(
        Severity.ERROR,
        "Two files whose names differ in capitals only",
        "{document} and {other} differ only in capital letters, which many computers cannot tell apart",
        "rename one of them",
    ),
    "misplaced-file": Entry(
        Severity.WARNING,
        "A file that is passed over",
        "{document} is not read: {why}",
    ),
    # --- YAML
    "tab": Entry(
        Severity.ERROR,
        "A tab where spaces belong",
        "this line is indented with a tab{more}; only spaces show which line belongs to which",
        "replace each tab with two spaces",
    ),
    "control-character": Entry(
        Severity.ERROR,
        "An invisible character",
        "an invisible control character ({number}) stands here",
        "delete it and type the text again",
    ),
    "yaml-syntax": Entry(Severity.ERROR, "A line that cannot be read", "{why}"),
    "swallowed-line": Entry(
        Severity.ERROR,
        "A line swallowed by the one above",
        "'{line}' is indented so far that it counts as more of the text above it, and would vanish there",
        "indent it like its neighbours; if it is part of the text above, put all of that in quotation marks",
    ),
    "yaml-alias": Entry(
        Severity.ERROR,
        "A text that begins with & or *",
        "a text cannot begin with {sign}: here that would mean a reference, and a book does without them",
        "put the text in quotation marks, or write it out where it is needed",
    ),
    "yaml-tag": Entry(
        Severity.ERROR,
        "A text that begins with an exclamation mark",
        "a text cannot begin with {tag}: here that would mean a type, and a book does without them",
        "put the text in quotation marks",
    ),
    "yaml-key": Entry(
        Severity.ERROR,
        "A key that is no text",
        "a key before a colon must be one piece of text",
        "write it as `key: value`",
    ),
    "yaml-nested": Entry(
        Severity.ERROR,
        "Lists within lists without end",
        "lists and groups stand inside each other deeper than any book needs",
        "check the brackets and the indentation",
    ),
    "duplicate-key": Entry(
        Severity.ERROR,
        "The same key twice",
        "'{key}' stands here a second time, and only one of the two can count",
        "keep one of them",
    ),
    "not-a-mapping": Entry(
        Severity.ERROR,
        "A file without keys",
        "lines of the form `key: value` should stand here, but this is {found}",
    ),
    "empty-file": Entry(
        Severity.ERROR,
        "An empty file",
        "{document} is empty",
        "write something into it, or delete the file",
    ),
    # --- the shape of a file
    "unknown-key": Entry(
        Severity.ERROR,
        "A key that we do not know",
        "'{key}' is no key that can stand here",
    ),
    "missing-key": Entry(
        Severity.ERROR,
        "Something that must be said",
        "'{key}' is missing{of}",
    ),
    "wrong-kind": Entry(
        Severity.ERROR,
        "Text, list or group in the wrong place",
        "'{key}' should be {wanted}, but this is {found}",
    ),
    "empty-value": Entry(
        Severity.ERROR,
        "A key with nothing behind it",
        "nothing stands behind '{key}'",
        "write its value, or take the line out",
    ),
    "unknown-word": Entry(
        Severity.ERROR,
        "A word that is not one of the few possible",
        "'{word}' is no {what} that we know",
    ),
    "same-class": Entry(
        Severity.ERROR,
        "A class of apprentices named twice",
        "'{name}' is the same class as '{other}': their workbooks would be one",
        "leave one of them out",
    ),
    "comma-number": Entry(Severity.ERROR, "A number with a comma", "{why}"),
    # --- house, stores, price list, glossary
    "house-format": Entry(
        Severity.ERROR,
        "A house file of another format version",
        "this book is written in format {found}, and this version of the tool reads format {known}",
        "write `format: 1`, or install the version of the tool that the book was written for",
    ),
    "bad-currency": Entry(Severity.ERROR, "A currency without its code", "'{text}' is no currency code"),
    "rate-currency": Entry(
        Severity.ERROR,
        "A rate in another currency",
        "this rate is in {currency}, and the house counts in {money}",
        "write it in the house's currency",
    ),
    "no-translation": Entry(
        Severity.WARNING,
        "A language whose words the pages do not have",
        "in {language}, pages show numbers, dates and money as that language writes them; the pages' own words, such "
        "as headings, and what labels must say stay English, as there is no translation yet",
        "write `language: en`, or read the pages with that in mind before you print or send them",
    ),
    "bad-address": Entry(Severity.ERROR, "No web address", "'{text}' is no web address"),
    "bad-amount": Entry(Severity.ERROR, "An amount that cannot be read", "{why}"),
    "bad-number": Entry(Severity.ERROR, "A number that cannot be read", "{why}"),
    "bad-share": Entry(Severity.ERROR, "A percentage that cannot be", "{why}"),
    "bad-price": Entry(Severity.ERROR, "A price that cannot be read", "{why}"),
    "bad-date": Entry(Severity.ERROR, "A date that cannot be read", "{why}"),
    "bad-duration": Entry(Severity.ERROR, "A duration that cannot be read", "{why}"),
    "bad-size": Entry(Severity.ERROR, "A size that cannot be read", "{why}"),
    "bad-hours": Entry(Severity.ERROR, "Working hours that cannot be read", "{why}"),
    "bad-density": Entry(Severity.ERROR, "A density that cannot be", "{why}"),
    "bad-pack": Entry(Severity.ERROR, "A pack that cannot be read", "{why}"),
    "bad-csv": Entry(Severity.ERROR, "A table of values that cannot be read", "{why}"),
    "unknown-role": Entry(
        Severity.ERROR,
        "A role without a rate",
        "'{role}' has no hourly rate under `labour`",
    ),
    "unknown-allergen": Entry(
        Severity.ERROR,
        "A word that is no allergen of the law",
        "'{name}' is not one of the allergens that the law names",
    ),
    "allergen-group": Entry(
        Severity.ERROR,
        "Gluten or nuts without saying which",
        "'{name}' is not enough: the law wants {what} by name",
    ),
    "comma-in-name": Entry(
        Severity.ERROR,
        "A name with a comma",
        "'{name}' has a comma in it, and in a recipe a comma ends the name",
    ),
    "number-in-name": Entry(
        Severity.ERROR,
        "A name that begins with a number",
        "'{name}' begins with a number, which in a recipe would be read as its amount",
        "put a word first",
    ),
    "duplicate-item": Entry(
        Severity.ERROR,
        "The same item twice",
        "'{name}' is in the stores a second time",
        "keep one of them, or give them different names",
    ),
    "alias-clash": Entry(
        Severity.ERROR,
        "One name for two items",
        "'{alias}' would mean both '{item}' and '{other}'",
        "take it out of one of them",
    ),
    "over-100-percent": Entry(
        Severity.ERROR,
        "Parts that make more than the whole",
        "the parts come to more than 100 %: {listed}",
        "check the numbers",
    ),
    "nutrition-sum": Entry(
        Severity.ERROR,
        "More than 100 g in 100 g",
        "the nutrition of 100 g comes to {total} g: {listed}",
        "check the numbers, and whether the carbohydrate has the fibre in it (`carbohydrate basis: by difference`)",
    ),
    "nutrition-part": Entry(
        Severity.WARNING,
        "A nutrient larger than what it is part of",
        "{part} ({more} g) are part of {whole} and cannot be more than its {less} g",
        "check both numbers",
    ),
    "articles-differ": Entry(
        Severity.WARNING,
        "Articles that are declared differently",
        "articles of '{item}' differ in what they contain or are made of, so no ingredient list with it can be printed",
        "buy one of them, and pin it: `labelled as: SUPPLIER CODE`",
    ),
    "diet-contradicted": Entry(
        Severity.WARNING,
        "A diet that the item's own allergens rule out",
        "it is declared {diet}, but it contains {against}",
        "ask the supplier, and correct `diet` or `contains`",
    ),
    "no-nutrition-source": Entry(
        Severity.WARNING,
        "Nutrition without a source",
        "nobody can check this nutrition, as its source is not named",
        "add `nutrition source: …`",
    ),
    "bad-article": Entry(
        Severity.ERROR,
        "An article without a code",
        "'{name}' should be a supplier and the supplier's code for the article",
        "write it as Millstone & Reed MR-114",
    ),
    "unknown-caution": Entry(
        Severity.ERROR,
        "A caution that nobody wrote",
        "there is no caution called '{name}'",
    ),
    "price-columns": Entry(Severity.ERROR, "A price list with other columns", "{why}"),
    "price-fields": Entry(
        Severity.ERROR,
        "A price with too few or too many fields",
        "this line has {found} fields, and the heading has {wanted}",
    ),
    "duplicate-price": Entry(
        Severity.ERROR,
        "The same price twice",
        "'{item}' has a second price for the same article and day",
        "keep the right one",
    ),
    "price-without-item": Entry(
        Severity.ERROR,
        "A price for something that is not in the stores",
        "nothing in the stores is called '{name}'",
        "add it to a file in stores/, or correct the name",
    ),
    "unknown-supplier": Entry(
        Severity.WARNING,
        "A preferred supplier without prices",
        "no line of the price list is from '{name}'",
        "check the spelling in the price list",
    ),
    "unknown-article": Entry(
        Severity.WARNING,
        "An article that is not in the price list",
        "'{name}' is no article of '{item}' in the price list, so what is said here never counts",
    ),
    "empty-term": Entry(
        Severity.WARNING,
        "A term without an explanation",
        "'{term}' is not explained",
        "write a paragraph under the heading",
    ),
    "duplicate-term": Entry(
        Severity.ERROR,
        "A term explained twice",
        "'{term}' is explained a second time",
        "put both explanations under one heading",
    ),
    # --- the price list -----------------------------------------------------------------------------------------------
    "no-price": Entry(
        Severity.WARNING,
        "An item without a price",
        "'{item}' has no price in force on {on}, and {user} uses it: what it costs is shown as 'at least'",
        "add a line to the price list",
    ),
    "old-price": Entry(
        Severity.WARNING,
        "A price that is getting old",
        "the price of '{item}' counts from {since} and is {days} days old",
        "ask the supplier, and add a line with the new date",
    ),
    "other-currency": Entry(
        Severity.WARNING,
        "A price in another currency",
        "'{item}' is priced in {found} alone, and the house counts in {house}: it is left out of every cost",
        "add a price in the currency of the house",
    ),
    "pack-without-weight": Entry(
        Severity.WARNING,
        "A pack whose weight is not known",
        "'{item}' comes in packs of {pack}, and nothing says what those weigh: it is left out of every cost",
        "give the item a density",
    ),
    # --- formula, losses and yield against each other -----------------------------------------------------------------
    "contradictory-yield": Entry(
        Severity.WARNING,
        "A yield that the losses contradict",
        "the yield says {stated}, but lines and losses come to {computed}: {apart} apart",
        "correct the yield or the losses; costs and labels reckon with the losses",
    ),
    "more-out-than-in": Entry(
        Severity.WARNING,
        "More comes out than goes in",
        "the yield says {stated}, but only {computed} can come of the lines: {apart} apart",
        "correct the yield, or add the missing line",
    ),
    "nothing-left": Entry(
        Severity.ERROR,
        "Nothing is left to use",
        "the batch comes to {out}, of which {kept} are kept back and the rest is given to co-products",
        "keep back and give less, or make more",
    ),
    "no-baking-loss": Entry(
        Severity.NOTE,
        "A baked product without a baking loss",
        "pieces are scaled raw and baked, and no loss says what the oven takes: they count as if it took nothing",
        "weigh a batch after baking and add `losses: {bake: 12 %}`",
    ),
    "trim-beside-cut": Entry(
        Severity.WARNING,
        "A trim loss beside a cut",
        "trim takes {share}, but the cut leaves {rest} of the sheet by its geometry: only the cut is counted",
        "take the trim loss out",
    ),
    "cut-too-large": Entry(
        Severity.ERROR,
        "A piece larger than its sheet",
        "not one such piece fits on a sheet of {name}",
        "check the sizes: lengths in mm or cm",
    ),
    "past-end-point": Entry(
        Severity.WARNING,
        "An end point that is passed already",
        "the lines are thicker from the start than the end point says: nothing is boiled off",
        "check `to`, or the solids of the ingredients",
    ),
    "batch-contradicts": Entry(
        Severity.WARNING,
        "A batch that the lines contradict",
        "batch says {stated}, but the lines weigh {found}",
        "take `batch` out: it is for formulas in percent",
    ),
    "base-not-in-formula": Entry(
        Severity.ERROR,
        "Percent of something that is not there",
        "the formula is in percent of {base}, but no line is {base}",
        "say with `base` what is 100 %, or use weights",
    ),
    "base-over-full": Entry(
        Severity.ERROR,
        "A base in percent and in weight",
        "the lines that are 100 % add up to {percent} % already, and others of them have a weight",
        "write the base either in percent or in weight",
    ),
    "base-not-hundred": Entry(
        Severity.WARNING,
        "A base that is not 100 %",
        "the lines that are 100 % add up to {percent} %",
        "make them 100 % together",
    ),
    "percent-without-weight": Entry(
        Severity.ERROR,
        "Percentages and no weight",
        "the formula is in percent, and nothing says how much is made",
        "add `batch: 10 kg`, or a yield by weight",
    ),
    "not-in-pieces": Entry(
        Severity.ERROR,
        "Pieces of something that is not made in pieces",
        "{name} is not yielded in pieces, so nobody knows what one weighs",
        "write a weight, or say in its recipe how many pieces it yields",
    ),
    "not-in-sheets": Entry(
        Severity.ERROR,
        "A cut or a sheet of something that is not made in sheets",
        "{name} is not yielded in sheets, frames or trays of a known size",
        "write a weight, or give its recipe a yield such as `1 sheet of 60 × 40 cm`",
    ),
    "piece-without-weight": Entry(
        Severity.ERROR,
        "A piece that weighs nothing we know",
        "{name} is counted, but the stores do not say what a piece weighs",
        "write a weight, or give the item a measure: `measures: {piece: 50 g}`",
    ),
    "seed-not-weighed": Entry(
        Severity.ERROR,
        "A seed without a weight",
        "{name} holds its own seed, which must be weighed or in percent",
        "write its weight in grams",
    ),
    "over-cap": Entry(
        Severity.WARNING,
        "More of a left-over than the recipe allows itself",
        "{name} is {share} of what goes in, and {most} is the most that this line allows",
        "use less of it, or allow more",
    ),
    "mould-not-for-food": Entry(
        Severity.ERROR,
        "A mould that is not declared for food",
        "the material of '{mould}' is not declared for contact with food",
        "use another mould, or write `food contact: declared` once the supplier's declaration is there",
    ),
    "material-not-for-food": Entry(
        Severity.ERROR,
        "A mould declared for food, of a material that is not",
        "'{name}' is not declared for contact with food, and the mould '{mould}' made of it is",
        "write `food contact: declared` at the material once its supplier has declared it, or take it off the mould",
    ),
    "mould-contradicts": Entry(
        Severity.WARNING,
        "A batch that does not fill its moulds, or does not fit",
        "{cavities} cavities of {volume} filled to {fill} hold {wanted} at {density}, but {mass} go in",
        "correct the lines, the number of moulds or the density",
    ),
    "mould-overfull": Entry(
        Severity.WARNING,
        "More than the moulds hold",
        "{cavities} cavities of {volume} filled to {fill} hold {room}, but what is weighed in takes up {least} even "
        "without any air in it (an estimate from its composition; {mass} in all)",
        "check the lines (a kg for a g?) and the number of moulds",
    ),
    "mould-underfull": Entry(
        Severity.WARNING,
        "Less than fills the moulds",
        "{cavities} cavities of {volume} filled to {fill} hold {room}, and {mass} in them would be lighter than any "
        "foam",
        "check the lines (a g for a kg?) and the number of moulds",
    ),
    # --- recipe files
    "no-house": Entry(
        Severity.ERROR,
        "A book without a house",
        "the book has no house.yaml, which says whose kitchen it is and in what money it counts",
        "write a house.yaml with at least `format: 1` and `name: …`",
    ),
    "no-front-matter": Entry(
        Severity.ERROR,
        "A recipe without front matter",
        "a recipe begins with its title, yield and formula between two lines of three dashes, and this file does not",
        "begin the file with a line of three dashes, or move it out of the book's folders",
    ),
    "front-matter-open": Entry(
        Severity.ERROR,
        "Front matter that does not end",
        "the front matter opens here and no second line of three dashes closes it",
        "write a line of three dashes where the method begins",
    ),
    "title-too-long": Entry(
        Severity.ERROR,
        "A title that is too long",
        "the title has {found} characters, and lists, cards and labels have room for {most}",
        "give it a short name; what it is goes into the introduction or `describe`",
    ),
    "duplicate-title": Entry(
        Severity.ERROR,
        "Two recipes of one name",
        "'{name}' is the name of another recipe as well, so a line that asks for it could mean either",
        "give one of them another title",
    ),
    "name-clash": Entry(
        Severity.ERROR,
        "One name for two things",
        "'{name}' is the name of a {other} as well as of this {what}, so a line that asks for it could mean either",
        "give one of them another name",
    ),
    "duplicate-code": Entry(
        Severity.ERROR,
        "One code for two recipes",
        "the code {number} is taken by '{title}'",
        "give one of them a code of its own",
    ),
    "code-missing": Entry(
        Severity.ERROR,
        "An approved recipe without a code",
        "'{title}' is approved but has no code, and what is handed out must be found again by its code",
        "add `code: …`, or set the status back to trial",
    ),
    "lone-tag": Entry(
        Severity.WARNING,
        "A tag that nearly equals another",
        "the tag '{tag}' stands here alone, and others are tagged '{other}'",
    ),
    "photo-missing": Entry(
        Severity.ERROR,
        "A picture that is not there",
        "the book has no file {path}",
    ),
    "bad-yields": Entry(Severity.ERROR, "A yield that cannot be read", "{why}"),
    "bad-cut": Entry(Severity.ERROR, "A cut that cannot be read", "{why}"),
    "bad-loss": Entry(Severity.ERROR, "A loss that cannot be", "{why}"),
    "bad-keeping": Entry(Severity.ERROR, "A keeping time that cannot be read", "{why}"),
    "bad-layer": Entry(Severity.ERROR, "A layer that cannot be read", "{why}"),
    "bad-packaging": Entry(Severity.ERROR, "A packaging line that cannot be read", "{why}"),
    "bad-temperature": Entry(Severity.ERROR, "A temperature that cannot be read", "{why}"),
    "unknown-loss": Entry(
        Severity.ERROR,
        "A loss that we do not know",
        "'{name}' is no loss that we know, so nobody can say whether water or product leaves",
    ),
    "unknown-stage": Entry(
        Severity.ERROR,
        "A stage that the formula does not have",
        "the formula has no stage '{name}'",
    ),
    "unknown-state": Entry(
        Severity.ERROR,
        "A state that nothing keeps in",
        "'{state}' is no state that things keep in",
    ),
    "tray-missing": Entry(
        Severity.ERROR,
        "Trays of nobody knows how much",
        "the yield counts trays, and nothing says how many pieces a tray takes",
        "add `tray: 24 pieces`",
    ),
    "cut-without-sheet": Entry(
        Severity.ERROR,
        "A cut without a sheet",
        "only a sheet or a frame can be cut into pieces, and this recipe yields neither",
        "write the yield as 1 sheet of 60 × 40 cm at 4 mm, or take `cut` out",
    ),
    "rest-without-cut": Entry(
        Severity.ERROR,
        "The rest of a cut that nobody makes",
        "'{name}' is the rest of the cut, but nothing is cut here",
        "add `cut: …` or a line that cuts (24 discs of 40 mm …), or write how much there is of it",
    ),
    "make-backwards": Entry(
        Severity.ERROR,
        "Batches that run backwards",
        "the smallest batch ({least}) is larger than the largest ({most})",
        "swap the two",
    ),
    "size-twice": Entry(
        Severity.ERROR,
        "The same size twice",
        "there is a size '{name}' already",
        "give it another name",
    ),
    "size-names-nothing": Entry(
        Severity.ERROR,
        "A size that changes what is not there",
        "the recipe has no {what} '{name}' that this size could change",
    ),
    "size-names-several": Entry(
        Severity.ERROR,
        "A size that changes one of two lines",
        "the recipe has more than one line of '{name}', and this size does not say which it changes",
        "write the line under its stage, as in the recipe's own formula",
    ),
    "percent-without-base": Entry(
        Severity.ERROR,
        "Percentages of nobody knows what",
        "the percentages come to {sum} %, so they are not of the whole, and nothing says what is 100 %",
        "add `base: flour`, or the name of the line that is 100 %",
    ),
    "not-yes-or-no": Entry(Severity.ERROR, "Neither yes nor no", "{why}"),
    "comma-in-braces": Entry(
        Severity.ERROR,
        "A comma inside braces",
        "inside braces a comma ends the text, so '{part}' stands here by itself",
        "put the whole text, comma and all, in quotation marks",
    ),
    # --- formulas
    "bad-line": Entry(Severity.ERROR, "A formula line that cannot be read", "{why}"),
    "empty-formula": Entry(
        Severity.ERROR,
        "A formula without lines",
        "the formula has no lines, so there is nothing to weigh",
        "write at least one line: `- 480 g plain flour`",
    ),
    "empty-stage": Entry(
        Severity.ERROR,
        "A stage without lines",
        "the stage '{name}' has no lines",
        "write its lines under it, or take it out",
    ),
    "stage-twice": Entry(
        Severity.ERROR,
        "Two stages of one name",
        "there is a stage '{name}' already",
        "give it another name",
    ),
    "rest-without-stays": Entry(
        Severity.ERROR,
        "A rest of nothing",
        "this says where the rest of the line goes ({rest}), but nothing says how much stays",
        "add `stays: 60 %`, or a weight",
    ),
    "stays-too-much": Entry(
        Severity.ERROR,
        "More stays than goes in",
        "{stays} should stay of a line of {line}",
        "write at most the weight of the line",
    ),
    "working-too-little": Entry(
        Severity.ERROR,
        "Less to work with than goes in",
        "the amount to work with ({working}) is less than the line itself ({line})",
        "write the whole amount that must be at hand",
    ),
    "unknown-name": Entry(
        Severity.ERROR,
        "A name that nothing bears",
        "neither the stores nor any recipe has '{name}'",
    ),
    "unknown-unit": Entry(
        Severity.ERROR,
        "A word that is no unit",
        "'{unit}' is neither a unit nor a measure of '{name}'",
    ),
    "unit-missing": Entry(
        Severity.ERROR,
        "A number without a unit",
        "there is no unit, and nothing says what a piece of '{name}' weighs",
    ),
    "measure-missing": Entry(
        Severity.ERROR,
        "A count of something without a weight",
        "nothing says what one '{measure}' of '{name}' weighs",
    ),
    "density-missing": Entry(
        Severity.ERROR,
        "A volume of something without a density",
        "a volume of '{name}' cannot be weighed, as nothing says how dense it is",
    ),
    "volume-of-recipe": Entry(
        Severity.ERROR,
        "A volume of a recipe",
        "'{name}' is made here and has no density of its own, so a volume of it cannot be weighed",
        "write its weight",
    ),
    "us-measure": Entry(Severity.ERROR, "A US kitchen measure elsewhere", "{why}"),
    "no-pieces": Entry(
        Severity.ERROR,
        "Pieces of something that comes in bulk",
        "'{name}' does not come in pieces, so a number of them says nothing",
    ),
    "no-sheets": Entry(
        Severity.ERROR,
        "Sheets of something that is no sheet",
        "'{name}' comes in no {word}",
        "write its weight, or a number of its pieces",
    ),
    "cut-of-no-sheet": Entry(
        Severity.ERROR,
        "A cut of something that is no sheet",
        "'{name}' is no sheet or frame, so nothing can be cut from it",
        "write its weight or a number of its pieces, or let that recipe yield a sheet",
    ),
    "co-product-counted": Entry(
        Severity.ERROR,
        "A count of what is left over",
        "'{name}' is what another recipe leaves over, and that is weighed, not counted",
        "write its weight",
    ),
    "as-bought-recipe": Entry(
        Severity.ERROR,
        "A recipe as bought",
        "'{name}' is made here, so there is no weight of it as bought",
        "take 'as bought' out",
    ),
    "packaging-in-formula": Entry(
        Severity.ERROR,
        "Packaging in a formula",
        "'{name}' is packaging and cannot be part of a formula",
        "move the line to `packaging`",
    ),
    "moulding-in-food": Entry(
        Severity.ERROR,
        "Moulding material in food",
        "'{name}' is for making moulds and must not come into food",
        "take the line out; if this recipe makes a mould, write `kind: moulding`",
    ),
    "unknown-base": Entry(
        Severity.ERROR,
        "A base that nothing bears",
        "'{name}' cannot be what counts as 100 %, as nothing is called that",
    ),
    "self-reference": Entry(
        Severity.ERROR,
        "A recipe made from itself",
        "'{title}' is in its own formula, and only a preferment can hold its own seed",
        "write `kind: preferment` if it is a culture that is kept going, or take the line out",
    ),
    "cycle": Entry(
        Severity.ERROR,
        "Recipes that need each other",
        "these recipes need each other, so none of them can be made first: {path}",
        "take one of the lines out",
    ),
    # --- what a recipe names in the house
    "not-in-house": Entry(
        Severity.ERROR,
        "Something that the house does not have",
        "the house has no {what} called '{name}'",
    ),
    "unknown-packaging": Entry(
        Severity.ERROR,
        "Packaging that the stores do not have",
        "the stores have no packaging called '{name}'",
    ),
    "unknown-named": Entry(
        Severity.WARNING,
        "Something named that nearly goes in",
        "'{name}' is named, so that its quantity must be declared, but nothing that goes in is called that",
    ),
    "claim-forbidden": Entry(
        Severity.WARNING,
        "A claim that the house forbids",
        "clients would read '{claim}' here, and the house forbids that claim",
        "say it in another way; `forbid claims` stands in house.yaml",
    ),
    "unknown-layer": Entry(
        Severity.ERROR,
        "A layer of something that does not go in",
        "no line or stage of the formula is called '{name}'",
    ),
    # --- the method
    "empty-step": Entry(
        Severity.ERROR,
        "A step that says nothing",
        "step {number} has no text",
        "say what is to be done, or take it out",
    ),
    "step-not-plain": Entry(
        Severity.ERROR,
        "A list, table or heading inside a step",
        "a step is one instruction that fits on a card, and this one has a list, table or heading in it",
        "write the parts as steps of their own, or as sentences",
    ),
    "bad-braces": Entry(Severity.ERROR, "Braces that cannot be read", "{why}"),
    "braces-broken": Entry(
        Severity.ERROR,
        "Braces that are not whole",
        "what a step says in braces is lost from here on, as the braces do not open or close where they should",
        'write all of it as {key="value" key="value"} at the end of the step; for a brace as such write \\{ or \\}',
    ),
    "braces-misplaced": Entry(
        Severity.ERROR,
        "Braces in the middle of a step",
        "what stands in braces belongs to the whole step, so it must close the step",
        "move the braces behind the last word of the step",
    ),
    "braces-without-step": Entry(
        Severity.ERROR,
        "Braces behind something that is no step",
        "only a numbered step can have times and settings in braces",
        "number the step, or take the braces out",
    ),
    "unknown-attribute": Entry(
        Severity.ERROR,
        "Something that a step cannot say",
        "'{name}' is nothing that a step can say in its braces",
    ),
    "attribute-twice": Entry(
        Severity.ERROR,
        "The same thing said twice in one step",
        "'{name}' stands in this step's braces twice",
        "keep one of the two",
    ),
    "unlikely-setting": Entry(
        Severity.WARNING,
        "A setting that such a machine hardly has",
        "'{name}' is of kind {kind}, and such a machine is hardly ever set to {said}",
    ),
    "limit-beyond-end-point": Entry(
        Severity.WARNING,
        "A limit that the step never reaches",
        "the step ends at {to}, and its limit asks for {limit}: it would be missed every time",
        "go on for longer (`to`), or check the limit",
    ),
    "limit-without-remedy": Entry(
        Severity.WARNING,
        "A limit without a remedy",
        "nothing says what to do when this limit is missed, and then nobody has time to think about it",
        'add if-missed="…": bake on, chill again, throw it away',
    ),
    "bad-attribute": Entry(Severity.ERROR, "Something in a step's braces that cannot be read", "{why}"),
    "limit-missing": Entry(
        Severity.ERROR,
        "A remedy without a limit",
        "'{name}' goes with a limit, and this step has none",
        'add limit="…"',
    ),
    "step-name-twice": Entry(
        Severity.ERROR,
        "Two steps of one name",
        "there is a step '{name}' already",
        "give it another name",
    ),
    "unknown-step": Entry(
        Severity.ERROR,
        "A step that is not there",
        "no step before this one is called '{name}'",
    ),
    "step-not-before": Entry(
        Severity.ERROR,
        "A step that follows a later one",
        "a step can only follow one that stands before it, and '{name}' does not",
        "put the steps in order of doing",
    ),
    "unknown-use": Entry(
        Severity.ERROR,
        "A step that uses what does not go in",
        "no line or stage of the formula is called '{name}'",
    ),
    "unknown-block": Entry(
        Severity.ERROR,
        "A block that we do not know",
        "'{name}' is no block that we know",
    ),
    "unclosed-block": Entry(
        Severity.ERROR,
        "A block that does not end",
        "the block '{name}' opens here and is never closed",
        "write a line of three colons behind it",
    ),
    "stray-block-end": Entry(
        Severity.ERROR,
        "The end of a block that never began",
        "this line closes a block, but none is open",
        "write what the block is for where it begins: `::: why`",
    ),
    "empty-block": Entry(
        Severity.ERROR,
        "A block with nothing in it",
        "the block '{name}' is empty",
        "write something into it, or take it out",
    ),
    "caution-without-name": Entry(
        Severity.ERROR,
        "A caution that does not say which",
        "a caution names its hazard, so that what to do can stand beside it",
        "write its name behind it: `::: caution hot sugar`",
    ),
    "heading-in-block": Entry(
        Severity.ERROR,
        "A heading inside a block",
        "headings split the method, so none can stand inside a block",
        "write it in *emphasis*, or close the block above it",
    ),
    "title-in-body": Entry(
        Severity.WARNING,
        "A heading of the first level",
        "the title stands in the front matter, so '{text}' is taken as a heading of the method",
        "write it with two hashes, as in `## Day two`",
    ),
    "broken-link": Entry(
        Severity.ERROR,
        "A link that leads nowhere",
        "the link to {written} leads to no recipe of the book",
    ),
    "picture-in-text": Entry(
        Severity.ERROR,
        "A picture in the text",
        "pictures are not set inside the text",
        "name it in the front matter: `photo: images/…`",
    ),
    "raw-html": Entry(
        Severity.ERROR,
        "HTML in the text",
        "HTML is not set, as a printed page has no use for it",
        "write it in Markdown: *emphasis*, **strong**, [a link](…)",
    ),
    "code-block": Entry(
        Severity.ERROR,
        "A block of code",
        "a block of code has no place in a recipe",
        "write it as a paragraph, or as a block such as `::: note`",
    ),
    "quotation": Entry(
        Severity.ERROR,
        "A quotation",
        "a quotation has no place in a recipe",
        "take the > away, or write it as a block: `::: note`",
    ),
    "same-page": Entry(
        Severity.ERROR,
        "Two names for one page",
        "'{first}' and '{second}' would both be published as {page}, since file names keep only plain letters, digits "
        "and hyphens",
        "rename one of the files",
    ),
    # --- the register of what was issued
    "register-columns": Entry(
        Severity.ERROR,
        "A register with other columns",
        "{why}",
        "take the file as it was before, from a copy or the version history",
    ),
    "register-fields": Entry(
        Severity.ERROR,
        "A record with too few or too many fields",
        "this record has {found} fields, and the heading has {wanted}",
        "take the line as it was before, from a copy or the version history",
    ),
    "register-other-kind": Entry(
        Severity.ERROR,
        "A record that says what belongs to another kind",
        "this is the record of a {what}, which has nothing under '{column}'",
        "take the line as it was before, from a copy or the version history",
    ),
    "bad-code": Entry(
        Severity.ERROR,
        "A code that was not given by the tool",
        "'{text}' is no code of ours: {why}",
        "take the line as it was before, from a copy or the version history",
    ),
    "bad-parts": Entry(
        Severity.ERROR,
        "Digests of a card that cannot be read",
        "{why}",
        "take the line as it was before, from a copy or the version history",
    ),
    "register-edited": Entry(
        Severity.ERROR,
        "A record that was changed by hand",
        "the code {number} does not stand for what this record says any more, so it was changed after it was issued",
        "take the line as it was before; or take it out, and issue the label again",
    ),
    "issued-twice": Entry(
        Severity.WARNING,
        "The same record twice",
        "'{title}' has this very record already",
        "take one of the two lines out",
    ),
    "issued-unknown": Entry(
        Severity.NOTE,
        "Something issued of a recipe that is gone",
        "a {what} of '{title}' was issued on {on}, and the book has no such recipe any more: nothing is compared with "
        "it",
        "if it is called otherwise now, issue it again; if nothing of it is in use any more, take its lines out",
    ),
    # --- labels against what was issued
    "label-allergens": Entry(
        Severity.ERROR,
        "A label that names other allergens than the product has",
        "{labels} not hold any more: {what}",
        "if that is right, issue the label again (bookmaker issue labels); until then its sheet is withheld",
        withholds=True,
    ),
    "label-changed": Entry(
        Severity.WARNING,
        "A label that says something else than what was issued",
        "{sheets} to be sent again: {what}",
        "issue the label again (bookmaker issue labels), and send the new sheet to everyone who has the old one",
    ),
}
