"""A sideways push on a piece on legs: bending of the legs, what the joints at their heads carry."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from checks.aprons import loads_of
from checks.contents import contents
from checks.frames import Bar, Frame
from checks.placed import GRAVITY, Piece, Placed
from checks.solid_geometry import corners, inside
from checks.volumes import body_of
from ground import wood
from ground.findings import Finding, Severity
from ground.vectors import Plane, Vec
from models.parts.features import Channel, ChannelKind, Hole, HoleKind, Mortise
from models.setting_out.densities import BEECH
from specs.base import Plinth
from specs.joints import MortiseAndTenonJoint
from specs.materials import Lumber

FRICTION = 0.4
"""A piece slides before it is pushed harder than this share of its weight. Common practice, no
source."""
STRENGTH_SHARE = 3.0
"""Clear-wood strength is divided by this: tables are averages of tests, no design values. Common
practice, no source."""
GLUE = 3.0
"""Shear stress that a glued tenon or dowel should carry (MPa): half of what cross-grain glued
faces of hardwood let go at (from memory, low confidence)."""
LETS_GO = 2 * GLUE
"""Where a glued tenon or dowel lets go (MPa; from memory, low confidence)."""
SCREWED = 0.5
"""How much of a glued joint pocket screws stand for. Common practice, no source."""
SLICE = 0.01
"""Half the thickness of the slice that a leg's section is read from (mm)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Joinery:
    """What holds an apron to a leg: its shear stress (MPa) is a moment times ``stress``.

    ``bends`` gives the stress in the tenon's or the dowels' own wood the same way, 0 for screws.
    """

    words: str
    stress: float
    bends: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Racked:
    """One way to push: stresses in MPa, how far the case moves in mm."""

    way: str
    push: float
    leg: Placed
    bending: float
    strength: float
    joint: Joinery | None
    glue: float
    tenon: float
    tenon_strength: float
    moves: float


def find_racking(piece: Piece) -> Iterator[Finding]:
    """Say where legs or their joints are too weak for a push, and how they do."""
    yield from _unknown(piece)
    worked = [one for axis in (0, 1) if (one := rack(piece, axis)) is not None]
    for one in worked:
        yield from _leg(one)
        yield from _joint(one)
        yield from _tenon(one)
    if worked:
        yield _summary(worked)


def _unknown(piece: Piece) -> Iterator[Finding]:
    """Legs of a wood of which no strength is known are not worked, and that is said."""
    base = piece.spec.base
    material = None if isinstance(base, Plinth) else piece.spec.materials[base.legs.material]
    if isinstance(material, Lumber) and wood.strength(material.species) is None:
        yield Finding(
            code="racking.unknown",
            severity=Severity.NOTE,
            subject="the base",
            message=f"no strength or stiffness is known of {material.species}, so its legs are not "
            "worked under a push; compare it with a wood of the tables",
            copies=tuple(one.id for one in piece.placed if one.kind_of("leg")),
            source="no published value at hand",
        )


def rack(piece: Piece, axis: int) -> Racked | None:
    """Push along X (0) or Y (1) until it slides; None for a piece without legs."""
    base = piece.spec.base
    legs = [one for one in piece.placed if one.kind_of("leg")]
    if isinstance(base, Plinth) or len(legs) != 4:  # noqa: PLR2004 - four legs
        return None
    material = piece.spec.materials[base.legs.material]
    species = material.species if isinstance(material, Lumber) else ""
    stiff, strong = wood.stiffness(species), wood.strength(species)
    if stiff is None or strong is None:
        return None
    pair = _pair(legs, axis)
    low, head = base.height - base.aprons.height, base.height - base.aprons.height / 2
    frame = _frame(piece, pair, axis, (low, head), stiff.value)
    weight = piece.kg * GRAVITY + max(
        loads_of(piece), sum(one.kg for one in contents(piece)) * GRAVITY
    )
    push = FRICTION * weight / 2
    wide = frame.nodes[4][0] - frame.nodes[1][0]
    middle = base.height + piece.spec.case.size.height / 2
    lift = push * (middle - head) / wide
    solved = frame.solved({2: (push / 2, lift - weight / 4), 3: (push / 2, -lift - weight / 4)})
    moment = max(abs(solved.forces[0].end), abs(solved.forces[4].start))
    at_joint = max(abs(solved.forces[1].end), abs(solved.forces[3].start))
    axial = max(abs(one.axial) for one in solved.forces[:2])
    side = section(pair[0], low)
    bending = moment / (side[1 - axis] * side[axis] ** 2 / 6) + axial / (side[0] * side[1])
    joint = joinery(pair[0], axis, base.aprons.height)
    return Racked(
        way="sideways" if axis == 0 else "from front to back",
        push=2 * push,
        leg=pair[0],
        bending=bending,
        strength=strong.value,
        joint=joint,
        glue=0.0 if joint is None else at_joint * joint.stress,
        tenon=0.0 if joint is None else at_joint * joint.bends,
        tenon_strength=_tenon_strength(piece, strong.value),
        moves=abs(solved.at(2)[0]),
    )


