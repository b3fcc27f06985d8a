"""Holes that break into another joint's groove, dado, slot or mortise inside one part.

Each hole counts as the eight-sided prism inside it, so what is found is found for certain. What
one joint or one fitting bores into its own cuts is meant so.
"""

import math
from collections.abc import Iterator
from typing import Final

from checks.placed import Piece
from checks.shared import bite_of
from checks.solid_geometry import Body, apart, corners, inside, lump
from ground.findings import Finding, Severity
from ground.tolerances import CLASH_VOLUME
from ground.vectors import Vec, add, along, cross, scale, unit
from models.parts.cuts import Bore
from models.parts.features import Channel, Hole, HoleKind, Mortise
from models.parts.lowering import lower
from models.parts.part import Part

SIDES: Final = 8
BORED: Final = (
    HoleKind.PILOT,
    HoleKind.DOWEL,
    HoleKind.PIN,
    HoleKind.SHELF_PIN,
    HoleKind.HINGE_CUP,
    HoleKind.POCKET,
)
"""Holes that need wood all round them; hook holes and recesses are looked at where they are set."""


def find_cuts_meet(piece: Piece) -> Iterator[Finding]:
    """Say which hole breaks into which cut: once for each two of a part."""
    for part in piece.assembly.parts:
        if part.made:
            seen: set[tuple[str, str]] = set()
            for hole, cut, volume, at in _meetings(part):
                pair = (hole.made_by, cut.made_by)
                if pair not in seen:
                    seen.add(pair)
                    yield _finding(piece, part, (hole, cut), (volume, at))


def _meetings(part: Part) -> Iterator[tuple[Hole, Channel | Mortise, float, Vec]]:
    """Every hole and cut that share space, how much, and where the hole begins."""
    holes = [one for one in part.features if isinstance(one, Hole) and one.kind in BORED]
    cuts = [one for one in part.features if isinstance(one, Channel | Mortise)]
    if not holes or not cuts:
        return
    walls = tuple(part.base_planes().values())
    spaces = [(one, bite_of(made, {})) for one in cuts for made in lower(one, part.blank)]
    for hole in holes:
        for bore in lower(hole, part.blank):
            if not isinstance(bore, Bore):
                continue
            body = prism(bore)
            points = corners(body)
            for cut, space in spaces:
                if own(hole.made_by, cut.made_by) or apart(points, space):
                    continue
                volume = lump(inside(body, (*space, *walls))).volume
                if volume > CLASH_VOLUME:
                    yield (hole, cut, volume, bore.start)


def own(one: str, other: str) -> bool:
    """Whether two cuts belong to one joint: ``case.corners.top`` and ``case.joints.top`` do."""
    return _place(one) == _place(other)


def _place(made_by: str) -> str:
    return made_by.replace(".corners.", ".").replace(".joints.", ".")


def prism(bore: Bore) -> Body:
    """The eight-sided prism inside a bore: its corners lie on the bore's wall."""
    other = (1.0, 0.0, 0.0) if abs(bore.into[0]) < 0.9 else (0.0, 1.0, 0.0)  # noqa: PLR2004 - any
    side = unit(cross(bore.into, other))
    up = cross(bore.into, side)
    radius = bore.diameter / 2
    turn = 2 * math.pi / SIDES
    spokes = [
        add(scale(side, radius * math.cos(i * turn)), scale(up, radius * math.sin(i * turn)))
        for i in range(SIDES)
    ]
    near = tuple(add(bore.start, spoke) for spoke in spokes)
    far = tuple(along(p, bore.into, bore.depth) for p in near)
    walls = tuple(
        (near[i], near[(i + 1) % SIDES], far[(i + 1) % SIDES], far[i]) for i in range(SIDES)
    )
    return (tuple(reversed(near)), far, *walls)


def _finding(
    piece: Piece, part: Part, met: tuple[Hole, Channel | Mortise], where: tuple[float, Vec]
) -> Finding:
    hole, cut = met
    volume, at = where
    copies = piece.assembly.copies_of(part.label)
    return Finding(
        code="fit.hole_in_cut",
        severity=Severity.WARNING,
        subject=f"{part.label} {part.name}",
        message=f"the {hole.kind.value} of {hole.made_by} breaks into the {cut.kind} of "
        f"{cut.made_by}, {volume:.0f} mm3 of it; move one of them, or bore less deep",
        copies=tuple(copy.id for copy in copies),
        at=copies[0].placement.point(at),
        value=round(volume, 3),
        limit=CLASH_VOLUME,
        unit="mm3",
        source="design rule: no two joints in one place",
    )
