"""`watch`: build the book again whenever something of it changes, and let open pages follow."""

import time
from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from pathlib import Path

from bookmaker.workshop.building import Build, Edition
from bookmaker.workshop.clock import NoDate, costing_date
from bookmaker.workshop.console import Progress, complain, say
from bookmaker.workshop.finding import NoBook, find_book
from bookmaker.workshop.memory import without_collecting
from bookmaker.workshop.publishing.publisher import Publisher
from bookmaker.workshop.publishing.refusals import NotPublished
from bookmaker.workshop.shipped import themes_dir
from bookmaker.workshop.watching.folders import Changes, watched
from bookmaker.workshop.watching.loop import Outcome, follow
from bookmaker.workshop.watching.server import served
from bookmaker.workshop.watching.state import Board

PORT = 8126
"""Where the pages are served when nothing else is asked for; where it is taken, any free port."""


def run(named: str | None, out: Path, *, editions: Sequence[Edition], on: str | None, port: int | None) -> int:
    """Build and serve until stopped by Ctrl-C; exit code 0, or 2 for what cannot be watched."""
    try:
        folder = find_book(named, Path())
        costing_date(on)
    except (NoBook, NoDate) as wrong:
        complain(f"bookmaker: {wrong}")
        return 2
    if not all(is_ready() for is_ready in dict.fromkeys(edition.is_ready for edition in editions)):
        return 1
    changes, board = Changes(), Board()
    alone = [edition.name for edition in editions] == ["team"]
    out.mkdir(parents=True, exist_ok=True)
    with ExitStack() as stack:
        try:
            address = _serve(stack, out / "team" if alone else out, board, port)
        except OSError as taken:
            complain(f"bookmaker: port {port} cannot be used ({taken.strerror}); name another with --port")
            return 2
        stack.enter_context(watched(_folders(folder), [out], changes))
        say(f"{address}  follows {folder}; stop with Ctrl-C")
        try:
            follow(lambda: _build(folder, out, editions, on), changes, board, _tell)
        except KeyboardInterrupt:
            say("\nstopped; the last good pages stay published")
    return 0


def _serve(stack: ExitStack, folder: Path, board: Board, port: int | None) -> str:
    """Serve on the port asked for; on any free one where nobody asked and the usual one is taken."""
    if port is None:
        try:
            return stack.enter_context(served(folder, board, PORT))
        except OSError:
            port = 0
    return stack.enter_context(served(folder, board, port))


def _folders(folder: Path) -> Iterable[Path]:
    """What a page is made from: the book, with its own theme inside, and the theme that came along."""
    return (folder, themes_dir())


def _build(folder: Path, out: Path, editions: Sequence[Edition], on: str | None) -> Outcome:
    """One build, as `build` does it. The date is asked for anew: a kitchen may watch past midnight."""
    progress = Progress()
    try:
        with without_collecting(), Publisher(out) as publisher:
            build = Build(folder, costing_date(on), out, fresh=False, progress=progress)
            try:
                report = build.report(colour=False)
                if not build.sound:
                    return Outcome(published=False, report=report)
                for edition in editions:
                    build.publish(edition, publisher)
                return Outcome(published=True, report=report, withheld=build.code != 0)
            finally:
                build.keep()
                progress.clear()
    except NotPublished as stopped:
        return Outcome(published=False, report=f"bookmaker: {stopped}")


def _tell(outcome: Outcome) -> None:
    """A line for each build on the terminal; the problems of one that was refused."""
    at = time.strftime("%H:%M:%S")
    if outcome.withheld:
        complain(outcome.report)
        say(f"{at}  published, but for sheets that are withheld")
    elif outcome.published:
        say(f"{at}  published")
    else:
        complain(outcome.report)
        say(f"{at}  not published; the last good pages stay")
