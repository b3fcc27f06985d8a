"""Legs as planes: what straight and splayed legs have in common, and the stick each is cut from.

A leg has two outer and two inner faces. Faces along X look to the sides of the piece, faces along
Y to its front or back; ``[0]`` and ``[1]`` of a pair follow that order, as do sizes and slopes.
"""

import math
from dataclasses import dataclass

from ground.tolerances import ANGLE_EPS, LENGTH_EPS
from ground.vectors import Frame, Plane, Vec, add, angle, cross, meet, neg, scale, sub, unit
from models.parts.blank import FACES
from models.parts.features import EasedEdge, Feature, Trim, TrimKind
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft, blank
from models.setting_out.trouble import trouble
from specs.base import Arris, Facet

Pair = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of the base: ``x`` is -1 at the left and 1 at the right, ``y`` -1 at the front."""

    x: int
    y: int

    @property
    def sides(self) -> tuple[int, int]:
        """The signs along X and along Y."""
        return (self.x, self.y)

    @property
    def name(self) -> str:
        """As a person would say it, seen from the front."""
        return f"{'front' if self.y < 0 else 'back'} {'left' if self.x < 0 else 'right'}"


CORNERS = (Corner(-1, -1), Corner(1, -1), Corner(-1, 1), Corner(1, 1))


@dataclass(frozen=True, slots=True, kw_only=True)
class LegNumbers:
    """A leg's section at its ``top`` and ``foot`` (mm), its plumb ``height`` between them.

    ``lift`` is what stands between foot and floor. ``outer`` and ``inner`` are how far the faces
    lean out of plumb (degrees), each the way that its foot goes outward.
    """

    top: Pair
    foot: Pair
    height: float
    lift: float
    outer: Pair
    inner: Pair


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """One leg in its place, piece axes; plane normals point out of it.

    ``inner`` are its inner faces beside the aprons; ``hull`` is every plane that bounds it.
    """

    key: str
    corner: Corner
    outer: tuple[Plane, Plane]
    inner: tuple[Plane, Plane]
    hull: tuple[Plane, ...]
    foot_centre: Vec


def leaning(corner: Corner, at: Vec, axis: int, lean: float, *, out: int) -> Plane:
    """A face of a leg through ``at`` that faces along ``axis``; its foot goes outward by ``lean``.

    ``out`` is 1 for an outer face, -1 for an inner one.
    """
    turn = math.radians(lean)
    level = math.cos(turn) * corner.sides[axis] * out
    up = math.sin(turn) * out
    normal: Vec = (level, 0.0, up) if axis == 0 else (0.0, level, up)
    return Plane.through(at, normal)


def tight(points: tuple[Vec, ...], x: Vec, y: Vec) -> tuple[Vec, Frame]:
    """The smallest blank with axes ``x`` and ``y`` round ``points``: its size and its frame."""
    turned = Frame(x, y)
    back = turned.inverse()
    inside = [back.direction(point) for point in points]
    lo: Vec = (min(p[0] for p in inside), min(p[1] for p in inside), min(p[2] for p in inside))
    hi: Vec = (max(p[0] for p in inside), max(p[1] for p in inside), max(p[2] for p in inside))
    return sub(hi, lo), Frame(x, y, turned.direction(lo))


@dataclass(frozen=True, slots=True, kw_only=True)
class Face:
    """A planar face of a part by name, in piece axes."""

    name: str
    kind: TrimKind
    plane: Plane


def trimmed(
    faces: tuple[Face, ...], size: Vec, frame: Frame, made_by: str
) -> tuple[tuple[Feature, ...], dict[str, str]]:
    """The trims that leave ``faces`` of a blank, and what each face is then called.

    A face that lies on the blank's own needs no cut and keeps the blank's name for it.
    """
    back = frame.inverse()
    cut: list[Feature] = []
    called: dict[str, str] = {}
    for face in faces:
        own = _blank_face(back.plane(face.plane), size)
        called[face.name] = own or face.name
        if own is None:
            cut.append(Trim(kind=face.kind, plane=face.plane, made_by=made_by, id=face.name))
    return tuple(cut), called


def _blank_face(plane: Plane, size: Vec) -> str | None:
    for name, normal in FACES.items():
        far = max(0.0, *(n * s for n, s in zip(normal, size, strict=True)))
        apart = max(abs(a - b) for a, b in zip(normal, plane.normal, strict=True))
        if apart < ANGLE_EPS and abs(plane.offset - far) < LENGTH_EPS:
            return name
    return None


def facet_plane(first: Plane, second: Plane, along: Plane, width: float) -> Plane:
    """The flat ``width`` wide, measured on it, across the arris of two faces.

    It lies evenly to both faces; with the angle w between them inside the wood it takes
    width / 2 / tan(w / 2) off the arris.
    """
    arris = meet(first, second, along)
    inside = math.radians(180.0 - angle(first.normal, second.normal))
    normal = unit(add(first.normal, second.normal))
    deep = width / 2 / math.tan(inside / 2)
    return Plane.through(add(arris, scale(normal, -deep)), normal)


def facet_takes(first: Plane, second: Plane, width: float) -> float:
    """How much of each face a facet takes, from the arris (mm)."""
    inside = math.radians(180.0 - angle(first.normal, second.normal))
    return width / 2 / math.sin(inside / 2)


def set_back_of(first: Plane, second: Plane, radius: float) -> float:
    """How much of each face a round-over of ``radius`` takes, from the arris (mm)."""
    return radius / math.tan(math.radians(180.0 - angle(first.normal, second.normal)) / 2)


def check_facet(outer: tuple[Plane, Plane], foot: Pair, facet: Facet, ease: float) -> None:
    """See that facet and round-overs leave something of the foot's faces.

    Raises:
        SettingOutError: the facet is wider than the foot allows.
    """
    takes = facet_takes(outer[0], outer[1], facet.width)
    left = min(foot) - takes - 2 * ease
    if left <= 0.0:
        most = facet.width * (min(foot) - 2 * ease) / takes
        raise trouble(
            ("base", "legs", "facet", "width"),
            f"takes {takes:.1f} mm of a foot face of {min(foot):.1f} mm that is eased as well; "
            f"keep it under {max(0.0, most):.1f} mm",
        )


def check_ease(foot: Pair, ease: float) -> None:
    """See that the round-overs leave something of the foot.

    Raises:
        SettingOutError: they meet.
    """
    if 2 * ease >= min(foot):
        raise trouble(
            ("base", "legs", "ease"),
            f"rounds away the whole foot of {min(foot):.1f} mm; keep it under {min(foot) / 2:.1f}",
        )


def facet_face(
    facet: Facet | None, outer: tuple[Plane, Plane], inner: tuple[Plane, Plane], top: Plane
) -> tuple[Face, ...]:
    """The facet as a face, if there is one."""
    if facet is None:
        return ()
    pair = outer if facet.arris is Arris.OUTER else inner
    plane = facet_plane(pair[0], pair[1], top, facet.width)
    return (Face(name="facet", kind=TrimKind.FACET, plane=plane),)


def eased(
    ring: tuple[str, ...], foot: str, called: dict[str, str], radius: float, made_by: str
) -> tuple[EasedEdge, ...]:
    """Round every arris of a ring of faces, and theirs with the foot; the top stays sharp."""
    long = zip(ring, (*ring[1:], ring[0]), strict=True)
    return tuple(
        EasedEdge(between=(called[a], called[b]), size=radius, made_by=made_by)
        for a, b in (*long, *((foot, side) for side in ring))
    )


def ring_of(faces: tuple[str, ...], facet: Facet | None) -> tuple[str, ...]:
    """``faces`` (outer-front, outer-side, inner-front, inner-side) with the facet in its place."""
    if facet is None:
        return faces
    after = 1 if facet.arris is Arris.OUTER else 3
    return (*faces[:after], "facet", *faces[after:])


def lay_leg(
    bench: Bench, leg: Leg, material: str, stick: tuple[Vec, Frame], show: str | None
) -> Draft:
    """Put the leg's blank on the bench: a ``stick`` of its size in its frame."""
    size, frame = stick
    return bench.put(
        Draft(
            key=leg.key,
            letter="B",
            name="leg",
            group=("base",),
            kind=PartKind.LUMBER,
            material=material,
            blank=blank(size),
            frame=frame,
            show=show,
        )
    )


def stick_axes(outer: tuple[Plane, Plane], down: Vec) -> tuple[Vec, Vec]:
    """The x and y of the stick that a leg is cut from.

    x runs down the outer arris and the outer front face lies on the stick's own bottom face: that
    face and the arris are the only ones that the maker can keep to measure every cut from.
    """
    z = neg(outer[1].normal)
    along = unit(cross(outer[0].normal, outer[1].normal))
    x = along if along[2] * down[2] > 0 else neg(along)
    return x, cross(z, x)
