"""Straight legs: square through the aprons, tapered below them, so that shoulders stay square."""

import math
from dataclasses import dataclass

from ground.vectors import Plane, Vec, Z, meet, neg
from models.parts.features import EasedEdge, TrimKind
from models.setting_out.bench import Bench
from models.setting_out.legs import (
    Corner,
    Face,
    Leg,
    LegNumbers,
    Pair,
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
from models.setting_out.trouble import trouble
from specs.base import StraightLegs, TaperFaces

MADE_BY = "base.legs"
RING = ("outer-front", "outer-side", "inner-front", "inner-side")

_SHARES: dict[TaperFaces, Pair] = {
    TaperFaces.INSIDE: (0.0, 1.0),
    TaperFaces.OUTSIDE: (1.0, 0.0),
    TaperFaces.ALL: (0.5, 0.5),
}
"""What of a leg's taper its outer and its inner face take."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TaperNumbers:
    """From the leg's top down to where it ``starts``, and what outer and inner faces lose (mm).

    ``outer`` and ``inner`` go by the way that a face looks: along the length, along the depth.
    """

    starts: float
    length: float
    outer: Pair
    inner: Pair


def straight_numbers(base: StraightLegs) -> LegNumbers:
    """A straight leg's sizes: nothing leans."""
    lift = base.feet.thickness if base.feet else 0.0
    return LegNumbers(
        top=base.legs.top,
        foot=base.legs.foot or base.legs.top,
        height=base.height - lift,
        lift=lift,
        outer=(0.0, 0.0),
        inner=(0.0, 0.0),
    )


def taper_numbers(base: StraightLegs, numbers: LegNumbers) -> TaperNumbers | None:
    """What each face loses from where the taper starts to the foot.

    Raises:
        SettingOutError: the taper starts below the foot.
    """
    taper = base.legs.taper
    if taper is None or numbers.top == numbers.foot:
        return None
    length = numbers.height - taper.starts
    if length <= 0.0:
        raise trouble(
            ("base", "legs", "taper", "starts"),
            f"lies below the foot, which is {numbers.height:.1f} mm from the leg's top; "
            "start the taper higher",
        )
    share = _SHARES[taper.faces]
    loses = tuple(top - foot for top, foot in zip(numbers.top, numbers.foot, strict=True))
    return TaperNumbers(
        starts=taper.starts,
        length=length,
        outer=(loses[0] * share[0], loses[1] * share[0]),
        inner=(loses[0] * share[1], loses[1] * share[1]),
    )


def straight_leg(corner: Corner, at: Vec, numbers: LegNumbers, base: StraightLegs) -> Leg:
    """The leg whose outer top corner is ``at`` (piece axes)."""
    inside = (at[0] - corner.x * numbers.top[0], at[1] - corner.y * numbers.top[1], at[2])
    outer = (leaning(corner, at, 0, 0.0, out=1), leaning(corner, at, 1, 0.0, out=1))
    inner = (leaning(corner, inside, 0, 0.0, out=-1), leaning(corner, inside, 1, 0.0, out=-1))
    top, foot = Plane(Z, at[2]), Plane(neg(Z), numbers.height - at[2])
    taper = taper_numbers(base, numbers)
    middle = tuple(
        at[axis]
        - corner.sides[axis] * ((taper.outer[axis] if taper else 0.0) + numbers.foot[axis] / 2)
        for axis in (0, 1)
    )
    tapers = tuple(face.plane for face in _tapers(corner, at, inside, taper))
    facet = tuple(face.plane for face in facet_face(base.legs.facet, outer, inner, top))
    return Leg(
        key=f"base/leg {corner.name}",
        corner=corner,
        outer=outer,
        inner=inner,
        hull=(*outer, *inner, top, foot, *tapers, *facet),
        foot_centre=(middle[0], middle[1], at[2] - numbers.height),
    )


def _tapers(corner: Corner, at: Vec, inside: Vec, taper: TaperNumbers | None) -> tuple[Face, ...]:
    if taper is None:
        return ()
    faces: list[Face] = []
    down = at[2] - taper.starts
    for axis, word in ((1, "front"), (0, "side")):
        sides = (("outer", at, taper.outer[axis], 1), ("inner", inside, taper.inner[axis], -1))
        for which, start, loses, out in sides:
            if loses <= 0.0:
                continue
            lean = math.degrees(math.atan2(loses, taper.length)) * -out
            plane = leaning(corner, (start[0], start[1], down), axis, lean, out=out)
            faces.append(Face(name=f"taper-{which}-{word}", kind=TrimKind.TAPER, plane=plane))
    return tuple(faces)


def lay_straight_leg(bench: Bench, base: StraightLegs, leg: Leg, numbers: LegNumbers) -> None:
    """Cut the leg from its squared stick, round what is to be eased.

    Raises:
        SettingOutError: the facet, the taper or the round-overs leave no leg.
    """
    legs, top, foot = base.legs, leg.hull[4], leg.hull[5]
    ease = legs.ease or 0.0
    check_ease(numbers.foot, ease)
    if legs.facet is not None:
        check_facet(leg.outer, numbers.foot, legs.facet, ease)
    at = meet(leg.outer[0], leg.outer[1], top)
    inside = meet(leg.inner[0], leg.inner[1], top)
    down = (0.0, 0.0, -numbers.height)
    low_at = meet(leg.outer[0], leg.outer[1], foot)
    size, frame = tight(
        (at, inside, low_at, meet(leg.inner[0], leg.inner[1], foot)), *stick_axes(leg.outer, down)
    )
    tapers = _tapers(leg.corner, at, inside, taper_numbers(base, numbers))
    plain = (
        Face(name="outer-front", kind=TrimKind.END, plane=leg.outer[1]),
        Face(name="outer-side", kind=TrimKind.END, plane=leg.outer[0]),
        Face(name="inner-front", kind=TrimKind.END, plane=leg.inner[1]),
        Face(name="inner-side", kind=TrimKind.END, plane=leg.inner[0]),
        Face(name="head", kind=TrimKind.END, plane=top),
        Face(name="foot", kind=TrimKind.END, plane=foot),
    )
    facet = facet_face(legs.facet, leg.outer, leg.inner, top)
    cuts, called = trimmed((*plain, *tapers, *facet), size, frame, MADE_BY)
    # Two faces show alike, so that a leg turned a quarter serves at the next corner.
    draft = lay_leg(bench, leg, legs.material, (size, frame), None)
    if tapers:
        draft.note = "joints are cut before the taper, while the leg is square"
    bench.cut(leg.key, cuts)
    if ease:
        bench.cut(leg.key, _eased(leg, base, tapers, called))


def _eased(
    leg: Leg, base: StraightLegs, tapers: tuple[Face, ...], called: dict[str, str]
) -> tuple[EasedEdge, ...]:
    """Round the long arrises above and below the start of the taper, and the foot's."""
    legs = base.legs
    upper = ring_of(RING, legs.facet)
    below = {face.name.removeprefix("taper-"): face.name for face in tapers}
    lower = tuple(below.get(name, name) for name in _lower_ring(leg, base, tapers, upper))
    radius = legs.ease or 0.0
    rounded = [
        *eased(lower, "foot", called, radius, f"{MADE_BY}.ease"),
        *eased(upper, "foot", called, radius, f"{MADE_BY}.ease")[: len(upper)],
    ]
    return tuple({frozenset(edge.between): edge for edge in rounded}.values())


def _lower_ring(
    leg: Leg, base: StraightLegs, tapers: tuple[Face, ...], upper: tuple[str, ...]
) -> tuple[str, ...]:
    """The ring of faces at the foot: a taper may have run a facet out before it."""
    facet = facet_face(base.legs.facet, leg.outer, leg.inner, leg.hull[4])
    if not facet:
        return upper
    named = {face.name: face.plane for face in tapers}
    pair = base.legs.facet.arris.value if base.legs.facet else "outer"
    own = leg.outer if pair == "outer" else leg.inner
    sides = (named.get(f"taper-{pair}-side", own[0]), named.get(f"taper-{pair}-front", own[1]))
    left = facet[0].plane.height(meet(sides[0], sides[1], leg.hull[5])) > 0.0
    return upper if left else RING