def _pair(legs: list[Placed], axis: int) -> tuple[Placed, Placed]:
    """Two legs of one frame: both at the front, or both on the left."""
    other = 1 - axis
    row = sorted(legs, key=lambda one: one.middle[other])[:2]
    first, second = sorted(row, key=lambda one: one.middle[axis])
    return (first, second)


def _frame(
    piece: Piece, pair: tuple[Placed, Placed], axis: int, heights: tuple[float, float], e: float
) -> Frame:
    """Foot, apron's lower edge and apron's middle of one leg, then of the other."""
    base = piece.spec.base
    low, head = heights
    nodes: list[tuple[float, float]] = []
    sides = [section(pair[0], low / 2), section(pair[0], (low + head) / 2)]
    bars = [
        Bar(
            start=number,
            end=number + 1,
            axial=e * side[0] * side[1],
            bending=e * side[1 - axis] * side[axis] ** 3 / 12,
        )
        for number, side in enumerate(sides)
    ]
    for leg in pair:
        feet = (max(leg.lo[2], 0.0) + SLICE, low, head)
        nodes += [(middle(leg, height)[axis], height) for height in feet]
    mirrored = [_other(bar) for bar in bars]
    high = 0.0 if isinstance(base, Plinth) else base.aprons.height
    thick = 1.0 if isinstance(base, Plinth) else base.aprons.thickness
    rail = Bar(start=2, end=3, axial=e * high * thick, bending=e * thick * high**3 / 12)
    order = (nodes[0], nodes[1], nodes[2], nodes[5], nodes[4], nodes[3])
    return Frame(nodes=order, bars=(*bars, rail, *mirrored[::-1]), pinned=(0, 5))


def _other(bar: Bar) -> Bar:
    """The bar of the other leg: nodes run on from head to foot."""
    return Bar(start=5 - bar.end, end=5 - bar.start, axial=bar.axial, bending=bar.bending)


def _slice(leg: Placed, height: float) -> list[Vec]:
    """Corners of a leg's section at a height, in piece axes."""
    back = leg.copy.placement.inverse()
    lid = back.plane(Plane((0.0, 0.0, 1.0), height + SLICE))
    floor = back.plane(Plane((0.0, 0.0, -1.0), SLICE - height))
    cut = inside(body_of(leg.part), (lid, floor))
    return [leg.copy.placement.point(corner) for corner in corners(cut)]


def section(leg: Placed, height: float) -> tuple[float, float]:
    """A leg's size along X and Y at a height (mm)."""
    points = _slice(leg, height)
    return (_spread(points, 0), _spread(points, 1))


def _spread(points: list[Vec], axis: int) -> float:
    return max(p[axis] for p in points) - min(p[axis] for p in points)


def middle(leg: Placed, height: float) -> Vec:
    """The middle of a leg's section at a height."""
    points = _slice(leg, height)
    x, y = ((max(p[i] for p in points) + min(p[i] for p in points)) / 2 for i in (0, 1))
    return (x, y, height)


def joinery(leg: Placed, axis: int, apron: float) -> Joinery | None:
    """What is cut into a leg for the apron that runs along ``axis``; None where nothing is."""
    mine = [
        feature
        for feature in leg.part.features
        if isinstance(feature, Mortise | Channel | Hole)
        and feature.made_by == "base.aprons.joint"
        and abs(leg.copy.placement.direction(feature.seat.into)[axis]) > 0.7  # noqa: PLR2004
    ]
    mortises = [
        one
        for one in mine
        if isinstance(one, Mortise)
        or (isinstance(one, Channel) and one.kind is ChannelKind.MORTISE)
    ]
    dowels = [one for one in mine if isinstance(one, Hole) and one.kind is HoleKind.DOWEL]
    if mortises:
        return _tenoned(mortises)
    if dowels:
        return _dowelled(leg, dowels)
    # Pocket screws leave no hole in the leg: they count as half of a tenon 20 mm deep.
    half = _glued(apron - 20.0, 20.0)
    return Joinery(words="screws only", stress=half / SCREWED)


def _tenoned(mortises: list[Mortise | Channel]) -> Joinery:
    """Both cheeks of every tenon twist about their middle: stress = M r / I_p."""
    each = [_glued(one.length, one.depth) for one in mortises]
    strongest = 1 / sum(1 / one for one in each)
    told = " and ".join(f"{one.length:.0f} x {one.depth:.0f}" for one in mortises)
    bends = 1 / sum(one.width * one.length**2 / 6 for one in mortises)
    return Joinery(words=f"tenon {told} mm", stress=strongest, bends=bends)


def _glued(long: float, deep: float) -> float:
    """Greatest shear stress on the two cheeks of a tenon for a moment of 1 N mm (1/mm3)."""
    polar = 2 * long * deep * (long**2 + deep**2) / 12
    return math.hypot(long, deep) / 2 / polar


