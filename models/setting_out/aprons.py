"""Aprons: boards on edge between the legs, parallel to the legs' outer faces."""

from dataclasses import dataclass

from ground.vectors import Plane, Vec, X, Y, Z, cross, dot, meet, neg, scale, sub, unit
from models.parts.features import TrimKind
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.draft import Draft, blank
from models.setting_out.legs import Face, Leg, tight, trimmed
from models.setting_out.tenons import RailEnd
from models.setting_out.trouble import trouble
from specs.base import Aprons

MADE_BY = "base.aprons"
AXES = (X, Y)
OPPOSITE = -0.7
"""Planes whose normals have a cosine under this look the other way."""
NAMES = {(1, -1): "front", (1, 1): "back", (0, -1): "left", (0, 1): "right"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Apron:
    """One apron in its place, piece axes.

    It looks out along axis ``axis`` (0 X, 1 Y) to ``side`` (-1 or 1). ``outer`` and ``inner`` are
    its faces, normals out of the wood. ``legs`` stand at its left and right end as seen from
    outside; ``low`` and ``high`` are its level edges.
    """

    key: str
    axis: int
    side: int
    outer: Plane
    inner: Plane
    legs: tuple[Leg, Leg]
    low: float
    high: float

    @property
    def out(self) -> Vec:
        """Level, from the piece's middle outwards."""
        return scale(AXES[self.axis], float(self.side))

    @property
    def thickness(self) -> float:
        """Between its faces, square to them (mm)."""
        return self.outer.offset + self.inner.offset

    @property
    def level_thickness(self) -> float:
        """Between its faces, level (mm)."""
        return self.thickness / abs(dot(self.outer.normal, self.out))

    @property
    def home(self) -> Vec:
        """The way that it goes home with its frame: square to the legs' other inner faces."""
        return self.legs[0].inner[self.axis].normal

    @property
    def x(self) -> Vec:
        """The way of its length: to the right, seen from outside."""
        return cross(self.y, self.outer.normal)

    @property
    def y(self) -> Vec:
        """The way of its width: up its face."""
        z = self.outer.normal
        return unit(sub(Z, scale(z, dot(z, Z))))

    @property
    def level(self) -> tuple[Plane, Plane]:
        """Its lower and its upper edge."""
        return Plane(neg(Z), -self.low), Plane(Z, self.high)

    def face_of(self, leg: Leg) -> Plane:
        """The joint's face with ``leg``; the normal points into the leg."""
        return leg.inner[1 - self.axis].flipped()

    def end(self, leg: Leg) -> RailEnd:
        """Where it meets ``leg``."""
        face = self.face_of(leg)
        mid = (self.outer.offset - self.inner.offset) / 2
        return RailEnd(
            mid=Plane(self.outer.normal, mid),
            face=face,
            low=self.low,
            high=self.high,
            rail=(self.outer, self.inner, *self.level),
            # The joint's own face, and a taper that starts below it, are open at the mouth.
            leg=tuple(p for p in leg.hull if dot(p.normal, face.normal) > OPPOSITE),
        )

    def corners(self) -> tuple[Vec, ...]:
        """The eight corners between its shoulders."""
        return tuple(
            meet(face, level, self.face_of(leg))
            for face in (self.outer, self.inner)
            for level in self.level
            for leg in self.legs
        )

    def run(self, point: Vec) -> float:
        """How far along the apron ``point`` lies (mm, from the piece's origin)."""
        return dot(point, self.x)


def aprons(spec: Aprons, legs: tuple[Leg, ...], high: float) -> tuple[Apron, ...]:
    """The four aprons: front, back, left, right.

    Raises:
        SettingOutError: legs leave no room between them.
    """
    made: list[Apron] = []
    for (axis, side), name in NAMES.items():
        near, far = (leg for leg in legs if leg.corner.sides[axis] == side)
        face = near.outer[axis]
        outer = Plane(face.normal, face.offset - spec.set_back)
        inner = Plane(neg(face.normal), spec.thickness - outer.offset)
        first, second = sorted((near, far), key=lambda leg: leg.corner.sides[1 - axis])
        # Seen from outside, the right hand is at +X in front and on the left at -Y.
        swapped = (axis == 1) == (side > 0)
        made.append(
            Apron(
                key=f"base/apron {name}",
                axis=axis,
                side=side,
                outer=outer,
                inner=inner,
                legs=(second, first) if swapped else (first, second),
                low=high - spec.height,
                high=high,
            )
        )
    for apron in made:
        _must_have_length(apron)
    return tuple(made)


def _must_have_length(apron: Apron) -> None:
    ends = [apron.run(corner) for corner in apron.corners()]
    room = min(ends[1::2]) - max(ends[0::2])
    if room <= 0.0:
        where = 0 if apron.axis == 1 else 1
        raise trouble(
            ("base", "legs", "top", where),
            f"leaves {room:.1f} mm between the legs for the {apron.key.split()[-1]} apron; "
            "make the legs thinner or set them in less",
        )


def lay_apron(bench: Bench, spec: Aprons, apron: Apron, tenons: tuple[Vec, ...]) -> None:
    """Cut an apron to its bevelled edges and, without ``tenons``, to its shoulders.

    ``tenons`` are the corners of the tenons left on its ends (piece axes): the blank reaches them.
    ``height`` is plumb: a leaning apron's blank is height / cos + thickness x tan wide.
    """
    size, frame = tight((*apron.corners(), *tenons), apron.x, apron.y)
    low, high = apron.level
    faces = [
        Face(name="lower-edge", kind=TrimKind.BEVEL, plane=low),
        Face(name="upper-edge", kind=TrimKind.BEVEL, plane=high),
    ]
    if not tenons:
        faces += [
            Face(name=f"shoulder-{name}", kind=TrimKind.SHOULDER, plane=apron.face_of(leg))
            for name, leg in zip(("left", "right"), apron.legs, strict=True)
        ]
    cuts, _ = trimmed(tuple(faces), size, frame, MADE_BY)
    bench.put(
        Draft(
            key=apron.key,
            letter="B",
            name="long apron" if apron.axis == 1 else "side apron",
            group=("base",),
            kind=PartKind.LUMBER,
            material=spec.material,
            blank=blank(size),
            frame=frame,
            show="top",
        )
    )
    bench.cut(apron.key, cuts)
