"""Copies as convex pieces in piece axes, good enough to see whether one passes another.

Planar cuts are taken out; round holes, round-ended slots and the sockets of tails are left filled,
so a body is never less than the part. Lengths in mm.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from ground.vectors import ORIGIN, Frame, Plane, Vec
from models.parts.assembly import Assembly, Copy
from models.parts.blank import FACES, Blank
from models.parts.cuts import Convex
from models.parts.features import Feature, Trim, Waste, WasteKind
from models.parts.lowering import lower
from models.parts.part import Part

Array = NDArray[np.float64]

ON_PLANE = 1e-6
"""A corner this near a plane lies on it (mm)."""
THIN = 1e-3
"""A piece thinner than this is none (mm)."""
MOST_PIECES = 80
"""Beyond this many pieces a part keeps its remaining cuts filled."""
LEAST_CORNERS = 4
PARALLEL = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Piece:
    """A convex piece: ``corners`` (n, 3), the unit ``normals`` and ``edges`` of its sides."""

    corners: Array
    normals: Array
    edges: Array


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Body:
    """A copy in its place: its convex pieces and the box around them."""

    pieces: tuple[Piece, ...]
    low: Array
    high: Array

    @property
    def corners(self) -> Array:
        """Every corner of every piece."""
        return np.vstack([piece.corners for piece in self.pieces])

    @property
    def centre(self) -> Array:
        """The middle of the box."""
        return (self.low + self.high) / 2


def bodies(assembly: Assembly) -> dict[str, Body]:
    """Every copy of the piece as a body, by its id."""
    parts = {part.label: part for part in assembly.parts}
    return {copy.id: body(parts[copy.label], copy) for copy in assembly.copies}


def body(part: Part, copy: Copy) -> Body:
    """One copy in its place; a part that its cuts leave nothing of counts as its blank."""
    left = pieces_of(part.shape) or pieces_of((part.blank, ()))
    pieces = tuple(placed(piece, copy.placement) for piece in left)
    corners = np.vstack([piece.corners for piece in pieces])
    return Body(pieces=pieces, low=corners.min(axis=0), high=corners.max(axis=0))


def shifted(body: Body, by: Vec) -> Body:
    """A body moved aside."""
    if by == ORIGIN:
        return body
    shift = np.array(by)
    pieces = tuple(
        Piece(corners=piece.corners + shift, normals=piece.normals, edges=piece.edges)
        for piece in body.pieces
    )
    return Body(pieces=pieces, low=body.low + shift, high=body.high + shift)


def around(found: Mapping[str, Body], copies: Iterable[str]) -> Body:
    """Several bodies as one."""
    mine = [found[copy] for copy in copies]
    return Body(
        pieces=tuple(piece for one in mine for piece in one.pieces),
        low=np.min([one.low for one in mine], axis=0),
        high=np.max([one.high for one in mine], axis=0),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Lump:
    """A convex lump of wood while it is cut: the planes that bound it and its corners."""

    planes: tuple[Plane, ...]
    corners: Array


@lru_cache(maxsize=256)  # some five pieces' worth of parts
def pieces_of(shape: tuple[Blank, tuple[Feature, ...]]) -> tuple[Piece, ...]:
    """The convex pieces of a part, in its own axes."""
    blank, features = shape
    trims = (feature.plane for feature in features if isinstance(feature, Trim))
    whole = lump(*squared(blank), *trims)
    found = [] if whole is None else [whole]
    for feature in features:
        if isinstance(feature, Trim) or small(feature):
            continue
        for cut in lower(feature, blank):
            if isinstance(cut, Convex) and len(found) < MOST_PIECES:
                found = [left for one in found for left in less(one, cut)]
    return tuple(piece_of(one) for one in found)


def small(feature: Feature) -> bool:
    """Tell whether a cut only lets one part into the other along their joint's own way."""
    return isinstance(feature, Waste) and feature.kind in (WasteKind.SOCKET, WasteKind.FINGER)


def squared(blank: Blank) -> list[Plane]:
    """The six sides of the box around a blank, rod and all."""
    far = {"top": blank.thickness, "back": blank.width, "right": blank.length}
    return [Plane(normal, far.get(name, 0.0)) for name, normal in FACES.items()]


