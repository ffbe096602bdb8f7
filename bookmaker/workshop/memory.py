"""Memory while a build runs."""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


def keep_all() -> None:
    """Look through nothing that is there now, ever again: for a process that is about to end, and gives all back."""
    gc.freeze()


@contextmanager
def without_collecting() -> Iterator[None]:
    """Run a block without the search for unreachable circles of objects.

    A build makes hundreds of thousands of values that hold each other in no circle and mostly live until it ends.
    Looking through all of them again and again, as Python does when their number grows, takes a quarter of its time.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
