"""Cards and batch records as pieces of PDF files, and the settings of those files."""

import gc
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from multiprocessing import parent_process
from pathlib import Path

from markupsafe import Markup

from bookmaker.editions.cards.views import CardSheet
from bookmaker.press.assembly.assembling import Setting
from bookmaker.press.book import tied
from bookmaker.press.cards.fitting import CardFitter, Fitted
from bookmaker.press.cards.styles import card_styles, record_styles
from bookmaker.press.formats import Formats
from bookmaker.press.html import environment


@dataclass(frozen=True, slots=True)
class FittingSetup:
    """What fitting cards needs to know once: the themes, first one first, and the paper by the house's word."""

    themes: tuple[Path, ...]
    paper: str


def prepare(setup: FittingSetup) -> Callable[[CardSheet], Fitted]:
    """What a process does first: the work on one card."""
    fitter = CardFitter(setup.themes, setup.paper)
    is_apart = parent_process() is not None
    if is_apart:
        # What was there before stays; what a card leaves behind is let go when it is done, not looked for meanwhile
        gc.freeze()
        gc.disable()

    def work(sheet: CardSheet) -> Fitted:
        fitted = fitter.fit(sheet)
        if is_apart:
            gc.collect(0)
        return fitted

    return work


class CardPress:
    """Sets the files of the edition, in one house's language. `house_paper` is what batch records are printed on."""

    def __init__(self, themes: Sequence[Path], paper: str, house_paper: str, house: str, formats: Formats) -> None:
        self._house, self._formats = house, formats
        self._styles, self._record_styles = card_styles(themes, paper), record_styles(themes, house_paper)
        made = environment([theme / "cards" for theme in themes], formats)
        self._record = made.get_template("record.html").module.record  # type: ignore[attr-defined]
        self._document = made.get_template("document.html")

    def record(self, sheet: CardSheet) -> str:
        """The batch record beside a card."""
        return tied(str(self._record(sheet)))

    def cards_file(self, file: str, title: str, newest: str) -> Setting:
        """The setting of a file of cards: of the recipe called `title`, or of all."""
        return self._setting(file, title or self._formats.word("Bench cards"), newest, self._styles)

    def records_file(self, file: str, title: str, newest: str) -> Setting:
        """The setting of a file of batch records: of the recipe called `title`, or of all."""
        word = self._formats.word
        return self._setting(
            file, f"{word('Batch record')}: {title}" if title else word("Batch records"), newest, self._record_styles
        )

    def _setting(self, file: str, title: str, newest: str, styles: str) -> Setting:
        def document(body: str) -> str:
            return self._document.render(
                language=self._formats.language,
                title=title,
                house=self._house,
                newest=newest,
                body=Markup(body),  # noqa: S704 (set by our templates, which escape)
            )

        return Setting(file, self._formats.language, styles, document)
