"""Label sheets from product sheets: what clients read on the sheet, they read on the product."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from bookmaker.editions.labels.views import Grid, LabelSheetView, LabelView
from bookmaker.editions.sheets.views import Frame, Gap, Mass, MassUnit, SheetView
from bookmaker.editions.team.routes import fold
from bookmaker.measures.exact import CONTEXT
from bookmaker.model.house import Region, Stickers

THAWED = "thawed"

FOLDER = "labels"
"""Where the edition is published within the output folder."""

_LETTERS, _SMALL_LETTERS = Decimal("1.2"), Decimal("0.9")
_US_LETTERS = Decimal("1.5875")
_EU_RULE = "Regulation (EU) No 1169/2011, Article 13(2) and (3)"
_US_RULE = "21 CFR 101.2(c)"
# The least height of the lower-case x in the EU and the UK, of the lower-case o in the US (1/16 inch); from memory

_FIGURES = ((Decimal(50), Decimal(2)), (Decimal(200), Decimal(3)), (Decimal(1000), Decimal(4)))
_LARGEST_FIGURES = Decimal(6)
# Up to so many grams, figures of the net weight are so many millimetres high: Directive 76/211/EEC, Annex I, 3.1; from
# memory. They stand on what the law asks of the letters in the US.


def arrange(sheets: Sequence[SheetView], frame: Frame, region: Region, stickers: Stickers) -> LabelSheetView:
    """The labels of all `sheets` on label paper. Where allergens or ingredients are not known, there is no label."""
    fit = [sheet for sheet in sheets if not {Gap.INGREDIENTS, Gap.ALLERGENS} & {*sheet.gaps}]
    small = stickers.small_packs and region is not Region.US
    return LabelSheetView(
        name=stickers.name,
        frame=frame,
        grid=Grid(
            stickers.size.width,
            stickers.size.depth,
            stickers.across,
            stickers.down,
            stickers.left,
            stickers.top,
            stickers.gap_across,
            stickers.gap_down,
        ),
        letters=_US_LETTERS if region is Region.US else _SMALL_LETTERS if small else _LETTERS,
        rule=_US_RULE if region is Region.US else _EU_RULE,
        labels=tuple(map(label_view, fit)),
        unfit=tuple(_name(sheet) for sheet in sheets if sheet not in fit),
    )


def names(stickers: Iterable[Stickers]) -> dict[str, Stickers]:
    """File stems of label sheets; where two names come to the same, the later one is numbered."""
    found: dict[str, Stickers] = {}
    for each in stickers:
        stem, number = fold(each.name), 1
        while (free := stem if number == 1 else f"{stem}-{number}") in found:
            number += 1
        found[free] = each
    return found


def label_view(sheet: SheetView) -> LabelView:
    """One product's label."""
    dated = [state for state in sheet.keeping if state.date_word]
    # what is sold thawed is kept and dated as such, however else it may be kept
    kept = min(dated or sheet.keeping, key=lambda state: sheet.defrosted and state.state != THAWED, default=None)
    return LabelView(
        title=sheet.title,
        size=sheet.size,
        legal_name=sheet.legal_name,
        defrosted=sheet.defrosted,
        quantities=sheet.quantities,
        declaration=sheet.declaration,
        may_contain=tuple(name for row in sheet.allergens.rows for name in row.may_contain),
        notes=sheet.notes,
        net=sheet.net,
        figures=_figures(sheet.net) if sheet.net else Decimal(0),
        date_word=kept.date_word if kept else "",
        temperature=kept.temperature if kept else None,
        words=kept.words if kept else "",
    )


def _figures(net: Mass) -> Decimal:
    grams = CONTEXT.multiply(net.value, Decimal(1000)) if net.unit is MassUnit.KILOGRAM else net.value
    return next((height for most, height in _FIGURES if grams <= most), _LARGEST_FIGURES)


def _name(sheet: SheetView) -> str:
    return f"{sheet.title} ({sheet.size})" if sheet.size else sheet.title
