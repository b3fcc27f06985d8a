"""What the piece is for and the way into its room; both only checked, never set out."""

from collections.abc import Iterator
from enum import StrEnum

from pydantic import Field

from specs.fields import Count, Flag, Length, Mass, Text
from specs.names import Names
from specs.records import Fault, Record


class Things(StrEnum):
    """What a piece holds."""

    BOOKS = "books"
    SHEETS = "sheets"
    BOTTLES = "bottles"
    THINGS = "things"


class Held(Record):
    """Things that one opening, or any of the piece, must take."""

    what: Things = Field(description="books, sheets, bottles, or things of a size")
    height: Length | None = Field(None, description="height, standing")
    width: Length | None = Field(None, description="along the piece's length; of one of them")
    depth: Length | None = Field(None, description="from front to back")
    count: Count | None = Field(None, description="how many")
    mass: Mass | None = Field(None, description="mass of one of them")
    opening: Text | None = Field(None, description="the opening that takes them, such as 1 or 2/1")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Something must be known of their size."""
        if self.height is None and self.width is None and self.depth is None:
            yield (), "needs a size: write height, width or depth"
        if self.what is Things.SHEETS and (self.width is None or self.depth is None):
            yield (), "sheets lie flat: write width and depth"


class Way(Record):
    """The narrowest places between the workshop and the room."""

    door_width: Length | None = Field(None, description="clear width of the narrowest doorway")
    door_height: Length | None = Field(None, description="clear height of the lowest doorway")
    stair_width: Length | None = Field(None, description="clear width of the stair")
    stair_height: Length | None = Field(None, description="clear height over the stair's slope")
    turn_width: Length | None = Field(None, description="clear width past the stair's square turn")
    lift_width: Length | None = Field(None, description="clear width of the lift")
    lift_depth: Length | None = Field(None, description="clear depth of the lift")
    lift_height: Length | None = Field(None, description="clear height of the lift")
    base_off: Flag = Field(default=False, description="the base may come off for carrying")

    def faults(self, names: Names) -> Iterator[Fault]:  # noqa: ARG002
        """Sizes of an opening come together."""
        door = (self.door_width, self.door_height)
        lift = (self.lift_width, self.lift_depth, self.lift_height)
        for what, sizes in (("door", door), ("lift", lift)):
            said = [size is not None for size in sizes]
            if any(said) and not all(said):
                yield (), f"needs every size of the {what}, or none"
        past = (("stair_height", self.stair_height), ("turn_width", self.turn_width))
        for key, size in past:
            if size is not None and self.stair_width is None:
                yield (key,), "says nothing without the stair's width; write stair_width too"
