"""The demo's register, written anew: everything of it as issued on one day, so that the demo shows what is in order.

`python -m tests.workshop.demo_register`, after a change of the demo, of what cards show, or of what labels say.
"""

from bookmaker.cli import main as bookmaker
from bookmaker.reading.walk import ISSUED
from bookmaker.workshop.shipped import demo_book_dir

DAY = "2026-11-25"


def main() -> None:
    """Issue all cards and labels of the demo, as if for the first time."""
    demo = demo_book_dir()
    (demo / ISSUED).unlink(missing_ok=True)
    for what in ("cards", "labels"):
        bookmaker(["issue", what, "--book", str(demo), "--by", "development chef", "--on", DAY])


if __name__ == "__main__":
    main()
