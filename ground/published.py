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


@cache
def densities(table: str, key: str) -> dict[str, Density]:
    """Read ``ground/data/TABLE.csv``: densities by the plain form of every name in a row."""
    text = files("ground").joinpath("data", f"{table}.csv").read_text(encoding="utf-8")
    found: dict[str, Density] = {}
    for row in csv.DictReader(text.splitlines()):
        density = Density(kg_m3=float(row["density_kg_m3"]), source=row["source"])
        for name in (row[key], *row["also"].split(";")):
            if name.strip():
                found[plain(name)] = density
    return found


def plain(name: str) -> str:
    """Fold what people write differently: case, hyphens, spaces."""
    return " ".join(name.replace("-", " ").casefold().split())
