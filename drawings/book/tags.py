"""Labels on the pictures of the steps: what moves, and what it is brought to."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from drawings.book.eyes import SMALL, Shown, corners, flat
from ground.order import natural
from ground.vectors import ORIGIN, Vec, add, scale, sub
from models.parts.assembly import Assembly
from models.parts.scenes import Scene
from models.parts.views import Point

EACH = 8
"""Up to so many copies each have a label of their own; of more, one of every part has."""
ALONG = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Where along a part its label may stand, the best place first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """A label and the places where it may stand, best first; ``marked`` on what moves.

    ``half`` is how far what it names reaches to either side and up and down of the first place: a
    label larger than that stands beside it.
    """

    text: str
    places: tuple[Point, ...]
    half: Point
    marked: bool


def tags(shown: Shown, found: Scene, assembly: Assembly) -> tuple[Tag, ...]:
    """The labels of one picture; pins and fittings are named only where nothing else moves."""
    labels = {copy.id: copy.label for copy in assembly.copies}
    kinds = {part.label: part.kind for part in assembly.parts}
    moving = [name for name, way in shown.moves if way is not None]
    large = [name for name in moving if kinds[labels[name]] not in SMALL]
    still = [
        name
        for name in shown.joined
        if name not in moving and kinds[labels[name]] not in SMALL
    ]  # fmt: skip
    return tuple(
        tag(name, found, assembly, labels[name], marked=marked)
        for names, marked in ((large or moving, True), (still, False))
        for name in chosen(names, labels)
    )


def tag(name: str, found: Scene, assembly: Assembly, text: str, *, marked: bool) -> Tag:
    """The label of one copy where it is shown."""
    box = corners(assembly, name, dict(found.away).get(name, ORIGIN))
    points = [flat(point, found.right, found.up) for point in box]
    us, vs = [u for u, _ in points], [v for _, v in points]
    return Tag(
        text=text,
        places=places(box, found),
        half=((max(us) - min(us)) / 2, (max(vs) - min(vs)) / 2),
        marked=marked,
    )


def chosen(names: Iterable[str], labels: Mapping[str, str]) -> list[str]:
    """Every copy where they are few, else one of each part."""
    found = sorted(names, key=natural)
    if len(found) <= EACH:
        return found
    return list({labels[name]: name for name in reversed(found)}.values())[::-1]


def places(box: Sequence[Vec], found: Scene) -> tuple[Point, ...]:
    """Along the middle of a part's longest side, as it is seen."""
    start, far = box[0], (box[4], box[2], box[1])
    sides = [sub(point, start) for point in far]
    longest = max(sides, key=lambda side: sum(part * part for part in side))
    others = [side for side in sides if side is not longest]
    middle = add(start, scale(add(others[0], others[1]), 0.5))
    return tuple(flat(add(middle, scale(longest, share)), found.right, found.up) for share in ALONG)
