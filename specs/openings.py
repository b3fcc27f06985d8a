"""The inside of the case: openings divided upright or level, and what each holds."""

from collections.abc import Iterator
from enum import StrEnum

from pydantic import Field

from specs.dividers import Dividers
from specs.doors import Doors
from specs.drawers import Drawers
from specs.fields import Flag, Size
from specs.names import Names
from specs.records import Fault, Record
from specs.shelves import Shelves


class Split(StrEnum):
    """How an opening is divided."""

    UPRIGHT = "upright"
    """By upright dividers, into pieces from left to right."""
    LEVEL = "level"
    """By level dividers, into pieces from the top down."""


_CONTENTS = ("split", "drawers", "doors", "open")


class Opening(Record):
    """One opening: divided further, or filled, or left open."""

    size: Size | None = Field(None, description="its width or height, or a share of what is left")
    split: Split | None = Field(None, description="divided by upright or by level dividers")
    dividers: Dividers | None = Field(
        None, description="what divides it; else the same as the opening around it"
    )
    into: tuple["Opening", ...] | None = Field(
        None, description="its pieces, left to right or top down", min_length=2, max_length=40
    )
    drawers: Drawers | None = Field(None, description="a stack of drawers")
    doors: Doors | None = Field(None, description="one door or a pair")
    shelves: Shelves | None = Field(None, description="shelves, behind doors or open")
    open: Flag = Field(default=False, description="nothing in front of it")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """An opening is divided or holds one thing; its pieces have sizes, one of them a share."""
        said = [
            name
            for name, given in zip(
                _CONTENTS,
                (
                    self.split is not None,
                    self.drawers is not None,
                    self.doors is not None,
                    self.open,
                ),
                strict=True,
            )
            if given
        ]
        if len(said) > 1:
            yield (said[1],), f"is one thing too many: this opening has '{said[0]}'; write one"
        if self.shelves is not None and said and said[0] not in ("doors", "open"):
            yield ("shelves",), f"do not go into an opening with '{said[0]}'"
        yield from self._split_faults()

    def _split_faults(self) -> Iterator[Fault]:
        if self.split is not None and self.into is None:
            yield (), "the key 'into' is missing: a divided opening lists its pieces"
        if self.split is None and self.into is not None:
            yield (), "the key 'split' is missing: write split: upright or split: level"
        if self.split is None and self.dividers is not None:
            yield ("dividers",), "divide nothing; write split: upright or split: level as well"
        yield from self._size_faults()

    def _size_faults(self) -> Iterator[Fault]:
        sizes = [piece.size for piece in self.pieces]
        for number, size in enumerate(sizes):
            if size is None:
                message = "the key 'size' is missing: write size: 520 or size: 1 share"
                yield ("into", number), message
        if sizes and all(isinstance(size, float | int) for size in sizes):
            message = "no size is a share, so nothing takes up what is left; write size: 1 share"
            yield ("into",), message

    @property
    def pieces(self) -> tuple["Opening", ...]:
        """Its pieces; none where it is not divided."""
        return self.into or ()
