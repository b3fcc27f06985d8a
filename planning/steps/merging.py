"""Closings told together where a maker does the same thing several times over."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from models.parts.directions import Parts
from planning.steps.parting import Closing

HANDS = (" left", " right")
"""The hand at the end of a part's name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Closings that are one step: the same thing for each of several, or hand after hand."""

    closings: tuple[Closing, ...]

    @property
    def group(self) -> str | None:
        """The name of what closes together."""
        return self.closings[0].group

    @property
    def moved(self) -> Parts:
        """Every copy that moves."""
        return frozenset().union(*(block for one in self.closings for block, _ in one.blocks))

    @property
    def standing(self) -> Parts:
        """Every copy that stands and does not move."""
        return frozenset().union(*(one.standing for one in self.closings)) - self.moved

    @property
    def parts(self) -> Parts:
        """Everything that is together afterwards."""
        return self.moved | self.standing

    @property
    def sets(self) -> int:
        """How many separate things are made alike."""
        kept: list[Parts] = []
        for one in self.closings:
            if not any(one.parts & other for other in kept):
                kept.append(one.parts)
        return len(kept)


def bare(name: str) -> str:
    """A part's name without its hand."""
    for hand in HANDS:
        name = name.removesuffix(hand)
    return name


def merged(closings: Iterable[Closing], names: Mapping[str, str]) -> tuple[Told, ...]:
    """Closings with the same moving names, put together where none between is touched by it."""
    told: list[Told] = []
    for closing in closings:
        place = home(told, closing, names)
        if place is None:
            told.append(Told(closings=(closing,)))
        else:
            told[place] = Told(closings=(*told[place].closings, closing))
    return tuple(told)


def home(told: list[Told], closing: Closing, names: Mapping[str, str]) -> int | None:
    """The place of the told step that ``closing`` belongs to."""
    moved = frozenset().union(*(block for block, _ in closing.blocks))
    for place in reversed(range(len(told))):
        one = told[place]
        same = one.group == closing.group and sign(one.closings[0], names) == sign(closing, names)
        apart = not one.parts & closing.parts
        if same and not one.moved & moved and (closing.group is None or apart):
            return place
        if one.parts & closing.parts:
            return None
    return None


def sign(closing: Closing, names: Mapping[str, str]) -> frozenset[str]:
    """What moves in a closing, by bare names."""
    return frozenset(bare(names[copy]) for block, _ in closing.blocks for copy in block)
