"""Knobs and bars: where their screws go through a front or a door."""

from dataclasses import dataclass

from ground.vectors import Frame, Vec, along, cross, neg
from models.parts.assembly import HardwareLine
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Seat
from models.setting_out.bench import Bench
from models.setting_out.draft import blank
from models.setting_out.fittings import Bought, lay_fitting, lay_rod
from specs.drawers import BarPull, Knob, Pull

SCREW_HOLE = 5.0
"""Clearance hole for a pull's 4 mm machine screw (mm). Common practice, no source."""

KNOB = (30.0, 25.0)
"""A knob's usual diameter, and how far it stands out (mm). From memory; measure the one in hand."""
BAR = (12.0, 32.0)
"""A bar's width, its feet's length too, and how far it stands out (mm). From memory."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PullPlace:
    """The middle of where pulls go, on the face (piece axes), and the way along which they lie.

    ``room`` is the front's size that way, ``into`` points into the front.
    """

    middle: Vec
    way: Vec
    into: Vec
    room: float


def pull_centres(pull: Pull, room: float) -> tuple[float, ...]:
    """The middle of each pull, from the middle of the front (mm): two stand ``spacing`` apart.

    Two without a spacing stand half the front apart (common practice, no source).
    """
    if pull.count == 1:
        return (0.0,)
    apart = room / 2 if pull.spacing is None else pull.spacing
    return (-apart / 2, apart / 2)


def screw_offsets(pull: Pull, room: float) -> tuple[float, ...]:
    """Every screw of every pull, from the middle of the front (mm)."""
    centres = pull_centres(pull, room)
    if isinstance(pull, Knob):
        return centres
    return tuple(at + side * pull.holes / 2 for at in centres for side in (-1, 1))


def pull_screws(pull: Pull, place: PullPlace) -> tuple[Vec, ...]:
    """Where every screw comes through the face (piece axes)."""
    return tuple(along(place.middle, place.way, at) for at in screw_offsets(pull, place.room))


def pull_holes(
    screws: tuple[Vec, ...], place: PullPlace, *, depth: float, made_by: str
) -> tuple[Hole, ...]:
    """Clearance holes for ``screws`` through a board ``depth`` thick."""
    return tuple(
        Hole(
            kind=HoleKind.CLEARANCE,
            seat=Seat(screw, place.way, place.into),
            diameter=SCREW_HOLE,
            depth=depth,
            made_by=made_by,
        )
        for screw in screws
    )


def lay_pulls(bench: Bench, pull: Pull, place: PullPlace, it: Bought) -> None:
    """Lay every knob or bar as a solid on the face; ``it`` is what they are part of."""
    out = neg(place.into)
    for number, at in enumerate(pull_centres(pull, place.room), 1):
        middle = along(place.middle, place.way, at)
        one = Bought(key=f"{it.key} {number}", name=it.name, group=it.group, mover=it.mover)
        match pull:
            case Knob():
                lay_rod(bench, one, middle, out, (pull.diameter or KNOB[0], KNOB[1]))
            case BarPull():
                _lay_bar(bench, one, pull.holes, (middle, place.way, out))


def _lay_bar(bench: Bench, it: Bought, holes: float, where: tuple[Vec, Vec, Vec]) -> None:
    """A bar on two feet, one over each screw."""
    middle, way, out = where
    wide, tall = BAR
    across = cross(out, way)
    corner = along(along(middle, way, -(holes + wide) / 2), across, -wide / 2)
    between = Channel(
        kind=ChannelKind.RECESS,
        seat=Seat((wide, wide / 2, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
        length=holes - wide,
        width=wide,
        depth=tall - wide,
        made_by="pull",
    )
    body = blank((holes + wide, wide, tall))
    lay_fitting(bench, it, body, Frame(way, across, corner), (between,))


def pull_line(pull: Pull, through: float, for_what: str) -> HardwareLine:
    """The line to buy; ``through`` is all that the screws pass (mm)."""
    note = f"screws through {through:.1f} mm"
    match pull:
        case Knob():
            size = "" if pull.diameter is None else f"{pull.diameter:g} mm across"
            name = "knob"
        case BarPull():
            name, size = "bar pull", f"{pull.holes:g} mm between screws"
    return HardwareLine(name=name, quantity=pull.count, size=size, for_what=for_what, note=note)