def _dowelled(leg: Placed, holes: list[Hole]) -> Joinery:
    """The outer dowels of a row pull out as a couple."""
    heights = [
        leg.copy.placement.point(
            tuple(  # type: ignore[arg-type]
                a + number * hole.pitch * b
                for a, b in zip(hole.seat.origin, hole.seat.along, strict=True)
            )
        )[2]
        for hole in holes
        for number in range(hole.count)
    ]
    apart = max(max(heights) - min(heights), 1.0)
    deep, across = holes[0].depth or 20.0, holes[0].diameter
    told = f"{len(heights)} dowels {across:g} mm, {deep:.0f} mm deep, {apart:.0f} mm apart"
    pulled = 1 / (apart * math.pi * across**2 / 4)
    return Joinery(words=told, stress=1 / (apart * math.pi * across * deep), bends=pulled)


def _leg(one: Racked) -> Iterator[Finding]:
    allowed = one.strength / STRENGTH_SHARE
    if one.bending <= allowed:
        return
    thicker = (one.bending / allowed) ** (1 / 3)
    yield Finding(
        code="racking.leg",
        severity=Severity.ERROR if one.bending > one.strength else Severity.WARNING,
        subject=one.leg.spoken,
        message=f"pushed {one.way} with {one.push:.0f} N, where it slides, it bends at the "
        f"aprons' lower edge with {one.bending:.1f} MPa; legs {thicker:.2f} times as thick "
        "there, or shorter below the aprons, would be enough",
        copies=(one.leg.id,),
        value=round(one.bending, 6),
        limit=round(allowed, 6),
        unit="MPa",
        source=f"modulus of rupture by {STRENGTH_SHARE:g}, common practice, no source",
    )


def _joint(one: Racked) -> Iterator[Finding]:
    if one.joint is None or one.glue <= GLUE:
        return
    yield Finding(
        code="racking.joint",
        severity=Severity.ERROR if one.glue > LETS_GO else Severity.WARNING,
        subject=one.leg.spoken,
        message=f"pushed {one.way} with {one.push:.0f} N, where it slides, the joint at its head "
        f"({one.joint.words}) carries {one.glue:.1f} MPa; a tenon {one.glue / GLUE:.1f} times as "
        "large by height and depth together, a higher apron or a stretcher would be enough",
        copies=(one.leg.id,),
        value=round(one.glue, 6),
        limit=GLUE,
        unit="MPa",
        source="cross-grain glued faces, from memory (low confidence)",
    )


def _tenon_strength(piece: Piece, otherwise: float) -> float:
    """Rupture of the wood that tenons are cut from: the aprons', or beech where they are bought."""
    base = piece.spec.base
    if isinstance(base, Plinth):
        return otherwise
    material = piece.spec.materials[base.aprons.material]
    species = material.species if isinstance(material, Lumber) else ""
    bought = not isinstance(base.aprons.joint, MortiseAndTenonJoint)
    known = wood.strength(BEECH if bought else species)
    return otherwise if known is None else known.value


def _tenon(one: Racked) -> Iterator[Finding]:
    allowed = one.tenon_strength / STRENGTH_SHARE
    if one.joint is None or one.tenon <= allowed:
        return
    yield Finding(
        code="racking.tenon",
        severity=Severity.ERROR if one.tenon > one.tenon_strength else Severity.WARNING,
        subject=one.leg.spoken,
        message=f"pushed {one.way} with {one.push:.0f} N, where it slides, the wood of the joint "
        f"at its head ({one.joint.words}) bends with {one.tenon:.1f} MPa; "
        f"{(one.tenon / allowed) ** (1 / 3):.2f} times as large each way would be enough",
        copies=(one.leg.id,),
        value=round(one.tenon, 6),
        limit=round(allowed, 6),
        unit="MPa",
        source=f"modulus of rupture by {STRENGTH_SHARE:g}, common practice, no source",
    )


def _summary(worked: list[Racked]) -> Finding:
    told = "; ".join(
        f"{one.way} with {one.push:.0f} N: legs {one.bending:.1f} MPa of "
        f"{one.strength / STRENGTH_SHARE:.0f}, joints {one.glue:.1f} MPa of {GLUE:g}, "
        f"their wood {one.tenon:.1f} of {one.tenon_strength / STRENGTH_SHARE:.0f}, "
        f"{one.moves:.2f} mm out of plumb"
        for one in worked
    )
    worst = max(one.bending / one.strength * STRENGTH_SHARE for one in worked)
    return Finding(
        code="racking.push",
        severity=Severity.NOTE,
        subject="the base",
        message=f"pushed until it slides, {told}; corner blocks, stretchers and the case's own "
        "stiffness are not counted",
        value=round(worst, 6),
        limit=1.0,
        source="plane frame; friction 0.4, strength by 3, common practice, no source",
    )