def less(wood: Lump, cut: Convex) -> list[Lump]:
    """What a convex cut leaves of a lump."""
    bite: list[Plane] = []
    for _, plane in cut.planes:
        heights = wood.corners @ np.array(plane.normal) - plane.offset
        if float(heights.min()) >= -THIN:
            return [wood]
        if float(heights.max()) > THIN:
            bite.append(plane)
    if lump(*wood.planes, *bite) is None:
        return [wood]
    left: list[Lump] = []
    inside: Lump | None = wood
    for plane in bite:
        if inside is None:
            break
        outer = lump(*inside.planes, plane.flipped())
        if outer is not None:
            left.append(outer)
        inside = lump(*inside.planes, plane)
    return left


def lump(*planes: Plane) -> Lump | None:
    """The lump inside every plane, idle planes left out; None where there is next to nothing."""
    normals = np.array([plane.normal for plane in planes])
    offsets = np.array([plane.offset for plane in planes])
    corners = met(normals, offsets)
    if len(corners) < LEAST_CORNERS:
        return None
    reach = corners @ normals.T
    if float((reach.max(axis=0) - reach.min(axis=0)).min()) < THIN:
        return None
    real = (np.abs(reach - offsets) <= 10 * ON_PLANE).sum(axis=0) >= LEAST_CORNERS - 1
    kept = tuple(plane for plane, bounds in zip(planes, real.tolist(), strict=True) if bounds)
    return Lump(planes=tuple(dict.fromkeys(kept)), corners=corners)


def piece_of(wood: Lump) -> Piece:
    """A lump with the lines that may part it from others."""
    normals = np.array([plane.normal for plane in wood.planes])
    offsets = np.array([plane.offset for plane in wood.planes])
    on = np.abs(wood.corners @ normals.T - offsets) <= 10 * ON_PLANE
    return Piece(corners=wood.corners, normals=lines(normals), edges=edges(normals, on))


def met(normals: Array, offsets: Array) -> Array:
    """The corners of a convex piece: where three planes meet, inside all others."""
    triples = _triples(len(offsets))
    a, b, c = (normals[triples[:, place]] for place in range(3))
    bc, ca, ab = np.cross(b, c), np.cross(c, a), np.cross(a, b)
    whole = np.einsum("ij,ij->i", a, bc)
    good = np.abs(whole) > PARALLEL
    off = offsets[triples[good]]
    points = off[:, :1] * bc[good] + off[:, 1:2] * ca[good] + off[:, 2:] * ab[good]
    points /= whole[good][:, None]
    inside = np.all(points @ normals.T <= offsets + ON_PLANE, axis=1)
    kept: Array = points[inside]
    return kept if len(kept) == 0 else np.unique(kept.round(6), axis=0)


@cache
def _triples(count: int) -> NDArray[np.int64]:
    return np.array(list(combinations(range(count), 3)))


def edges(normals: Array, on: NDArray[np.bool_]) -> Array:
    """The directions of the edges: of sides that share two corners."""
    shared = on.T.astype(int) @ on.astype(int)
    first, second = np.nonzero(np.triu(shared >= 2, 1))  # noqa: PLR2004 - an edge has two ends
    return lines(np.cross(normals[first], normals[second]))


def lines(vectors: Array) -> Array:
    """Unit vectors of distinct lines: a line and its opposite are one, nothing is none."""
    lengths = np.linalg.norm(vectors, axis=1)
    found = vectors[lengths > PARALLEL] / lengths[lengths > PARALLEL][:, None]
    leading = np.take_along_axis(found, np.abs(found).argmax(axis=1)[:, None], axis=1)
    return np.unique((found * np.sign(leading)).round(9), axis=0)


def placed(piece: Piece, frame: Frame) -> Piece:
    """A piece carried to where its copy stands."""
    turn = np.array((frame.x, frame.y, frame.z))
    return Piece(
        corners=piece.corners @ turn + np.array(frame.origin),
        normals=piece.normals @ turn,
        edges=piece.edges @ turn,
    )
