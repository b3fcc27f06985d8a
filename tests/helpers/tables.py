"""Published values to test against, as CSV under tests/data."""

import csv

from tests.helpers.repository import ROOT


def table(name: str) -> list[dict[str, str]]:
    """The rows of tests/data/NAME.csv."""
    with (ROOT / "tests" / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
