"""What every file says of its maker and its date, so that the same spec gives the same bytes."""

import os
from datetime import UTC, datetime
from functools import cache
from importlib.metadata import version as installed_version

PROGRAM = "casewright"

FIXED_DATE = datetime(1980, 1, 1, tzinfo=UTC)
"""The date in every file when none is given: the first day that a zip archive can hold."""


@cache
def version() -> str:
    """The version of the program as it is installed."""
    return installed_version(PROGRAM)


def maker() -> str:
    """The program and its version, as files name who wrote them."""
    return f"{PROGRAM} {version()}"


def date() -> datetime:
    """The date to write into files: ``SOURCE_DATE_EPOCH`` (seconds, UTC) or the fixed date.

    Anything but a whole number of seconds up to the year 9999 is taken as not given: a stray
    variable must not stop a build.
    """
    seconds = os.environ.get("SOURCE_DATE_EPOCH", "")
    try:
        return datetime.fromtimestamp(int(seconds), UTC)
    except (ValueError, OverflowError, OSError):
        return FIXED_DATE


def iso_date() -> str:
    """The date as ISO 8601 writes it, to the second: ``1980-01-01T00:00:00``."""
    return date().replace(tzinfo=None).isoformat(timespec="seconds")
