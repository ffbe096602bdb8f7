"""Stages join in order, losses act in order: a mass on its way from bowl to product."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from bookmaker.kitchen.figures import LossFlow, StageFlow
from bookmaker.measures.exact import ONE, ZERO
from bookmaker.model.line import Loss, LossKind

IN_THE_OVEN = frozenset({"bake", "roast", "fry", "dry"})
"""Losses that pieces suffer after they were scaled: what comes before them is raw."""


@dataclass(frozen=True, slots=True)
class Way:
    """How far a batch has come.

    `left` holds for each stage so far what waste has left of a gram that joined there (moisture takes water, not
    content); `dried` is how much of the water that left would still be there (less what waste took with it later);
    `raw` is the mass when the pieces were scaled: behind the last `portion` loss, or before the oven.
    """

    mass: Decimal = ZERO
    stages: tuple[StageFlow, ...] = ()
    whole: tuple[LossFlow, ...] = ()
    left: tuple[Decimal, ...] = ()
    dried: Decimal = ZERO
    raw: Decimal | None = None
    portioned: bool = False
    baked: bool = False

    @property
    def losses(self) -> tuple[LossFlow, ...]:
        """All losses so far, in the order in which they acted."""
        return (*(loss for stage in self.stages for loss in stage.losses), *self.whole)

    def grams_lost(self, kind: LossKind) -> Decimal:
        """Grams that left so far as water, or as product."""
        return sum((loss.grams for loss in self.losses if loss.kind is kind), ZERO)

    @property
    def scaled(self) -> Decimal:
        """The raw mass: as noted on the way, or all there is when nothing was portioned or baked."""
        return self.mass if self.raw is None else self.raw


def join(way: Way, name: str, joined: Decimal, losses: Iterable[Loss]) -> Way:
    """A stage joins; its losses act on all that is in by then."""
    before = way.mass
    way = replace(way, mass=before + joined, left=(*way.left, ONE))
    acted: list[LossFlow] = []
    for loss in losses:
        way, flow = _act(way, loss.name, loss.kind, loss.share, implied=False)
        acted.append(flow)
    return replace(way, stages=(*way.stages, StageFlow(name, joined, before, tuple(acted), way.mass)))


def lose(way: Way, name: str, kind: LossKind, share: Decimal, *, implied: bool = False) -> Way:
    """A loss acts on the whole, behind all stages."""
    way, flow = _act(way, name, kind, share, implied=implied)
    return replace(way, whole=(*way.whole, flow))


def _act(way: Way, name: str, kind: LossKind, share: Decimal, *, implied: bool) -> tuple[Way, LossFlow]:
    grams = way.mass * share
    flow = LossFlow(name, kind, share, way.mass, grams, implied)
    raw, baked, portioned = way.raw, way.baked, way.portioned
    if name in IN_THE_OVEN and not baked:
        raw, baked = (raw if portioned else way.mass), True
    if name == "portion" and not baked:
        raw, portioned = way.mass - grams, True
    if kind is LossKind.WASTE:
        left, dried = tuple(each * (ONE - share) for each in way.left), way.dried * (ONE - share)
    else:
        left, dried = way.left, way.dried + grams
    mass = way.mass - grams
    return Way(mass, way.stages, way.whole, left, dried, raw, portioned, baked), flow
