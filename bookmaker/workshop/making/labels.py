"""Label sheets, `labels/`: the house's own to print on, so apart from the sheets that clients see."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from functools import cached_property, partial

from bookmaker.editions.labels.edition import FOLDER, arrange, names
from bookmaker.editions.labels.views import LabelSheetView, LabelView
from bookmaker.press import pdf
from bookmaker.press.labels import THEME, LabelPress
from bookmaker.workshop.building import Edition, Job, Made, nothing
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.packing import digest
from bookmaker.workshop.cache.team import theme_digest
from bookmaker.workshop.making.sheets import product_sheets
from bookmaker.workshop.paper import paper_is_ready


class _LabelSheets:
    """The edition's files as leaves. `tell` hears which products have no label, when any sheet is made."""

    def __init__(self, job: Job, tell: Callable[[str], None]) -> None:
        self._products = products = job.once(product_sheets)
        self._house, self._tell = job.kept.house, tell
        self._names = names(job.kept.house.labels.stickers)
        self._press = LabelPress(products.frame, job.themes)
        theme = theme_digest(job.themes, THEME)
        self._key = digest(products.key, repr(self._house.labels.stickers), theme, *pdf.system_libraries())

    def leaves(self) -> Iterator[Leaf]:
        """A PDF for each size of label that the house has."""
        for stem in self._names:
            yield Leaf(f"{FOLDER}/{stem}.pdf", digest(self._key, stem), partial(self._pdf, stem))

    def _pdf(self, stem: str) -> bytes:
        return self._press.pdf(self._views[stem], self._fits[stem])

    @cached_property
    def _views(self) -> dict[str, LabelSheetView]:
        sheets = [self._products.view(ref) for ref in self._products.released]
        frame, region = self._products.frame, self._house.region
        return {stem: arrange(sheets, frame, region, stickers) for stem, stickers in self._names.items()}

    @cached_property
    def _fits(self) -> Mapping[str, Mapping[LabelView, Decimal]]:
        """The size of type of each label on each sheet. Products that fit none, or may have none, are told of."""
        fits = {stem: self._press.fit(view) for stem, view in self._views.items()}
        view = next(iter(self._views.values()))
        nowhere = [label for label in view.labels if not any(label in fit for fit in fits.values())]
        if nowhere:
            self._tell(
                "bookmaker: no label of the house has room for these in letters as small as the law allows; give them "
                f"a larger one, under `labels` in house.yaml: {', '.join(map(_name, nowhere))}"
            )
        if view.unfit:
            self._tell(
                "bookmaker: no label is printed for these, as not everything in them has declared its ingredients and "
                f"allergens: {', '.join(view.unfit)}"
            )
        return fits


def _name(label: LabelView) -> str:
    return f"{label.title} ({label.size})" if label.size else label.title


def _make(job: Job) -> Made:
    job.progress.say("labels: arranging")
    made = Made([], nothing, libraries=pdf.library_files())

    made.leaves = list(_LabelSheets(job, made.teller(job.progress)).leaves())
    return made


EDITION = Edition("labels", _make, paper_is_ready)
