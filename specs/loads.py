"""What will stand on the piece and lie in it."""

from pydantic import Field

from specs.fields import Force
from specs.records import Record


class Loads(Record):
    """Forces spread evenly (N); None where the spec says nothing."""

    top: Force | None = Field(None, description="on the top")
    bottom: Force | None = Field(None, description="on the bottom of an open or doored opening")
    shelf: Force | None = Field(None, description="on each shelf")
    drawer: Force | None = Field(None, description="in each drawer")
