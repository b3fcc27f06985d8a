"""How a step is said: names with their numbers, ways in plain words."""

from collections import Counter
from collections.abc import Iterable

from ground.order import natural
from ground.vectors import Vec
from models.parts.assembly import Assembly
from planning.steps.merging import bare

MAIN = 0.35
"""A part of a way smaller than this is not worth a word (cosine)."""

WORDS: tuple[tuple[str, str], ...] = (
    ("to the left", "to the right"),
    ("to the front", "to the back"),
    ("down", "up"),
)


def way_words(way: Vec) -> str:
    """Which way, seen from the front of the piece: ``down``, ``to the left``."""
    said = [
        words[1] if part > 0 else words[0]
        for part, words in sorted(
            zip(way, WORDS, strict=True), key=lambda pair: -abs(round(pair[0], 6))
        )
        if abs(part) >= MAIN
    ]
    return " and ".join(said)


def plural(name: str) -> str:
    """``shelf`` to ``shelves``, ``box`` to ``boxes``, ``leg`` to ``legs``."""
    if name.endswith("shelf"):
        return f"{name[:-1]}ves"
    if name.endswith(("x", "s", "ch", "sh")):
        return f"{name}es"
    return f"{name}s"


def listed(words: Iterable[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    *first, last = words
    return f"{', '.join(first)} and {last}" if first else last


def counted(assembly: Assembly, copies: Iterable[str]) -> str:
    """What is handled, with numbers and labels: ``2 × B1 leg left and 2 × B2 leg right``."""
    labels = Counter(copy.rsplit(".", 1)[0] for copy in copies)
    return listed(
        f"{f'{number} × ' if number > 1 else ''}{label} {assembly.part(label).name}"
        for label, number in sorted(labels.items(), key=lambda item: natural(item[0]))
    )


def called(assembly: Assembly, copies: Iterable[str]) -> str:
    """What is handled, by name alone: ``legs``, ``top and sides``."""
    names = Counter(
        bare(assembly.part(copy.rsplit(".", 1)[0]).name).split(", ")[-1]
        for copy in sorted(copies, key=natural)
    )
    return listed(plural(name) if number > 1 else name for name, number in names.items())
