"""Work spread over processes where there is enough of it.

Each process is handed a few items at a time over a pipe of its own, and hands back what it made of them. What comes out
does not depend on how processes are started. A copy of this one (`fork`) has all that this one has; another one is told
the function by its name, and what it needs for it is pickled. Where that cannot be done the work is done here.
"""

import gc
import os
import pickle
import signal
import threading
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Generic, TypeVar

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

Setup = TypeVar("Setup")
Item = TypeVar("Item")
Made = TypeVar("Made")

Prepare = Callable[[Setup], Callable[[Item], Made]]
"""What a process does first: from what all items need, the work on one item. A function of a module, so that it can be
named to another process."""

_SHARES = 8
"""Into how many portions a process's share of the items is cut, so that none is long idle at the end."""

_MOST = 32
"""The largest portion: what is made travels back while the next portion is under way elsewhere."""


_LOADING = 5
"""How many times as much work is worth other processes that do not begin as copies of this one: they take half a second
to load what this one has loaded already, a copy some hundredths."""


class ProcessLost(RuntimeError):
    """A process ended before its work was done: it was killed, or there was no memory left."""


class FailedElsewhere(RuntimeError):
    """A bug of ours that showed in another process and could not be brought over as it was; holds its traceback."""


def processes() -> int:
    """How many processes are worth having: one for each processor that we may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def spread(
    prepare: Prepare[Setup, Item, Made],
    setup: Setup,
    items: Sequence[Item],
    *,
    worth: int,
    workers: int | None = None,
    method: str | None = None,
) -> Iterator[Made]:
    """What `prepare(setup)` makes of each item, in the order of the items, as soon as it is there.

    With fewer than `worth` items (where processes must load everything anew, five times as many), or one worker, all
    is done in this process. `workers` is the number of processors
    where nothing is said, `method` (`fork`, `spawn`, `forkserver`) whatever is safe and quick here. An exception comes
    out of here as it went in, with the other process's traceback as a note. However this ends, by an exception, by an
    interrupt or because nobody wants the rest, no process is left behind. Raises `ProcessLost`, `FailedElsewhere`.
    """
    count = min(processes() if workers is None else workers, len(items))
    how = (method or _method()) if count > 1 and len(items) >= worth else ""
    if not how or (how != "fork" and (len(items) < worth * _LOADING or not _travels(prepare, setup))):
        yield from map(prepare(setup), items)
        return
    with closing(_Pool(prepare, setup, count, how)) as pool:
        yield from pool.work(items)


def spread_calls(calls: Sequence[Callable[[], Made]], *, worth: int) -> Iterator[Made]:
    """What each of the calls comes to, in their order. Copies of this process have the calls as they are; where other
    processes do not begin as copies, calls that cannot be handed to them are all made here.
    """
    return spread(_caller, calls, range(len(calls)), worth=worth)


def _caller(calls: Sequence[Callable[[], Made]]) -> Callable[[int], Made]:
    return lambda number: calls[number]()


def _method() -> str:
    """As the platform has it, except that a process with several threads must not be forked.

    Nothing in a process of our own: it begins none, as the others work already.
    """
    from multiprocessing import current_process, get_start_method

    if current_process().daemon:
        return ""
    usual = get_start_method()
    return "spawn" if usual == "fork" and threading.active_count() > 1 else usual


def _travels(prepare: object, setup: object) -> bool:
    """Whether another process can be told of it."""
    try:
        pickle.dumps((prepare, setup), pickle.HIGHEST_PROTOCOL)
    except (pickle.PicklingError, TypeError, AttributeError):
        return False
    return True


@dataclass(slots=True)
class _Worker:
    """One process and our end of the pipe to it; `portion` is the number of the portion that it works on."""

    process: "BaseProcess"
    pipe: "Connection"
    portion: int = -1


@dataclass(slots=True)
class _Pool(Generic[Setup, Item, Made]):
    prepare: Prepare[Setup, Item, Made]
    setup: Setup
    count: int
    method: str
    workers: list[_Worker] = field(default_factory=list)

    def work(self, items: Sequence[Item]) -> Iterator[Made]:
        size = max(1, min(_MOST, len(items) // (self.count * _SHARES)))
        portions = [items[at : at + size] for at in range(0, len(items), size)]
        todo = iter(enumerate(portions))
        self._start()
        for worker in self.workers:
            self._hand(worker, next(todo, None))
        done: dict[int, list[Made]] = {}
        for turn in range(len(portions)):
            while turn not in done:
                for worker in self._answering():
                    done[worker.portion] = _received(worker)
                    self._hand(worker, next(todo, None))
            yield from done.pop(turn)

    def _start(self) -> None:
        from multiprocessing import get_context

        context: Any = get_context(self.method)
        for _ in range(self.count):
            ours, theirs = context.Pipe()
            process = context.Process(target=_serve, args=(theirs, ours, self.prepare, self.setup), daemon=True)
            self.workers.append(_Worker(process, ours))
            process.start()
            theirs.close()

    def _hand(self, worker: _Worker, portion: tuple[int, Sequence[Item]] | None) -> None:
        """Give a worker its next portion; without one it rests until the end."""
        worker.portion = -1
        if portion is None:
            return
        worker.portion, items = portion
        try:
            worker.pipe.send(items)
        except OSError:
            raise _lost(worker) from None

    def _answering(self) -> list[_Worker]:
        """The workers that have something to say, or will never say anything again."""
        from multiprocessing.connection import wait

        busy: dict[Any, _Worker] = {worker.pipe: worker for worker in self.workers if worker.portion >= 0}
        return [busy[each] for each in wait(busy)]

    def close(self) -> None:
        """End all processes at once, whatever they are doing."""
        for worker in self.workers:
            if worker.process.pid is not None:
                worker.process.terminate()
            worker.pipe.close()
        for worker in self.workers:
            if worker.process.pid is not None:
                worker.process.join()
                worker.process.close()


def _received(worker: _Worker) -> list[Any]:
    try:
        answer = worker.pipe.recv_bytes()
    except (EOFError, OSError):
        raise _lost(worker) from None
    made, error, trace = pickle.loads(answer)  # noqa: S301 (from a process of our own)
    if error is not None:
        error.add_note(trace)
        raise error
    if trace:
        raise FailedElsewhere(trace)
    return list(made)


def _lost(worker: _Worker) -> ProcessLost:
    worker.process.join(1)
    return ProcessLost(f"a process ended before its work was done (exit code {worker.process.exitcode})")


# --- in the other process -------------------------------------------------------------------------------------------


def _serve(
    pipe: "Connection", far_end: "Connection", prepare: Callable[[Any], Callable[[Any], Any]], setup: Any
) -> None:
    """Work on portions until the other end of the pipe is closed, or gone with its process."""
    # an interrupt is for the main process, which ends us
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # our copy of the other end would keep the pipe open for ever
    far_end.close()
    gc.disable()
    work: Callable[[Any], Any] | None = None
    while True:
        try:
            items = pipe.recv()
        except (EOFError, OSError):
            return
        try:
            if work is None:
                work = prepare(setup)
            answer = _packed([work(item) for item in items], None, "")
        except Exception as error:  # noqa: BLE001 (whatever it is, it is raised in the main process)
            answer = _packed(None, _portable(error), traceback.format_exc())
        try:
            pipe.send_bytes(answer)
        except OSError:
            return


def _packed(made: list[Any] | None, error: Exception | None, trace: str) -> bytes:
    return pickle.dumps((made, error, trace), pickle.HIGHEST_PROTOCOL)


def _portable(error: Exception) -> Exception | None:
    """The exception if it can travel between processes; else its traceback must do."""
    try:
        copy = pickle.loads(pickle.dumps(error))  # noqa: S301 (our own)
    except Exception:  # noqa: BLE001 (an exception's own ways of being pickled may raise anything)
        return None
    return copy if isinstance(copy, type(error)) else None
