"""`weigh`: a recipe scaled to a target, with every component's batch."""

import json

from bookmaker.editions.record.scaled import scaled_record
from bookmaker.kitchen.scaling import Unscalable, scale
from bookmaker.kitchen.targets import parse_target
from bookmaker.measures.numbers import Unreadable
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.naming import find_recipe
from bookmaker.workshop.opening import Usage, open_sound, say_usage
from bookmaker.workshop.terminal.figures import desk_for
from bookmaker.workshop.terminal.weigh import weigh_text


def run(named: str | None, recipe: str, target: str, *, on: str | None, as_json: bool) -> int:
    """Print the weigh-out; exit code 1 for an unsound book, 2 for a target that cannot be."""
    try:
        opened = open_sound(named, on)
        if opened is None:
            return 1
        ref = find_recipe(opened.book, recipe)
        scaled = scale(opened.book, opened.figures, ref, parse_target(target, opened.book, opened.book.recipe(ref)))
    except Usage as wrong:
        return say_usage(wrong)
    except Unreadable as unread:
        complain(f"bookmaker: --for {target!r}: {unread.why}" + (f"; {unread.hint}" if unread.hint else ""))
        return 2
    except Unscalable as stuck:
        complain(f"bookmaker: {stuck}")
        return 2
    if as_json:
        say(json.dumps(scaled_record(opened.book, scaled), ensure_ascii=False, indent=1))
        return 0
    say(weigh_text(desk_for(opened.book), scaled, target))
    return 0
