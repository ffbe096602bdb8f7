"""Progress: quiet in a pipe; on a terminal a line that says how far it is and how long it will still take."""

import io

from bookmaker.workshop.console import Progress


class Terminal(io.StringIO):
    """A stream that people look at."""

    def isatty(self) -> bool:
        return True


class Clock:
    """A clock that stands still until it is told."""

    now = 0.0

    def __call__(self) -> float:
        return self.now


def test_it_is_quiet_in_a_pipe() -> None:
    stream = io.StringIO()
    progress = Progress(stream)
    progress.say("reading")
    progress.clear()
    assert stream.getvalue() == ""


def test_it_says_how_far_it_is_and_how_long_it_will_take() -> None:
    stream, clock = Terminal(), Clock()
    progress = Progress(stream, clock)
    progress.say("page", 1, 200)
    assert stream.getvalue() == "\rpage 1 of 200"
    clock.now = 4.0
    progress.say("page", 20, 200)
    assert stream.getvalue().endswith("\rpage 20 of 200, 36 s left")
    clock.now = 400.0
    progress.say("page", 100, 200)
    assert stream.getvalue().endswith("\rpage 100 of 200, 7 min left")


def test_it_does_not_flicker() -> None:
    stream, clock = Terminal(), Clock()
    progress = Progress(stream, clock)
    for number in range(1, 100):
        clock.now += 0.001
        progress.say("page", number, 100)
    assert stream.getvalue() == "\rpage 1 of 100"
    progress.say("page", 100, 100)
    assert stream.getvalue().endswith("\rpage 100 of 100")


def test_another_thing_begins_its_own_count() -> None:
    stream, clock = Terminal(), Clock()
    progress = Progress(stream, clock)
    progress.say("reading", 1, 2)
    clock.now = 60.0
    progress.say("page", 5, 10)
    assert stream.getvalue().rstrip().endswith("\rpage 5 of 10")


def test_it_leaves_nothing_behind() -> None:
    stream = Terminal()
    progress = Progress(stream)
    progress.say("reading")
    progress.say("arranging")
    progress.clear()
    assert stream.getvalue() == "\rreading\rarranging\r" + " " * len("arranging") + "\r"
