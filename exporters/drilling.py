"""drilling.csv: every hole of every part, one a line, a pilot, a clearance and a seat apart.

Places are on the face that is bored, from the part's own corner: the two part axes that lie in the
face, x the first of them. RFC 4180, UTF-8, as the other lists.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from exporters.feature_record import entered
from exporters.tables import Row, marked, table
from ground.order import natural
from ground.quantities import Rounding, Units, angle_text
from ground.vectors import Vec, dot
from models.parts.assembly import Assembly
from models.parts.blank import FACES
from models.parts.cuts import Bore, Cone
from models.parts.features import Countersink, Hole
from models.parts.lowering import lower
from models.parts.part import Part

AXES = ("left", "front", "bottom")
"""The faces that x, y and z of a part are measured from."""

THROUGH = "through"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bored:
    """One hole of a part.

    ``at`` is its mouth (part axes), ``face`` the face or floor it starts from, ``depth`` None
    where it goes through, ``angle`` between its axis and the face in degrees, 90 square.
    """

    feature: Hole | Countersink
    face: str
    at: Vec
    axes: tuple[int, int]
    diameter: float
    depth: float | None
    angle: float


def bored(part: Part) -> Iterator[Bored]:
    """Every hole and countersink of ``part``, rows hole by hole."""
    for feature in part.features:
        if not isinstance(feature, Hole | Countersink):
            continue
        face = entered(feature.seat, feature.id, part)
        normal = _normal(part, face, feature.seat.into)
        steepest = max(range(3), key=lambda axis: abs(normal[axis]))
        first, second = (axis for axis in range(3) if axis != steepest)
        sine = abs(dot(normal, feature.seat.into))
        for cut in lower(feature, part.blank):
            if not isinstance(cut, Bore | Cone):
                continue
            through = isinstance(feature, Hole) and feature.depth is None
            yield Bored(
                feature=feature,
                face=face or "",
                at=cut.start,
                axes=(first, second),
                diameter=cut.diameter,
                depth=None if through else cut.depth,
                angle=math.degrees(math.asin(min(1.0, sine))),
            )


def _normal(part: Part, face: str | None, into: Vec) -> Vec:
    """The normal of the face that is bored; a floor looks back along what bores it."""
    plane = None if face is None else part.base_planes().get(face)
    return into if plane is None else plane.normal


def drilling_list(assembly: Assembly, units: Units) -> bytes:
    """Every hole of every part that is made, in natural order."""
    both = tuple(dict.fromkeys((units, Units.MM)))
    places = [f"{axis} ({unit.value})" for unit in both for axis in ("x", "y")]
    sizes = [f"{size} ({unit.value})" for unit in both for size in ("diameter", "depth")]
    head = ["part", "name", "quantity", "face", "x from", "y from", *places, "what", *sizes]
    rows: list[Row] = []
    for part in sorted((p for p in assembly.parts if p.made), key=lambda p: natural(p.label)):
        count = len(assembly.copies_of(part.label))
        rows += (_row(part, count, hole, both) for hole in sorted(bored(part), key=_order))
    return table([*head, "angle to face (degrees)", "what for"], rows)


def _order(hole: Bored) -> tuple[object, ...]:
    faces = list(FACES)
    place = faces.index(hole.face) if hole.face in faces else len(faces)
    at = tuple(round(hole.at[axis], 6) for axis in hole.axes)
    return (place, natural(hole.face), at, str(hole.feature.kind), hole.diameter)


def _row(part: Part, count: int, hole: Bored, both: tuple[Units, ...]) -> Row:
    row: Row = {
        "part": part.label,
        "name": part.name,
        "quantity": str(count),
        "face": hole.face,
        "x from": AXES[hole.axes[0]],
        "y from": AXES[hole.axes[1]],
        "what": str(hole.feature.kind),
        "angle to face (degrees)": angle_text(hole.angle),
        "what for": hole.feature.made_by,
    }
    for unit in both:
        for name, axis in zip(("x", "y"), hole.axes, strict=True):
            row[f"{name} ({unit.value})"] = marked(hole.at[axis], unit, Rounding.NEAREST)
        row[f"diameter ({unit.value})"] = marked(hole.diameter, unit, Rounding.NEAREST)
        deep = THROUGH if hole.depth is None else marked(hole.depth, unit, Rounding.NEAREST)
        row[f"depth ({unit.value})"] = deep
    return row
