"""Corner blocks: triangles on the flat behind each leg, grain along their long side."""

from dataclasses import dataclass

from ground.findings import COMMON_PRACTICE, Finding, Severity
from ground.vectors import Plane, Vec, Z, along, cross, dot, meet, neg, unit
from models.parts.features import Feature, TrimKind, Waste, WasteKind
from models.parts.joints.corner_block import BlockScrew, block_screw, screwed_block
from models.parts.joints.kit import Halves
from models.parts.part import PartKind, Stage
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft, blank
from models.setting_out.legs import Corner, Face, tight, trimmed
from models.setting_out.trouble import trouble
from specs.base import CornerBlocks

MADE_BY = "base.corner_blocks"
LEG_CLEARANCE = 1.0
"""mm between the notch and the leg, so that the block seats on the aprons (common practice)."""
NOSE = 2.0
"""mm off the feather points beside the notch, which would break (common practice, no source)."""
BLUNT = 12.0
"""mm off the point of a block without a leg behind it: room for glue (common practice)."""
LEAST_BEARING = 20.0
"""mm of a block's side that lies on the apron at least (common practice, no source)."""
CLEAR_OF_JOINT = 6.0
"""mm between a block's screw and a tenon in the apron (common practice, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay:
    """The inner corner that a block fills, piece axes.

    ``faces`` are the inner faces of the rails that look along X and along Y, normals into the
    room; ``keys`` their drafts. ``leg`` is the leg's inner top corner, None where there is none.
    ``taken`` is how far from the corner the rails' end joints reach, ``room`` the way to the next
    corner along the shorter rail (mm). ``low`` and ``high`` are the rails' edges.
    """

    corner: Corner
    faces: tuple[Plane, Plane]
    keys: tuple[str, str]
    leg: Vec | None
    low: float
    high: float
    room: float
    rail: float
    taken: float

    @property
    def point(self) -> Vec:
        """Where both faces meet at the top."""
        return meet(self.faces[0], self.faces[1], Plane(Z, self.high))

    @property
    def out(self) -> Vec:
        """Level, half-way between the two rails, towards the corner."""
        return unit((float(self.corner.x), float(self.corner.y), 0.0))


def lay_block(bench: Bench, spec: CornerBlocks, bay: Bay) -> None:
    """Cut one block and screw it to both rails.

    Raises:
        SettingOutError: it does not fit the corner.
    """
    _must_fit(spec, bay)
    key = f"base/corner block {bay.corner.name}"
    front = _front(bay, spec.legs)
    low = bay.high - spec.thickness
    corners = _corners(bay, front, (low, bay.high))
    size, frame = tight(corners, cross(bay.out, Z), bay.out)
    faces = tuple(
        Face(name=f"bevel-{way}", kind=TrimKind.BEVEL, plane=face.flipped())
        for way, face in zip(("side", "front"), bay.faces, strict=True)
    )
    cuts, _ = trimmed(faces, size, frame, MADE_BY)
    bench.put(
        Draft(
            key=key,
            letter="B",
            name="corner block",
            group=("base",),
            kind=PartKind.LUMBER,
            material=spec.material,
            blank=blank(size),
            frame=frame,
            stage=Stage.TO_FIT,
            note="grain along the long side; bevels fitted to the aprons once the frame is glued",
        )
    )
    bench.cut(key, (*cuts, *_notch(bay)))
    for axis in (0, 1):
        _screw(bench, spec, bay, axis, front)


def _must_fit(spec: CornerBlocks, bay: Bay) -> None:
    """Sides that reach past the leg and not into the next block, and no higher than the rails."""
    bearing = spec.legs - _past_leg(bay)
    if bearing < LEAST_BEARING:
        raise trouble(
            ("base", "corner_blocks", "legs"),
            f"{bearing:.1f} mm of each side lie on an apron past the leg, {LEAST_BEARING:g} at "
            f"least; make them {spec.legs - bearing + LEAST_BEARING:.0f} mm or longer",
        )
    if 2 * spec.legs > bay.room:
        raise trouble(
            ("base", "corner_blocks", "legs"),
            f"two blocks meet on a rail of {bay.room:.1f} mm between its corners; make them "
            f"{bay.room / 2:.0f} mm or shorter",
        )
    if spec.thickness > bay.high - bay.low:
        raise trouble(
            ("base", "corner_blocks", "thickness"),
            f"is more than the rails' {bay.high - bay.low:.1f} mm of height; make it less",
        )


def _past_leg(bay: Bay) -> float:
    """How far along the rails the notch reaches from their corner (mm)."""
    if bay.leg is None:
        return 0.0
    return LEG_CLEARANCE + max(abs(bay.leg[axis] - bay.point[axis]) for axis in (0, 1))


def _front(bay: Bay, legs: float) -> Plane:
    """The block's long side: plumb, through the ends of both short sides at the top."""
    end = along(bay.point, (-float(bay.corner.x), 0.0, 0.0), legs)
    return Plane.through(end, neg(bay.out))


