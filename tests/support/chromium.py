"""The system's Chromium, as a reader's browser would open a page from a memory stick: `file://`, nothing else.

def test_front_page(chromium: Chromium, tmp_path: Path) -> None:
    with chromium.visit(site / "index.html", width=390) as visit:
        visit.page.get_by_role("link", name="Breads").click()
        assert visit.errors == [] and visit.outside == []
        visit.picture(tmp_path / "front.png")
"""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Error, Page, Request, ViewportSize, sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")

QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--font-render-hinting=none",
]

WIDTHS = (1280, 820, 390)
"""A desk, a tablet on the bench, a telephone: CSS pixels."""

HEIGHTS = {1280: 900, 820: 1180, 390: 844}


@dataclass(slots=True)
class Visit:
    """One page being looked at, and what happened meanwhile."""

    page: Page
    errors: list[str] = field(default_factory=list)
    """What the page's scripts threw or complained of, and what could not be loaded."""
    requests: list[str] = field(default_factory=list)
    """Every address that was asked for, the page's own first."""

    @property
    def outside(self) -> list[str]:
        """Addresses asked for that a page on a memory stick cannot have."""
        return [address for address in self.requests if not address.startswith(("file:", "data:", "blob:", "about:"))]

    @property
    def overflow(self) -> int:
        """By how many CSS pixels the page is wider than its window: 0 where nobody has to scroll sideways."""
        wide: int = self.page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        return wide

    def picture(self, path: Path, *, whole: bool = True) -> Path:
        """A screenshot as PNG, of the whole page or of what the window shows."""
        self.page.screenshot(path=path, full_page=whole)
        return path


@dataclass(frozen=True, slots=True)
class Chromium:
    """A running browser; every visit has a fresh profile."""

    browser: Browser

    @contextmanager
    def visit(
        self,
        file: Path,
        *,
        width: int = 1280,
        anchor: str = "",
        scripts: bool = True,
        paper: bool = False,
        dark: bool = False,
    ) -> Iterator[Visit]:
        """Open a file at a width; without scripts, as print, or in dark colours if asked."""
        context = self.browser.new_context(
            viewport=ViewportSize(width=width, height=HEIGHTS.get(width, 900)),
            java_script_enabled=scripts,
            color_scheme="dark" if dark else "light",
            reduced_motion="reduce",
            locale="en-GB",
            offline=True,
        )
        try:
            page = context.new_page()
            visit = Visit(page)
            page.on("console", lambda message: _heard(visit, message))
            page.on("pageerror", lambda error: _thrown(visit, error))
            page.on("request", lambda request: visit.requests.append(request.url))
            page.on("requestfailed", lambda request: _missed(visit, request))
            if paper:
                page.emulate_media(media="print")
            page.goto(file.resolve().as_uri() + (f"#{anchor}" if anchor else ""), wait_until="load")
            yield visit
        finally:
            context.close()

    def pictures(self, file: Path, folder: Path, widths: tuple[int, ...] = WIDTHS) -> list[Path]:
        """Screenshots of one page at several widths, named `STEM-WIDTH.png`."""
        folder.mkdir(parents=True, exist_ok=True)
        taken = []
        for width in widths:
            with self.visit(file, width=width) as visit:
                taken.append(visit.picture(folder / f"{file.stem}-{width}.png"))
        return taken


@contextmanager
def started() -> Iterator[Chromium]:
    """Run the system's Chromium, headless, until the block ends."""
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    if found is None:
        message = f"Chromium is needed to look at pages; none of {', '.join(NAMES)} is on the path"
        raise FileNotFoundError(message)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=QUIET)
        try:
            yield Chromium(browser)
        finally:
            browser.close()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Chromium]:
    """One browser for all tests of a worker."""
    with started() as running:
        yield running


def _heard(visit: Visit, message: ConsoleMessage) -> None:
    if message.type in {"error", "warning"}:
        visit.errors.append(message.text)


def _thrown(visit: Visit, error: Error) -> None:
    visit.errors.append(str(error))


def _missed(visit: Visit, request: Request) -> None:
    visit.errors.append(f"not loaded: {request.url}")
