"""A small server on this machine alone: the published pages, and a line on which they hear of the next build.

Pages are sent as they were published, with one script added on the way out; on disk there is none of it.
"""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

from bookmaker.workshop.watching.state import Board

LOOPBACK = "127.0.0.1"
_SCRIPT = b'<script src="/.watch/follow.js"></script>'
_WAIT = 25.0
"""Seconds that a page's question is kept open before it is answered `nothing new`."""


class _Pages(SimpleHTTPRequestHandler):
    """Files below one folder, and `/.watch/`."""

    protocol_version = "HTTP/1.1"

    def __init__(self, *args: Any, board: Board, **kwargs: Any) -> None:
        self._board = board
        super().__init__(*args, **kwargs)

    def do_GET(self) -> None:
        if not self._is_from_here():
            self.send_error(HTTPStatus.FORBIDDEN, "this server answers its own machine only")
            return
        asked = urlsplit(self.path)
        if asked.path == "/.watch/next":
            self._answer_next(parse_qs(asked.query))
        elif asked.path == "/.watch/follow.js":
            self._answer(files("bookmaker.workshop.watching").joinpath("follow.js").read_bytes(), "text/javascript")
        else:
            self._answer_file(asked.path)

    def _is_from_here(self) -> bool:
        """A page of another site must not read the book through a visitor's browser: the host name must be ours."""
        host = self.headers.get("Host", "").rpartition(":")[0]
        return host in {LOOPBACK, "localhost"}

    def _answer_next(self, query: dict[str, list[str]]) -> None:
        try:
            after = int(query.get("after", ["-1"])[0])
        except ValueError:
            after = -1
        notice = self._board.latest if after < 0 else self._board.wait_after(after, _WAIT)
        number, standing = notice or self._board.latest
        told = {
            "number": number,
            "build": standing.build,
            "problems": standing.problems,
            "whole": standing.whole,
        }
        self._answer(json.dumps(told).encode(), "application/json")

    def _answer_file(self, path: str) -> None:
        place = Path(self.translate_path(path))
        if place.is_dir():
            place = place / "index.html"
        try:
            content = place.read_bytes()
        except OSError:
            self.send_error(HTTPStatus.NOT_FOUND, "no such page in this book")
            return
        kind = self.guess_type(str(place))
        if kind == "text/html":
            content = content.replace(b"</body>", _SCRIPT + b"</body>")
            kind += "; charset=utf-8"
        self._answer(content, kind)

    def _answer(self, content: bytes, kind: str) -> None:
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.wfile.write(content)

    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002  (the name in the standard library)
        """Requests are nobody's news."""


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    allow_reuse_address = True

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A browser that went away is no fault of ours."""


@contextmanager
def served(folder: Path, board: Board, port: int) -> Iterator[str]:
    """While inside, `folder` is served at the address that this gives. Port 0 takes any free one.

    Raises `OSError` when the port is taken.
    """
    server = _Server((LOOPBACK, port), partial(_Pages, directory=str(folder), board=board))
    thread = threading.Thread(target=server.serve_forever, name="pages", daemon=True)
    thread.start()
    try:
        yield f"http://{LOOPBACK}:{server.server_address[1]}/"
    finally:
        board.close()
        server.shutdown()
        server.server_close()
