"""Published tables that ship with the program: read once, each value with its source beside it."""

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True, kw_only=True)
class Density:
    """Mass by volume in kg/m3, and where the number comes from."""

    kg_m3: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Sourced:
    """One published number, and where it comes from."""

    value: float
    source: str

    @property
    def remembered(self) -> bool:
        """Whether nobody had the page open: used all the same, with its mark printed."""
        return "from memory" in self.source


@cache
def rows(table: str) -> tuple[dict[str, str], ...]:
    """Read ``ground/data/TABLE.csv``."""
    text = files("ground").joinpath("data", f"{table}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(text.splitlines()))


@cache
def by_name(table: str, key: str) -> dict[str, dict[str, str]]:
    """Read a table by the plain form of every name in a row."""
    return {
        plain(name): row
        for row in rows(table)
        for name in (row[key], *row["also"].split(";"))
        if name.strip()
    }


@cache
def densities(table: str, key: str) -> dict[str, Density]:
    """Read ``ground/data/TABLE.csv``: densities by the plain form of every name in a row."""
    return {
        name: Density(kg_m3=float(row["density_kg_m3"]), source=row["source"])
        for name, row in by_name(table, key).items()
    }


def plain(name: str) -> str:
    """Fold what people write differently: case, hyphens, spaces."""
    return " ".join(name.replace("-", " ").casefold().split())
