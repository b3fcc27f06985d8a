"""What routers, bits, dado stacks and mortisers make, as passes on the face that they enter."""

from typing import assert_never

from ground.vectors import Plane, Vec, along, angle, dot, neg, norm, scale, sub
from models.parts.blank import FACES
from models.parts.cuts import Bore, Cone, Convex, Slot
from models.parts.features import Channel, Countersink, Hole, HoleKind, Mortise
from models.parts.lowering import channel, lower
from planning.saw.care import for_tool
from planning.saw.job import Job
from planning.saw.mouths import Cutter, Mouth, mouth
from planning.saw.records import Expect, Pass, SetUp, Wedge
from planning.saw.settings import Setting, setting
from planning.saw.tools import tool_for
from planning.saw.workpiece import Workpiece

LEVEL = 1e-4
"""A face that leans less than this against its opposite lies level without a wedge (degrees)."""

STEEPEST_WEDGE = 15.0
"""A piece slides down a wedge steeper than this (degrees): clamp it on edge. Common practice, no
source."""


def cutter_set_up(job: Job, feature: Cutter, piece: Workpiece) -> SetUp:
    """One feature of a cutter or a bit as the record keeps it; ``piece`` is the part by then."""
    where = mouth(job, feature, piece)
    made = cutter_pass(job, feature, where)
    numbers = wall_setting(feature, where)
    wedge = level_wedge(job, where, piece)
    tool = tool_for(job, feature, (where.enters, where.lie.table))
    face = job.part.show
    return SetUp(
        part=job.part.label,
        order=0,
        machine=tool,
        does=str(feature.kind),
        table_face=made.enters,
        reference_edge=job.spoken(where.reference),
        stop=job.spoken(where.stop),
        mitre=None if numbers is None else numbers.mitre,
        mitre_to=None if numbers is None else numbers.mitre_to,
        tilt=made.lean if made.lean >= LEVEL else 0.0,
        measured=None if numbers is None else numbers.measured,
        distance=None if numbers is None else numbers.distance,
        keeps=None if numbers is None else numbers.keeps,
        depth=made.depth,
        wedge=wedge,
        makes_face=made.makes[0] if made.makes else None,
        cutter=made,
        expect=checks(made),
        note=note(made, wedge),
        show=None if face is None else ("up" if where.enters == face else "down or aside"),
        first_cut=trial(feature, made),
        cautions=for_tool(tool, job.part.blank.length),
    )


def cutter_pass(job: Job, feature: Cutter, where: Mouth) -> Pass:
    """The pass of a feature, measured on the face that it enters."""
    lie, seat = where.lie, feature.seat
    width, run_length, ends, diameter, row = sizes(feature)
    start = seat.origin
    if isinstance(feature, Mortise):
        start = along(start, seat.along, -feature.length / 2)
    return Pass(
        enters=job.spoken(where.enters) if where.enters in job.planes else where.enters,
        at=lie.place(start),
        run=lie.heading(seat.along),
        lean=lie.fall(seat.into),
        lean_to=lie.heading(seat.into),
        depth=deep(job, feature),
        width=width,
        length=run_length,
        diameter=diameter,
        ends=ends,
        count=row[0],
        pitch=row[1],
        makes=made_faces(job, feature),
    )


def sizes(
    feature: Cutter,
) -> tuple[float | None, float | None, str | None, float | None, tuple[int, float]]:
    """Width, length, ends, diameter, and how many how far apart."""
    match feature:
        case Channel():
            return feature.width, feature.length, "square", None, (1, 0.0)
        case Mortise():
            return feature.width, feature.length, "round", None, (1, 0.0)
        case Hole() | Countersink():
            return None, None, None, feature.diameter, (feature.count, feature.pitch)
    assert_never(feature)


def deep(job: Job, feature: Cutter) -> float | None:
    """How deep the cutter goes (mm); None: right through."""
    match feature:
        case Channel() | Mortise() | Hole():
            return feature.depth
        case Countersink():
            cones = (cut for cut in lower(feature, job.part.blank) if isinstance(cut, Cone))
            return next(cones).depth
    assert_never(feature)


def made_faces(job: Job, feature: Cutter) -> tuple[str, ...]:
    """The planes that a feature leaves, by the record's names; the floor first."""
    found: list[str] = []
    for cut in lower(feature, job.part.blank):
        match cut:
            case Bore():
                found += ["floor"] if isinstance(feature, Hole) and feature.depth else []
            case Slot(length=length, width=width):
                found += ["floor", "wall-a", "wall-b"] if length > width else ["floor"]
            case Convex(planes=planes):
                found += [name for name, _ in planes if name]
            case _:
                pass
    names = sorted(dict.fromkeys(found), key=lambda name: name != "floor")
    return tuple(f"{feature.id}.{name}" for name in names)


