"""What will stand on the piece and lie in it."""

from pydantic import Field

from specs.fields import Force
from specs.records import Record


class Loads(Record):
    """Forces in N, spread evenly unless it is said otherwise; None where the spec says nothing."""

    top: Force | None = Field(None, description="on the top")
    bottom: Force | None = Field(None, description="on the bottom of an open or doored opening")
    shelf: Force | None = Field(None, description="on each shelf")
    drawer: Force | None = Field(None, description="in each drawer")
    top_point: Force | None = Field(None, description="on one place in the middle of the top")
    shelf_point: Force | None = Field(None, description="on one place in the middle of a shelf")
