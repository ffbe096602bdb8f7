"""Interface words in the house's language, through gettext.

The words in code and templates are English. A translation is a catalogue `locale/LANGUAGE/LC_MESSAGES/bookmaker.mo`
beside this module; without one the English stands.
"""

import gettext
from functools import cache
from pathlib import Path

DOMAIN = "bookmaker"
CATALOGUES = Path(__file__).parent / "locale"


@cache
def translations(language: str) -> gettext.NullTranslations:
    """The catalogue of a BCP 47 language (`de-AT` falls back to `de`), or the English words themselves."""
    tried = [language.replace("-", "_"), language.split("-", maxsplit=1)[0]]
    return gettext.translation(DOMAIN, CATALOGUES, languages=tried, fallback=True)