def wall_setting(feature: Cutter, where: Mouth) -> Setting | None:
    """The settings of a channel's or mortise's nearer wall; None for round holes."""
    match feature:
        case Channel():
            walls = [plane for name, plane in channel(feature).planes if name.startswith("wall")]
        case Mortise(seat=seat):
            half = feature.width / 2
            walls = [
                Plane.through(
                    along(seat.origin, seat.across, side * half), scale(seat.across, side)
                )
                for side in (-1.0, 1.0)
            ]
        case _:
            return None
    found = []
    for wall in walls:
        try:
            found.append(setting(wall.flipped(), where.lie, 0.0))
        except ZeroDivisionError:
            return None
    return min(found, key=lambda made: made.distance)


def level_wedge(job: Job, where: Mouth, piece: Workpiece) -> Wedge | None:
    """The wedge that brings a slanted face level under the cutter; None where it is level."""
    if where.enters not in job.planes or where.enters in FACES:
        return None
    plane = job.planes[where.enters]
    under = min(FACES, key=lambda name: dot(FACES[name], plane.normal))
    if under not in piece.by_name:
        return None
    lean = angle(neg(FACES[under]), plane.normal)
    if not LEVEL < lean < STEEPEST_WEDGE:
        return None
    fall: Vec = sub(plane.normal, scale(FACES[under], dot(plane.normal, FACES[under])))
    length = max(
        piece.size(FACES[name]) for name in FACES if abs(dot(FACES[name], FACES[under])) < LEVEL
    )
    # where the face falls away the piece is lifted: the thin end is where it stands highest
    thin = min(FACES, key=lambda name: dot(FACES[name], fall))
    steep = norm(fall) / -dot(plane.normal, FACES[under])
    return Wedge(
        rise=steep * length,
        length=length,
        under=job.spoken(under),
        thin_at=job.spoken(thin),
        made_from=f"the saved offcut of {where.enters}",
    )


def checks(made: Pass) -> tuple[Expect, ...]:
    """What a rule or a depth gauge can measure afterwards."""
    found = []
    if made.depth is not None:
        found.append(Expect(what="depth", at=made.enters, value=made.depth))
    if made.width is not None:
        found.append(Expect(what="width", at=made.enters, value=made.width))
    if made.length is not None:
        found.append(Expect(what="length", at=made.enters, value=made.length))
    if made.diameter is not None:
        found.append(Expect(what="diameter", at=made.enters, value=made.diameter))
    found.append(Expect(what="start from the stop", at=made.enters, value=made.at[0]))
    found.append(Expect(what="middle from the reference edge", at=made.enters, value=made.at[1]))
    return tuple(found)


def note(made: Pass, wedge: Wedge | None) -> str:
    """What else to know about a pass."""
    if wedge is not None:
        return (
            f"The face entered is not parallel to {wedge.under}: a wedge rising"
            f" {wedge.rise:.1f} mm in {wedge.length:.1f} mm under it, thin end at"
            f" {wedge.thin_at}, brings it level."
        )
    if made.lean > LEVEL:
        return f"The cutter leans {made.lean:.1f} degrees off square to {made.enters}."
    return ""


def trial(feature: Cutter, made: Pass) -> str:
    """The first cut on scrap, and what is tried in it."""
    size = made.width if made.width is not None else made.diameter
    deepness = "through" if made.depth is None else f"{made.depth:.1f} mm deep"
    return f"on scrap: {size:.1f} mm wide, {deepness}; {tried_with(feature)}"


def tried_with(feature: Cutter) -> str:
    """What shows that a cut is right."""
    match feature:
        case Hole(kind=HoleKind.PILOT):
            return "drive the screw home: it holds and does not split"
        case Hole(kind=HoleKind.CLEARANCE | HoleKind.COUNTERBORE | HoleKind.POCKET):
            return "the screw drops in by its own weight"
        case Hole(kind=HoleKind.DOWEL | HoleKind.PIN | HoleKind.PLUG | HoleKind.SHELF_PIN):
            return "what goes into it pushes in by hand"
        case Countersink():
            return "the screw's head lies flush"
        case Hole():
            return "try the fitting in it"
        case Channel() | Mortise():
            return "try what goes into it"
    assert_never(feature)
