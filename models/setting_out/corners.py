"""The four corners of the case: what is cut, what holds them, how they close."""

from dataclasses import dataclass, replace

from ground.vectors import Vec, X, Y, Z, along, neg
from models.parts.features import Channel, ChannelKind, Feature, Seat
from models.parts.joints.kit import Halves
from models.parts.joints.tongue import EndLine
from models.parts.joints.tongue import corners as notched
from models.setting_out.bench import Bench
from models.setting_out.corner_ways import CornerWay
from models.setting_out.holding import hold
from models.setting_out.meeting import Closing, Meeting
from models.setting_out.numbers import CaseNumbers
from models.setting_out.weak import findings, housing, rabbet
from specs.case import CornerKind
from specs.joints import Joint, SplineJoint, TongueAndGrooveJoint

FRONT_STOP = 10.0
"""A slot or groove stops this far behind the panel's front edge (mm): it comes out nowhere.
Common practice, no source."""
SHORT_OF_GROOVE = 3.0
"""A spline, dowel or tenon stops this far short of the back's groove (mm): design rule."""
TONGUE = 1 / 3
"""A barefaced tongue is a third of its panel. Common practice, no source."""
GROUP = "case"
"""The group that closes together: sides inward, and with them what is mitred to them."""
STILL: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerPlace:
    """One corner of the case.

    ``panel`` and ``side`` are keys; ``hand`` is -1 left and 1 right, ``upper`` -1 bottom and 1
    top. ``span`` is where in Y both panels stand.
    """

    panel: str
    side: str
    hand: int
    upper: int
    span: tuple[float, float]

    @property
    def which(self) -> str:
        """Top or bottom."""
        return "top" if self.upper > 0 else "bottom"

    @property
    def name(self) -> str:
        """The joint's name."""
        return f"case/{self.which} {'left' if self.hand < 0 else 'right'}"

    @property
    def inward(self) -> Vec:
        """The way that the side comes home."""
        return x_way(-self.hand)

    @property
    def down(self) -> Vec:
        """The way that a panel over the sides' ends comes home: a top comes down."""
        return z_way(-self.upper)


def corner_point(case: CaseNumbers, place: CornerPlace) -> tuple[float, float]:
    """X and Z of the case's outer corner."""
    box = case.outside
    return (
        box.lo[0] if place.hand < 0 else box.hi[0],
        box.hi[2] if place.upper > 0 else box.lo[2],
    )


def x_way(sign: float) -> Vec:
    """Along X, this way or that."""
    return X if sign > 0 else neg(X)


def z_way(sign: float) -> Vec:
    """Along Z, this way or that."""
    return Z if sign > 0 else neg(Z)


def tongue_thickness(panel: float) -> float:
    """A barefaced tongue on a ``panel`` thick (mm)."""
    return round(panel * TONGUE, 1)


def join_square(
    bench: Bench, case: CaseNumbers, corner: CornerWay, joint: Joint | None, place: CornerPlace
) -> None:
    """Cut and hold a corner that is butted, rabbeted or dadoed."""
    closing = Closing(way=place.down)
    if corner.level:
        closing = Closing(way=GROUP, each={place.panel: STILL, place.side: place.inward})
    if corner.kind in (CornerKind.RABBET, CornerKind.DADO):
        weigh = rabbet if corner.kind is CornerKind.RABBET else housing
        room = weigh(f"the corner's {corner.kind}", case.panel, corner.depth)
        for finding in findings((room,), place.name, (place.panel, place.side)):
            bench.find(finding)
        _let_in(bench, case, corner, place, closing)
        if joint is None:
            return
    meeting = _meeting(case, corner, joint, place)
    hold(bench, meeting, joint, closing, material=case.lumber)


