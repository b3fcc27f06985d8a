"""A part while it is being set out: where it stands, and what is cut from it so far."""

from dataclasses import dataclass, field

from ground.vectors import Frame, Vec, add, cross, dot, scale
from models.parts.blank import Blank, Grain, Section
from models.parts.features import Feature
from models.parts.part import PartKind, Stage


@dataclass(slots=True, kw_only=True)
class Draft:
    """One placed part in the making. ``key`` is unique in the piece: ``"case/side left"``.

    ``letter`` begins its label. ``name`` is what parts alike share ("drawer side"); a left and a
    right are told apart later. ``features`` are in part axes. The rest is as in ``Part``.
    """

    key: str
    letter: str
    name: str
    group: tuple[str, ...]
    kind: PartKind
    material: str | None
    blank: Blank
    frame: Frame
    features: list[Feature] = field(default_factory=list)
    show: str | None = None
    banded: tuple[str, ...] = ()
    edged: Vec | None = None
    over: Vec = (0.0, 0.0, 0.0)
    made: bool = True
    stage: Stage = Stage.NOW
    note: str = ""
    mover: str | None = None


@dataclass(frozen=True, slots=True)
class Box:
    """A box in piece axes, from its lower front left corner to the opposite one (mm)."""

    lo: Vec
    hi: Vec

    @property
    def size(self) -> Vec:
        """Along X, Y and Z."""
        return (self.hi[0] - self.lo[0], self.hi[1] - self.lo[1], self.hi[2] - self.lo[2])

    @property
    def centre(self) -> Vec:
        """The middle."""
        return scale(add(self.lo, self.hi), 0.5)


def room_of(draft: Draft) -> Box:
    """The box that the blank of an upright or level part fills in the piece."""
    one, other = draft.frame.point((0.0, 0.0, 0.0)), draft.frame.point(draft.blank.size)
    low, high = zip(*(sorted(pair) for pair in zip(one, other, strict=True)), strict=True)
    return Box((low[0], low[1], low[2]), (high[0], high[1], high[2]))


def lying(box: Box, *, length: Vec, up: Vec) -> tuple[Vec, Frame]:
    """The blank's size and the frame of a board that fills ``box``.

    ``length`` is the way of the part's x, ``up`` of its z (unit vectors along piece axes, either
    sign). The frame is right-handed whatever they are.
    """
    width = cross(up, length)
    corner: list[float] = [0.0, 0.0, 0.0]
    for axis in (length, width, up):
        place = next(i for i in range(3) if axis[i])
        corner[place] = box.lo[place] if axis[place] > 0 else box.hi[place]
    # Sums of decimals leave dust in the last digits; a blank's size has none.
    size = tuple(round(abs(dot(axis, box.size)), 9) for axis in (length, width, up))
    return (
        (size[0], size[1], size[2]),
        Frame(length, width, (corner[0], corner[1], corner[2])),
    )


def blank(
    size: Vec,
    *,
    grain: Grain = Grain.LENGTH,
    section: Section = Section.SQUARED,
    layers: int = 1,
) -> Blank:
    """A blank of ``size`` (length, width, thickness)."""
    return Blank(
        length=size[0],
        width=size[1],
        thickness=size[2],
        grain=grain,
        section=section,
        layers=layers,
    )
