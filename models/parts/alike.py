"""Which parts are one and the same: alike by rotation, or a left and a right.

Two parts are one if turning one of them end for end, edge for edge or over lays every cut on a cut
of the other. If only a mirror does it, they are a pair and must be listed as two.
"""

from collections.abc import Iterator
from functools import lru_cache
from itertools import permutations, product
from typing import assert_never

from ground.tolerances import close
from ground.vectors import Frame, Plane, Vec, cross, dot, neg, scale, sub
from models.parts.blank import FACES, Blank, Grain, Section
from models.parts.cuts import Bore, Cone, Convex, Cut, Edge, Slot
from models.parts.features import Feature, Hole
from models.parts.part import Part, base_planes, cuts_of

Signature = tuple[tuple[object, ...], ...]

Rows = tuple[Vec, Vec, Vec]
"""A turn (or a mirror) as the images of x, y and z, column by column."""

_OFF_THE_TIE = 3.21e-6
# Sizes are tidy decimals; shifted by an untidy bit, none of them lies on the edge of a rounding
# step, so a size reached by two ways of adding up still rounds to one number.


def turns(blank: Blank, *, mirrored: bool = False) -> Iterator[Rows]:
    """Every turn that lays the blank's box, grain and section on themselves; the plain one first.

    ``mirrored``: every such mirror instead.
    """
    size = blank.size
    wanted = -1.0 if mirrored else 1.0
    for order in permutations(range(3)):
        if not all(close(size[order[i]], size[i]) for i in range(3)):
            continue
        if (blank.grain is not Grain.NONE or blank.section is not Section.SQUARED) and (
            order[0] != 0 or (blank.grain is Grain.WIDTH and order[1] != 1)
        ):
            continue
        for signs in product((1.0, -1.0), repeat=3):
            x, y, z = (
                scale(((1.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0))[order[i]], signs[i]) for i in range(3)
            )
            if dot(cross(x, y), z) == wanted:
                yield (x, y, z)


def same_under(one: Part, other: Part, *, mirrored: bool = False) -> Rows | None:
    """The turn (or mirror) that lays ``other`` on ``one``, None if there is none."""
    if not _comparable(one, other):
        return None
    target = signature(one, _PLAIN)
    for rows in turns(other.blank, mirrored=mirrored):
        if signature(other, rows) == target:
            return rows
    return None


def turned(placement: Frame, rows: Rows, blank: Blank) -> Frame:
    """Where a part alike by ``rows`` stands, if the part it is alike to is put in its place.

    ``placement`` is of the part that ``rows`` lays on the other.
    """
    there = _about_centre(rows, blank)
    return there.inverse().then(placement)


def signature(part: Part, rows: Rows) -> Signature:
    """All that can be seen of ``part`` once turned, in an order that does not depend on names."""
    return _signature(part.blank, part.features, part.show, part.banded, rows)


@lru_cache(maxsize=512)  # some five pieces' worth: most parts are as they were after an edit
def _signature(
    blank: Blank,
    features: tuple[Feature, ...],
    show: str | None,
    banded: tuple[str, ...],
    rows: Rows,
) -> Signature:
    move = _Move(rows, blank)
    base = base_planes(blank, features)
    words: list[tuple[object, ...]] = [
        (str(feature.kind), *_geometry(base, cut, move, through=_is_through(feature)))
        for feature, cut in cuts_of(blank, features)
    ]
    words += [("show", *_vector(move.direction(FACES[show])))] if show else []
    words += [("banded", *_vector(move.direction(FACES[face]))) for face in banded]
    return tuple(sorted(words, key=repr))


_PLAIN: Rows = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


class _Move:
    """A turn or mirror about the blank's centre."""

    def __init__(self, rows: Rows, blank: Blank) -> None:
        self.rows = rows
        self.centre = blank.centre

    def direction(self, d: Vec) -> Vec:
        x, y, z = self.rows
        return (
            x[0] * d[0] + y[0] * d[1] + z[0] * d[2],
            x[1] * d[0] + y[1] * d[1] + z[1] * d[2],
            x[2] * d[0] + y[2] * d[1] + z[2] * d[2],
        )

    def point(self, p: Vec) -> Vec:
        """The place of ``p`` once turned, seen from the centre."""
        return self.direction(sub(p, self.centre))


def _about_centre(rows: Rows, blank: Blank) -> Frame:
    bare = Frame(rows[0], rows[1])
    return Frame(rows[0], rows[1], sub(blank.centre, bare.direction(blank.centre)))


def _comparable(one: Part, other: Part) -> bool:
    same = all(close(a, b) for a, b in zip(one.blank.size, other.blank.size, strict=True))
    return (
        same
        and (one.name, one.kind, one.material, one.made, one.stage)
        == (other.name, other.kind, other.material, other.made, other.stage)
        and (one.blank.grain, one.blank.section, one.blank.layers, one.blank.staves)
        == (other.blank.grain, other.blank.section, other.blank.layers, other.blank.staves)
        and len(one.features) == len(other.features)
    )


def _number(value: float) -> float:
    return round(value + _OFF_THE_TIE, 4) + 0.0


def _vector(v: Vec) -> Vec:
    return (_number(v[0]), _number(v[1]), _number(v[2]))


def _is_through(feature: object) -> bool:
    return isinstance(feature, Hole) and feature.depth is None


def _plane(plane: Plane, move: _Move) -> tuple[object, ...]:
    return (
        *_vector(move.direction(plane.normal)),
        _number(plane.offset - dot(plane.normal, move.centre)),
    )


def _geometry(
    base: dict[str, Plane], cut: Cut, move: _Move, *, through: bool
) -> tuple[object, ...]:
    match cut:
        case Convex(planes=planes):
            return ("convex", tuple(sorted(_plane(plane, move) for _, plane in planes)))
        case Bore(start=start, into=into):
            if through:
                return ("bore", *_through(start, into, move), _number(cut.diameter))
            depth = (_number(cut.diameter), _number(cut.depth), _number(cut.lead))
            return ("bore", _vector(move.point(start)), _vector(move.direction(into)), *depth)
        case Cone(start=start, into=into):
            cone = (_number(cut.diameter), _number(cut.tip_diameter), _number(cut.depth))
            return ("cone", _vector(move.point(start)), _vector(move.direction(into)), *cone)
        case Slot(start=start, into=into):
            ways = sorted(_vector(move.direction(d)) for d in (cut.along, neg(cut.along)))
            size = (_number(cut.length), _number(cut.width), _number(cut.depth))
            return ("slot", _vector(move.point(start)), _vector(move.direction(into)), *ways, *size)
        case Edge(between=between):
            pair = tuple(sorted(_plane(base[name], move) for name in between))
            return ("edge", pair, _number(cut.size), cut.profile.value)
    assert_never(cut)


def _through(start: Vec, into: Vec, move: _Move) -> tuple[object, ...]:
    """A hole right through can be bored from either side: only its axis counts."""
    way = move.direction(into)
    from_centre = move.point(start)
    foot = sub(from_centre, scale(way, dot(from_centre, way)))
    return (_vector(foot), max(_vector(way), _vector(neg(way))))
