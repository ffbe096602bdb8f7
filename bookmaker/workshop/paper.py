"""Whether pages can be laid out on this machine, asked before any work is done."""

from bookmaker.press import pdf
from bookmaker.workshop.console import complain


def paper_is_ready() -> bool:
    """Whether pages can be laid out here. Complains where they cannot, or only slowly."""
    try:
        pdf.insist()
    except pdf.NoPdfLibrary as missing:
        complain(f"bookmaker: {missing}")
        return False
    if not pdf.subsets_fonts_fast():
        complain(
            "bookmaker: libharfbuzz-subset is not installed: fonts are cut down the slow way, PDF pages take two to\n"
            "three times as long (on Debian: apt-get install libharfbuzz-subset0)"
        )
    return True