def _notch_walls(bay: Bay) -> tuple[Plane, Plane] | None:
    """The notch's two plumb walls, normals into the block, clear of the leg at the top."""
    if bay.leg is None:
        return None
    corner = bay.corner
    away = (-LEG_CLEARANCE * corner.x, -LEG_CLEARANCE * corner.y)
    clear: Vec = (bay.leg[0] + away[0], bay.leg[1] + away[1], bay.high)
    return (
        Plane.through(clear, (-float(corner.x), 0.0, 0.0)),
        Plane.through(clear, (0.0, -float(corner.y), 0.0)),
    )


def _corners(bay: Bay, front: Plane, levels: tuple[float, float]) -> tuple[Vec, ...]:
    """What the blank must hold: the long side's corners, and the nose beside the notch."""
    side, fore = bay.faces
    walls = _notch_walls(bay)
    long = tuple(meet(front, face, Plane(Z, level)) for face in (side, fore) for level in levels)
    if walls is None:
        nose = along(bay.point, bay.out, -BLUNT)
        return (*long, nose)
    # The face along X ends at the notch's wall that looks along Y, and the other way round.
    tips = (meet(side, walls[1], Plane(Z, levels[1])), meet(fore, walls[0], Plane(Z, levels[1])))
    nearest = min(tips, key=lambda tip: dot(tip, bay.out))
    return (*long, along(nearest, bay.out, -NOSE))


def _notch(bay: Bay) -> tuple[Feature, ...]:
    walls = _notch_walls(bay)
    if walls is None:
        return ()
    named = tuple(zip(("wall-a", "wall-b"), walls, strict=True))
    return (Waste(kind=WasteKind.NOTCH, planes=named, made_by=MADE_BY, note="notch for the leg"),)


def _screw(bench: Bench, spec: CornerBlocks, bay: Bay, axis: int, front: Plane) -> None:
    """Screw the block to the rail that looks along ``axis``, clear of that rail's end joint."""
    key = f"base/corner block {bay.corner.name}"
    past = _past_leg(bay)
    run = 1 - axis
    inward: Vec = (-float(bay.corner.x), 0.0, 0.0) if run == 0 else (0.0, -float(bay.corner.y), 0.0)
    far = max(past + 0.45 * (spec.legs - past), bay.taken + CLEAR_OF_JOINT)
    middle = Plane(Z, bay.high - spec.thickness / 2)
    across = Plane.through(along(bay.point, inward, far), inward)
    place = BlockScrew(
        mouth=meet(bay.faces[axis], across, middle),
        into_rail=neg(bay.faces[axis].normal),
        rail=bay.rail,
        front=front,
    )
    choice = block_screw(place)
    made_by = MADE_BY
    if choice is None:
        _no_screw(bench, key, place)
        halves = Halves(kind="corner block", first=(), second=(), closes=bay.out)
    else:
        halves = screwed_block(place, choice, bay.out, made_by=made_by)
    bench.join(f"{key}/{bay.keys[axis].rsplit(' ', 1)[-1]}", bay.keys[axis], key, halves)


def _no_screw(bench: Bench, key: str, place: BlockScrew) -> None:
    bench.find(
        Finding(
            code="fit.block_screw",
            severity=Severity.WARNING,
            subject=key,
            message=f"no screw holds the block: {place.in_block:.1f} mm of it lie before a rail "
            f"of {place.rail:.1f} mm; it is only glued, or make its sides longer",
            copies=(key,),
            value=place.in_block,
            unit="mm",
            source=COMMON_PRACTICE,
        )
    )
