"""How long a thing keeps: `STATE: DURATION [words] at TEMPERATURE[, from STATE within DURATION][, use by]`."""

import re
from collections.abc import Mapping
from decimal import Decimal
from functools import partial

from bookmaker.measures.durations import minutes
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.temperatures import parse_temperature
from bookmaker.model.keeping import Keeping
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.bounds import KEPT, check_minutes, check_reading
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import Texts, parts
from bookmaker.reading.tree import key_of

STATES = ("raw", "made", "baked", "frozen", "thawed", "opened")

_LONGEST = Decimal(10 * 365 * 1440)
"""Minutes beyond which a life is a slip of the pen: ten years (common practice, no source)."""
_FROM = re.compile(r"from\s+(?P<state>[^\W\d_]+)(?:\s+within\s+(?P<within>.+))?", re.IGNORECASE)
_DATES = {"use by": "use by", "use-by": "use by", "best before": "best before", "best-before": "best before"}
_EXAMPLE = "write it as 3 days at 4 °C, or 2 months at -18 °C, from baked within 12 h"


def read_keeps(written: Mapping[str, str] | None, texts: Texts, at: Anchor) -> tuple[Keeping, ...]:
    """Every line of `keeps` that can be read, in order."""
    found = []
    for state, text, anchor in texts.each(written, at):
        known = state.strip().lower()
        if known not in STATES:
            fix = did_you_mean(state, STATES) or f"states are: {', '.join(STATES)}"
            texts.report("unknown-state", key_of(anchor), fix=fix, state=state)
            continue
        line = texts.read(text, anchor, partial(read_keeping, known, anchor), "bad-keeping")
        if line:
            found.append(line)
    return tuple(found)


def read_keeping(state: str, anchor: Anchor, text: str) -> Keeping:
    """One line of `keeps`. Raises `Unreadable`."""
    first, *others = list(parts(text, ",")) or [("", 0, len(text))]
    lasts, words, temperature_text = _first(*first)
    start = text.index(temperature_text)
    try:
        temperature = parse_temperature(temperature_text) if temperature_text else None
    except Unreadable as refused:
        raise Unreadable(
            refused.why, start=start, end=start + len(temperature_text), hint=_degrees(temperature_text)
        ) from None
    check_reading(temperature_text, KEPT, offset=start)
    from_state, within, date_word = "", None, ""
    for part, start, end in others:
        if part.lower() in _DATES:
            date_word = _DATES[part.lower()]
        elif source := _FROM.fullmatch(part):
            from_state, within = _source(source, start)
        else:
            raise Unreadable(f"'{part}' says nothing about keeping", start=start, end=end, hint=_EXAMPLE)
    return Keeping(state, lasts, temperature, words, from_state, within, date_word, anchor)


def _degrees(text: str) -> str:
    return f"did you mean {text} °C?" if re.fullmatch(r"[-−]?[\d.]+\s*°?", text) else "write it as at 4 °C"


def _first(part: str, start: int, end: int) -> tuple[Decimal, str, str]:
    """Duration, words and temperature of `10 days dry at 18 °C`."""
    said, at, temperature = part.rpartition(" at ")
    if not at:
        said, temperature = part, ""
    pieces = said.split()
    for length in range(len(pieces), 0, -1):
        try:
            lasts = minutes(" ".join(pieces[:length]))
        except Unreadable:
            continue
        if lasts == 0:
            break
        check_minutes(" ".join(pieces[:length]), lasts, _LONGEST, "anything of a kitchen keeps")
        return lasts, " ".join(pieces[length:]), temperature.strip()
    raise Unreadable(f"'{part}' does not begin with how long it keeps", start=start, end=end, hint=_EXAMPLE)


def _source(found: re.Match[str], offset: int) -> tuple[str, Decimal | None]:
    state = found["state"].lower()
    if state not in STATES:
        raise Unreadable(
            f"'{found['state']}' is no state that things keep in",
            start=offset + found.start("state"),
            end=offset + found.end("state"),
            hint=did_you_mean(state, STATES) or f"states are: {', '.join(STATES)}",
        )
    if found["within"] is None:
        return state, None
    try:
        return state, minutes(found["within"])
    except Unreadable as refused:
        start, end = offset + found.start("within"), offset + found.end("within")
        raise Unreadable(refused.why, start=start, end=end, hint=refused.hint) from None
