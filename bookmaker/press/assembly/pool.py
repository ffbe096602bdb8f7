"""Many pieces laid out, on several processes where that pays."""

import gc
import signal
from collections.abc import Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context

from bookmaker.press.assembly.fragment import Fragment
from bookmaker.press.assembly.setter import Setter
from bookmaker.press.assembly.sheet import Sheet

WORTH_A_POOL = 6
"""Pieces. To start a process and load the page engine takes as long as to lay out about three of them."""

_setters: list[Setter] = []
"""A process's own setter."""


def set_pieces(documents: Mapping[str, str], sheet: Sheet, processes: int) -> Iterator[tuple[str, Fragment]]:
    """Lay out documents by name, in any order. Raises `Unfit`.

    Interrupted, it waits for the pieces under way (a second or so) and leaves no process behind.
    """
    if processes < 2 or len(documents) < WORTH_A_POOL:
        setter = Setter(sheet)
        for name, html in documents.items():
            yield name, setter.set(html)
        return
    pool = ProcessPoolExecutor(processes, get_context("spawn"), _begin, (sheet,))
    try:
        # The longest first, so that none is left over at the end with the other processes idle
        order = sorted(documents, key=lambda name: -len(documents[name]))
        for done in as_completed([pool.submit(_set, name, documents[name]) for name in order]):
            name, data = done.result()
            fragment = Fragment.from_bytes(data)
            assert fragment, "a piece came back damaged from its process"
            yield name, fragment
    finally:
        pool.shutdown(cancel_futures=True)


def _begin(sheet: Sheet) -> None:
    # An interrupt is the main process's business
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _setters.append(Setter(sheet))
    gc.collect()
    gc.freeze()


def _set(name: str, html: str) -> tuple[str, bytes]:
    return name, _setters[0].set(html).to_bytes()
