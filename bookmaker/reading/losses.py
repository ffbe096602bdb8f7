"""Losses, flat or per stage, with `whole` for the end."""

from collections.abc import Mapping, Sequence

from bookmaker.model.line import LOSSES, Loss
from bookmaker.model.written.front import Losses
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import Texts, share
from bookmaker.reading.tree import key_of

WHOLE = "whole"


def read_losses(written: Losses | None, stages: Sequence[str], texts: Texts, at: Anchor) -> dict[str, tuple[Loss, ...]]:
    """Losses by stage name, those of the whole under `whole`. Names of losses and stages are checked."""
    whole: list[Loss] = []
    found: dict[str, tuple[Loss, ...]] = {}
    for name, value, anchor in texts.each(written, at):
        if isinstance(value, Mapping):
            stage = _stage(name, stages, texts, anchor)
            losses = _several(value, texts, anchor)
            if stage == WHOLE:
                whole += losses
            elif stage:
                found[stage] = losses
        else:
            whole += _one(name, value, texts, anchor)
    return {**found, WHOLE: tuple(whole)}


def _several(written: Mapping[str, str], texts: Texts, at: Anchor) -> tuple[Loss, ...]:
    return tuple(loss for name, value, anchor in texts.each(written, at) for loss in _one(name, value, texts, anchor))


def _one(name: str, value: str, texts: Texts, anchor: Anchor) -> list[Loss]:
    known = LOSSES.get(name.lower())
    if known is None:
        fix = did_you_mean(name, LOSSES) or f"losses are: {', '.join(LOSSES)}"
        texts.report("unknown-loss", key_of(anchor), fix=fix, name=name)
    fraction = texts.read(value, anchor, share, "bad-loss")
    if fraction is not None and fraction == 1:
        texts.report(
            "bad-loss", anchor, why=f"a loss of {value.strip()} leaves nothing", fix="write a share below 100 %"
        )
        return []
    return [Loss(name.lower(), fraction, anchor)] if known and fraction is not None else []


def _stage(name: str, stages: Sequence[str], texts: Texts, anchor: Anchor) -> str:
    if name.lower() == WHOLE:
        return WHOLE
    found = next((stage for stage in stages if stage.casefold() == " ".join(name.casefold().split())), "")
    if not found:
        known = [*stages, WHOLE] if any(stages) else [WHOLE]
        fix = did_you_mean(name, known) or f"stages here: {', '.join(known)}"
        texts.report("unknown-stage", key_of(anchor), fix=fix, name=name)
    return found
