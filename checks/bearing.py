"""What stands under a level panel: how hard the panel presses on the ends of its dividers."""

from collections.abc import Iterator
from itertools import pairwise

from checks.members import Member, members
from checks.placed import Piece, Placed
from ground.findings import Finding, Severity

OVER_INNER = 1.25
"""An inner support of two equal spans carries this much more than half of each (statics of a
continuous beam: 5/4 of w L)."""
BEARS = 5.0
"""What wood-based panels bear on an end or a face (MPa; from memory, low confidence)."""
UNDER = 3.0
"""A divider's middle lies this near to the place of a support (mm)."""


def find_bearing(piece: Piece) -> Iterator[Finding]:
    """Say which divider or side is pressed too hard by what lies on it."""
    for member in members(piece):
        for way in member.ways:
            if way.axis != 0 or member.plate:
                continue
            inner = [OVER_INNER * (a + b) / 2 for a, b in pairwise(way.spans)]
            carried = (way.spans[0] / 2, *inner, way.spans[-1] / 2)
            for place, length in zip(way.places, carried, strict=True):
                yield from _pressed(piece, member, place, length)


def _pressed(piece: Piece, member: Member, place: float, length: float) -> Iterator[Finding]:
    support = _under(piece, member, place)
    if support is None:
        return
    panel = member.panel
    force = member.pressure * length * panel.size[1] + member.point
    area = support.size[0] * min(support.size[1], panel.size[1])
    stress = force / area
    if stress > BEARS:
        yield Finding(
            code="load.bearing",
            severity=Severity.WARNING,
            subject=f"{panel.spoken} on {support.spoken}",
            message=f"{force:.0f} N press {stress:.1f} MPa into {area:.0f} mm2; make it "
            f"{support.size[0] * stress / BEARS:.1f} mm thick, or add a support beside it",
            copies=(support.id, panel.id),
            value=round(stress, 6),
            limit=BEARS,
            unit="MPa",
            source="bearing of wood-based panels, from memory (low confidence)",
        )


def _under(piece: Piece, member: Member, place: float) -> Placed | None:
    """The upright panel that a support's place belongs to."""
    for one in piece.placed:
        upright = one.wood and one.fixed and one.thin_along(0) and one is not member.panel
        near = one.lo[0] - UNDER <= place <= one.hi[0] + UNDER
        if upright and near and one.lo[2] < member.panel.lo[2] <= one.hi[2] + UNDER:
            return one
    return None
