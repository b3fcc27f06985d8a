"""The four sizes a part goes through at the bench: rough, milled, cut and finished."""

from dataclasses import dataclass

from ground.vectors import Vec, add
from models.parts.part import Part, PartKind
from specs.materials import Lumber, Sheet
from specs.shop import Shop

ROUGH_SHEET = 10.0
"""Left on length and width of a sheet that is edged before its final cut (mm).
Common practice, no source."""

ENDS = ({"left", "right"}, {"front", "back"})
"""The edges that end the length and the width; where both are edged, nothing can be left on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutSizes:
    """Length, width and thickness of a part (mm) as it gets smaller.

    ``rough`` is one piece out of the board or sheet (one layer of one stave), ``milled`` the blank
    with what is left on for trimming or fitting, ``cut`` the squared blank, ``finished`` the box
    of the part after every cut; None where the part could not be made.
    """

    rough: Vec
    milled: Vec
    cut: Vec
    finished: Vec | None


def cut_sizes(
    part: Part, material: Lumber | Sheet | None, shop: Shop, finished: Vec | None
) -> CutSizes:
    """Work out the sizes of ``part`` on its way from ``material``."""
    cut = part.blank.size
    milled = add(cut, part.over)
    return CutSizes(
        rough=rough(part, milled, material, shop),
        milled=milled,
        cut=cut,
        finished=finished,
    )


def rough(part: Part, milled: Vec, material: Lumber | Sheet | None, shop: Shop) -> Vec:
    """The size of one piece as it leaves the board or the sheet."""
    length, width, thickness = milled
    width /= part.blank.staves
    thickness /= part.blank.layers
    if isinstance(material, Lumber):
        cut = part.blank
        left = shop.milling
        return (
            max(cut.length + left.length, length),
            max(cut.width / cut.staves + left.width, width),
            max(cut.thickness / cut.layers + left.thickness, thickness),
        )
    if part.kind is PartKind.SHEET and part.banded:
        left_on = [0.0 if ends <= set(part.banded) else ROUGH_SHEET for ends in ENDS]
        return (
            max(part.blank.length + left_on[0], length),
            max(part.blank.width + left_on[1], width),
            thickness,
        )
    return (length, width, thickness)
