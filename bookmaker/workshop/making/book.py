"""The printed book, `book.pdf`."""

from bookmaker.editions.book.edition import arrange
from bookmaker.editions.team import edition as team
from bookmaker.press import pdf
from bookmaker.press.assembly.assembling import Shop
from bookmaker.press.assembly.book import assembled_pdf
from bookmaker.workshop.building import Edition, Job, Made
from bookmaker.workshop.cache.leaf import Leaf
from bookmaker.workshop.cache.packing import digest
from bookmaker.workshop.cache.team import theme_digest
from bookmaker.workshop.console import complain
from bookmaker.workshop.making.team import team_book
from bookmaker.workshop.paper import paper_is_ready
from bookmaker.workshop.pool import spread

FILE = "book.pdf"


def _make(job: Job) -> Made:
    pages = job.once(team_book)
    print_theme = theme_digest(job.themes, "print")
    made = Made([], pages.enter, libraries=pdf.library_files())

    def tell(sentence: str) -> None:
        job.progress.clear()
        complain(sentence)
        made.said.append(sentence)

    def lay_out() -> bytes:
        kept = job.kept
        site = team.project(kept.book, kept.figures, {})
        shop = Shop(spread, job.progress.say, tell, kept.store)
        return assembled_pdf(arrange(site, kept.house), job.themes, pages.photos, shop)

    libraries = "\n".join(pdf.system_libraries())
    made.leaves = [Leaf(FILE, digest(pages.key, print_theme, libraries), lay_out, spreads=True)]
    return made


EDITION = Edition("book", _make, paper_is_ready)
