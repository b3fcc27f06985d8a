"""Splayed legs: four planar sides between a level rectangle at the top and one at the foot."""

import math

from ground.vectors import Plane, Vec, Z, meet, neg
from models.parts.features import TrimKind
from models.setting_out.bench import Bench
from models.setting_out.legs import (
    Corner,
    Face,
    Leg,
    LegNumbers,
    check_ease,
    check_facet,
    eased,
    facet_face,
    lay_leg,
    leaning,
    ring_of,
    stick_axes,
    tight,
    trimmed,
)
from specs.base import Facet, SplayedLegs

MADE_BY = "base.legs"


def splayed_numbers(base: SplayedLegs) -> LegNumbers:
    """Every angle of a splayed leg.

    The outer faces lean by the splay; an inner face leans by what it tapers as well:
    tan(inner) = tan(outer) + (top - foot) / height. With height 190, top 58, foot 30 and splay
    9 and 4 degrees the inner faces lean 17.0012 and 12.2595.
    """
    lift = base.feet.thickness if base.feet else 0.0
    height = base.height - lift
    legs = base.legs
    outer = (legs.splay.front, legs.splay.side)
    taper = tuple((top - foot) / height for top, foot in zip(legs.top, legs.foot, strict=True))
    inner = (inner_lean(outer[0], taper[0]), inner_lean(outer[1], taper[1]))
    return LegNumbers(
        top=legs.top, foot=legs.foot, height=height, lift=lift, outer=outer, inner=inner
    )


def inner_lean(outer: float, taper: float) -> float:
    """How far an inner face leans (degrees): the splay, and the ``taper`` (mm per mm) on it."""
    return math.degrees(math.atan(math.tan(math.radians(outer)) + taper))


def shoulder(inner: float, lean: float) -> tuple[float, float]:
    """An apron's shoulder on its face and the blade's tilt (degrees).

    ``inner`` is how far the leg's inner face leans, ``lean`` how far the apron does: the long
    apron between inner faces of 17.0012 and leaning by 4 has 16.9621 and 1.1687.
    """
    face, own = math.radians(inner), math.radians(lean)
    mitre = math.atan(math.tan(face) * math.cos(own))
    return math.degrees(mitre), math.degrees(math.asin(math.sin(face) * math.sin(own)))


def splayed_leg(corner: Corner, at: Vec, numbers: LegNumbers, facet: Facet | None = None) -> Leg:
    """The leg whose outer top corner is ``at`` (piece axes)."""
    inside = (
        at[0] - corner.x * numbers.top[0],
        at[1] - corner.y * numbers.top[1],
        at[2],
    )
    outer = (
        leaning(corner, at, 0, numbers.outer[0], out=1),
        leaning(corner, at, 1, numbers.outer[1], out=1),
    )
    inner = (
        leaning(corner, inside, 0, numbers.inner[0], out=-1),
        leaning(corner, inside, 1, numbers.inner[1], out=-1),
    )
    top, foot = Plane(Z, at[2]), Plane(neg(Z), -(at[2] - numbers.height))
    near, far = meet(outer[0], outer[1], foot), meet(inner[0], inner[1], foot)
    return Leg(
        key=f"base/leg {corner.name}",
        corner=corner,
        outer=outer,
        inner=inner,
        hull=(
            *outer,
            *inner,
            top,
            foot,
            *(face.plane for face in facet_face(facet, outer, inner, top)),
        ),
        foot_centre=((near[0] + far[0]) / 2, (near[1] + far[1]) / 2, foot.offset * -1.0),
    )


def lay_splayed_leg(bench: Bench, base: SplayedLegs, leg: Leg) -> None:
    """Cut the leg from a squared stick along its outer arris; round what is to be eased.

    The arris is where the maker's straight edge and the grain can both stay: every other long
    edge is cut to a taper.

    Raises:
        SettingOutError: the facet or the round-overs leave no foot.
    """
    legs, top, foot = base.legs, leg.hull[4], leg.hull[5]
    ease = legs.ease or 0.0
    check_ease(legs.foot, ease)
    if legs.facet is not None:
        check_facet(leg.outer, legs.foot, legs.facet, ease)
    corners = tuple(
        meet(a, b, end)
        for a in (leg.outer[0], leg.inner[0])
        for b in (leg.outer[1], leg.inner[1])
        for end in (top, foot)
    )
    size, frame = tight(corners, *stick_axes(leg.outer, neg(Z)))
    faces = (
        Face(name="outer-front", kind=TrimKind.SPLAY, plane=leg.outer[1]),
        Face(name="outer-side", kind=TrimKind.SPLAY, plane=leg.outer[0]),
        Face(name="inner-front", kind=TrimKind.TAPER, plane=leg.inner[1]),
        Face(name="inner-side", kind=TrimKind.TAPER, plane=leg.inner[0]),
        Face(name="head", kind=TrimKind.END, plane=top),
        Face(name="foot", kind=TrimKind.END, plane=foot),
        *facet_face(legs.facet, leg.outer, leg.inner, top),
    )
    cuts, called = trimmed(faces, size, frame, MADE_BY)
    draft = lay_leg(bench, leg, legs.material, (size, frame), "bottom")
    draft.note = "the outer face on the stick's own face; every angle is taken from it"
    bench.cut(leg.key, cuts)
    if ease:
        ring = ring_of(("outer-front", "outer-side", "inner-front", "inner-side"), legs.facet)
        bench.cut(leg.key, eased(ring, "foot", called, ease, "base.legs.ease"))
