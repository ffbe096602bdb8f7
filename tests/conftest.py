"""Fixtures that tests of several floors share, and how Hypothesis behaves here."""

from hypothesis import settings

from tests.support.chromium import chromium

__all__ = ["chromium"]

# A busy machine is no fault; in continuous integration Hypothesis' own profile makes the examples the same each time
settings.register_profile("house", settings.default, deadline=None, print_blob=True)
settings.load_profile("house")
