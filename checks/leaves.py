"""The openings of the spec by the ids that setting out gives them."""

from collections.abc import Iterator

from specs.openings import Opening
from specs.spec import Spec


def leaves(spec: Spec) -> dict[str, Opening]:
    """Every opening that is not divided further; an inside that is not divided is opening 1."""
    found = dict(_walk(spec.inside, ""))
    return {key or "1": opening for key, opening in found.items()}


def _walk(opening: Opening, key: str) -> Iterator[tuple[str, Opening]]:
    if opening.into is None:
        yield (key, opening)
        return
    for number, piece in enumerate(opening.into, 1):
        yield from _walk(piece, f"{key}/{number}" if key else str(number))
