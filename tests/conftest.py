"""Fixtures that tests of several floors share."""

from tests.support.chromium import chromium

__all__ = ["chromium"]
