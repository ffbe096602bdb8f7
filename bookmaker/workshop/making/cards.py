"""Bench cards and batch records, `cards/`: a file for each recipe, and one of all."""

from collections.abc import Iterator, Sequence
from functools import cached_property, partial

from bookmaker.editions.cards.edition import FOLDER, pattern_of
from bookmaker.editions.cards.pages import route_of
from bookmaker.editions.cards.views import CardSheet
from bookmaker.model.refs import RecipeRef
from bookmaker.press import pdf
from bookmaker.press.assembly.assembling import Setting, Shop, assemble
from bookmaker.press.cards.fitting import Fitted
from bookmaker.press.cards.printing import CardPress, FittingSetup, prepare
from bookmaker.press.formats import Formats
from bookmaker.press.piece import Piece
from bookmaker.press.site import page_path
from bookmaker.workshop.building import Edition, Job, Made
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.packing import digest, pack, recalled
from bookmaker.workshop.cache.team import theme_digest
from bookmaker.workshop.issuing.cards import NO_ADDRESS
from bookmaker.workshop.making.team import team_book
from bookmaker.workshop.paper import paper_is_ready
from bookmaker.workshop.pool import spread

THEME = "cards"
ALL, RECORDS = f"{FOLDER}/all.pdf", f"{FOLDER}/records.pdf"

WORTH_SPREADING = 6
"""Cards: to start a process and load the page engine takes as long as to fit some five."""


class _Cards:
    """The edition's files as leaves. What has been fitted is kept in the store, by all that it was fitted for."""

    def __init__(self, job: Job) -> None:
        self._job, self._pages = job, job.once(team_book)
        self._house = house = job.kept.house
        self.made = Made([], self._pages.enter, libraries=pdf.library_files())
        libraries = "\n".join(pdf.system_libraries())
        self._theme = digest(theme_digest(job.themes, THEME), libraries, house.card_paper.value)
        self._record_theme = digest(theme_digest(job.themes, THEME), libraries, house.paper.value)
        self.made.leaves = [*self._leaves()]

    def _leaves(self) -> Iterator[Leaf]:
        refs = [*self._pages.bench]
        cards, records = {ref: self._card_key(ref) for ref in refs}, {ref: self._record_key(ref) for ref in refs}
        if refs:
            yield Leaf(ALL, digest("all", *cards.values()), partial(self._cards, ALL, refs), spreads=True)
            yield Leaf(RECORDS, digest("all", *records.values()), partial(self._records, RECORDS, refs), spreads=True)
        for ref in refs:
            card, record = self._paths(ref)
            yield Leaf(card, cards[ref], partial(self._cards, card, [ref]))
            yield Leaf(record, records[ref], partial(self._records, record, [ref]))

    # --- files

    def _cards(self, file: str, refs: Sequence[RecipeRef]) -> bytes:
        fitted = self._fitted(refs)
        if file == ALL:
            self._tell_all(refs, fitted)
        names = [self._pages.places.names[ref] for ref in refs]
        pieces = [Piece(name, "", found.html) for name, found in zip(names, fitted, strict=True)]
        return self._assembled(pieces, self._press.cards_file(file, self._title(refs), self._newest(refs)))

    def _records(self, file: str, refs: Sequence[RecipeRef]) -> bytes:
        pieces = [Piece(self._pages.places.names[ref], "", self._record(ref)) for ref in refs]
        return self._assembled(pieces, self._press.records_file(file, self._title(refs), self._newest(refs)))

    def _assembled(self, pieces: Sequence[Piece], setting: Setting) -> bytes:
        return assemble(pieces, setting, Shop(spread, self._job.progress.say, self._tell, self._job.kept.store))

    def _fitted(self, refs: Sequence[RecipeRef]) -> list[Fitted]:
        """Cards in their type and places: those of the store, and the others made now."""
        store = self._job.kept.store
        keys = {ref: f"card:{self._card_key(ref)}" for ref in refs}
        found: dict[RecipeRef, Fitted] = {
            ref: kept for ref, key in keys.items() if (kept := recalled(store.get(key))) is not None
        }
        lacking = [ref for ref in refs if ref not in found]
        setup = FittingSetup(self._job.themes, self._house.card_paper.value)
        made = spread(prepare, setup, [self._sheet(ref) for ref in lacking], worth=WORTH_SPREADING) if lacking else ()
        for done, (ref, fitted) in enumerate(zip(lacking, made, strict=True), 1):
            found[ref] = fitted
            store.put(keys[ref], pack(fitted))
            self._job.progress.say(f"{FOLDER}: fitting", done, len(lacking))
        return [found[ref] for ref in refs]

    def _record(self, ref: RecipeRef) -> str:
        """A batch record, ready to be laid out."""
        store, key = self._job.kept.store, f"record:{self._record_key(ref)}"
        kept = store.get(key)
        if kept is not None:
            return kept.decode("utf-8")
        made = self._press.record(self._sheet(ref))
        store.put(key, made.encode("utf-8"))
        return made

    # --- what is told

    def _tell_all(self, refs: Sequence[RecipeRef], fitted: Sequence[Fitted]) -> None:
        if not self._house.published_at:
            self._tell(NO_ADDRESS)
        for ref, found in zip(refs, fitted, strict=True):
            if found.too_long:
                self._tell(
                    f"bookmaker: {self._pages.places.names[ref]} has no card, as it does not fit on two sides of "
                    f"{self._house.card_paper.value}: shorten {', '.join(found.too_long)}"
                )

    def _tell(self, sentence: str) -> None:
        self.made.teller(self._job.progress)(sentence)

    # --- one card

    def _sheet(self, ref: RecipeRef) -> CardSheet:
        return CardSheet(
            self._pages.bench_card(ref), self._pages.bench[ref].code, self._address(ref), self._pattern(ref)
        )

    def _card_key(self, ref: RecipeRef) -> str:
        shown = self._pages.bench[ref].bench
        return digest(shown, self._address(ref), str(self._pattern(ref)), self._theme)

    def _record_key(self, ref: RecipeRef) -> str:
        return digest(self._pages.bench[ref].bench, self._record_theme)

    def _address(self, ref: RecipeRef) -> str:
        """What the card's code leads to; nothing where the house's book is not published."""
        published = self._house.published_at
        return f"{published}{page_path(route_of(self._pages.bench[ref].code))}" if published else ""

    def _pattern(self, ref: RecipeRef) -> int:
        return pattern_of(self._job.kept.contents.recipes[ref].section, self._sections)

    @cached_property
    def _sections(self) -> list[str]:
        return [*self._pages.places.sections]

    def _paths(self, ref: RecipeRef) -> tuple[str, str]:
        """Where a card and its batch record are published."""
        stem = f"{FOLDER}{self._pages.places.routes[ref].key.removeprefix('recipes')}"
        return f"{stem}.pdf", f"{stem}.record.pdf"

    def _title(self, refs: Sequence[RecipeRef]) -> str:
        """What a file of one recipe is called; nothing for a file of all."""
        return self._pages.places.names[refs[0]] if len(refs) == 1 else ""

    def _newest(self, refs: Sequence[RecipeRef]) -> str:
        """The day of the newest revision."""
        return max((self._pages.bench[ref].revised for ref in refs), default="")

    @cached_property
    def _press(self) -> CardPress:
        house = self._house
        formats = Formats.of(house.language, fahrenheit=house.fahrenheit)
        return CardPress(self._job.themes, house.card_paper.value, house.paper.value, house.name, formats)


def _make(job: Job) -> Made:
    return _Cards(job).made


EDITION = Edition("cards", _make, paper_is_ready)