def _meeting(
    case: CaseNumbers, corner: CornerWay, joint: Joint | None, place: CornerPlace
) -> Meeting:
    """Where the end of one panel stands against the other, behind any rabbet or dado."""
    t = case.panel
    x, z = corner_point(case, place)
    # A tongue goes on into the other panel; the shoulders stand where the butt would.
    left = (corner.panel_inset(t) if corner.level else corner.side_inset(t)) + corner.tongue
    middle, thickness = corner.lifted + t / 2, t
    if corner.bare:
        # Beside a barefaced tongue, what holds stands in the shoulder.
        left, thickness = t, t - tongue_thickness(t)
        middle = thickness / 2
    if corner.level:
        end, face, into = place.panel, place.side, x_way(-place.hand)
        start = (x - place.hand * left, place.span[0], z - place.upper * middle)
        hidden = neg(Z)
    else:
        end, face, into = place.side, place.panel, z_way(-place.upper)
        start = (x - place.hand * middle, place.span[0], z - place.upper * left)
        hidden = x_way(-place.hand)
    length, lead, tail = _run(case, joint, place)
    return Meeting(
        name=place.name,
        end=end,
        face=face,
        start=start,
        way=Y,
        length=length,
        into_end=into,
        end_thickness=thickness,
        face_thickness=left,
        hidden=hidden,
        made_by=f"case.joints.{place.which}",
        for_what=f"case {place.which}",
        lead=lead,
        tail=tail,
        under=t - thickness,
    )


def _run(case: CaseNumbers, joint: Joint | None, place: CornerPlace) -> tuple[float, float, float]:
    """Length of the joint in Y, and how far a groove keeps from its front and rear end."""
    front, rear = place.span
    before_back = min(rear, case.groove_front - SHORT_OF_GROOVE)
    if isinstance(joint, TongueAndGrooveJoint):
        return rear - front, 0.0 if case.front > 0.0 else FRONT_STOP, 0.0
    if isinstance(joint, SplineJoint):
        return rear - front, FRONT_STOP, rear - before_back
    return before_back - front, 0.0, 0.0


def _let_in(
    bench: Bench, case: CaseNumbers, corner: CornerWay, place: CornerPlace, closing: Closing
) -> None:
    """The rabbet or dado that takes the other panel's end, and the tongue that goes into it."""
    t, depth = case.panel, corner.depth
    x, z = corner_point(case, place)
    carrier, guest = place.side, place.panel
    # Seen in section: ``into`` goes from the carrier's inner face into it; ``down`` from the
    # corner along the carrier.
    mouth, into, down = (x - place.hand * t, z), x_way(place.hand), z_way(-place.upper)
    if not corner.in_sides:
        carrier, guest = place.panel, place.side
        mouth, into, down = (x, z - place.upper * t), z_way(place.upper), x_way(-place.hand)
    tongue = tongue_thickness(t) if corner.bare else t
    at = along((mouth[0], place.span[0], mouth[1]), down, corner.lifted + t - tongue / 2)
    dado = corner.kind is CornerKind.DADO
    line = EndLine(
        start=at,
        way=Y,
        length=place.span[1] - place.span[0],
        into_end=neg(into),
        thickness=tongue,
        lead=FRONT_STOP if dado and case.front == 0.0 else 0.0,
    )
    made_by = f"case.corners.{place.which}"
    channel = Channel(
        kind=ChannelKind.DADO if dado else ChannelKind.RABBET,
        seat=Seat(along(at, Y, line.lead), Y, into),
        length=case.outside.hi[1] - place.span[0] - line.lead,
        width=tongue,
        depth=depth,
        made_by=made_by,
    )
    mine: tuple[Feature, ...] = notched(line, depth, made_by=made_by)
    if corner.bare:
        mine = (_bare_face(line, down, (depth, t - tongue), made_by), *mine)
    halves = Halves(kind=str(corner.kind), first=mine, second=(channel,), closes="")
    _record(bench, replace(halves, closes=closing.way), (guest, carrier), place, closing)


def _record(
    bench: Bench, halves: Halves, keys: tuple[str, str], place: CornerPlace, closing: Closing
) -> None:
    """Record the channel of a corner: its guest's end comes home in the carrier."""
    each = tuple(closing.each[key] for key in keys) if closing.each else ()
    bench.join(f"{place.name}/{halves.kind}", keys[0], keys[1], replace(halves, each=each))


def _bare_face(line: EndLine, down: Vec, size: tuple[float, float], made_by: str) -> Channel:
    """Rabbet the guest's outer face at its end, so that a tongue is left for the dado."""
    width, waste = size
    outer = along(line.start, down, -(line.thickness / 2 + waste))
    return Channel(
        kind=ChannelKind.RABBET,
        seat=Seat(along(outer, line.into_end, -width / 2), Y, down),
        length=line.length,
        width=width,
        depth=waste,
        made_by=made_by,
    )
