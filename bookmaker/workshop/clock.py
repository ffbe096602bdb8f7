"""The date is an input: from the command line, from SOURCE_DATE_EPOCH, or today."""

import os
from datetime import UTC, date, datetime


class NoDate(ValueError):
    """A date that cannot be read, in words for the person who gave it."""


def costing_date(given: str | None) -> date:
    """The date that prices are taken on. Raises `NoDate` for anything but an ISO date."""
    if given is not None:
        try:
            return date.fromisoformat(given)
        except ValueError:
            raise NoDate(f"'{given}' is no date; write it as 2026-11-30") from None
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    if epoch is not None:
        try:
            return datetime.fromtimestamp(int(epoch), UTC).date()
        except (ValueError, OverflowError, OSError):
            raise NoDate(f"SOURCE_DATE_EPOCH is '{epoch}', which is no number of seconds") from None
    return date.today()
