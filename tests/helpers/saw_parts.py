"""Legs, aprons, hopper-like sides and mitred panels, drawn at random, as parts with planar cuts."""

import itertools
import math

import numpy as np
from hypothesis import strategies as st

from ground.vectors import Plane, unit
from models.parts.blank import Blank
from models.parts.features import Trim, TrimKind
from models.parts.part import Part, PartKind


def part(blank: Blank, cuts: dict[str, Plane], kind: PartKind = PartKind.LUMBER) -> Part:
    """A part of these cuts; those called foot, head or end are cut to length."""
    trims = tuple(
        Trim(
            kind=TrimKind.END if name in {"head", "foot"} else TrimKind.BEVEL,
            plane=plane,
            made_by="drawn",
            id=name,
        )
        for name, plane in cuts.items()
    )
    return Part(label="X1", name="drawn", kind=kind, material=None, blank=blank, features=trims)


def plane(normal: np.ndarray, offset: float) -> Plane:
    """A plane of numpy's numbers."""
    x, y, z = (float(v) for v in normal)
    return Plane((x, y, z), float(offset))


def corners_of(planes: list[Plane]) -> np.ndarray:
    """The corners of a convex body, by trying every three of its planes."""
    found = []
    for three in itertools.combinations(planes, 3):
        rows = np.array([plane.normal for plane in three])
        if abs(np.linalg.det(rows)) < 1e-9:
            continue
        point = np.linalg.solve(rows, np.array([plane.offset for plane in three]))
        if all(np.dot(plane.normal, point) <= plane.offset + 1e-7 for plane in planes):
            found.append(point)
    return np.array(found)


@st.composite
def legs(draw):
    """A splayed leg as a maker blanks it: outer front face on the stick's own face.

    In piece axes: outer faces lean out by the two splays, inner ones by splay and taper.
    """
    a = math.radians(draw(st.floats(1, 14)))
    b = math.radians(draw(st.floats(1, 14)))
    h = draw(st.floats(150, 650))
    top = draw(st.floats(38, 65))
    foot = draw(st.floats(0.5, 0.95)) * top
    taper = (top - foot) / h
    ai, bi = math.atan(math.tan(a) + taper), math.atan(math.tan(b) + taper)
    # the leg's outer corner at the top stands at the origin; it goes in along x and y
    piece = {
        "front": Plane.through((0, 0, h), (0, -math.cos(b), math.sin(b))),
        "outer-side": Plane.through((0, 0, h), (-math.cos(a), 0, math.sin(a))),
        "inner-front": Plane.through((0, top, h), (0, math.cos(bi), -math.sin(bi))),
        "inner-side": Plane.through((top, 0, h), (math.cos(ai), 0, -math.sin(ai))),
        "head": Plane((0.0, 0.0, 1.0), h),
        "foot": Plane((0.0, 0.0, -1.0), 0.0),
    }
    if draw(st.booleans()):
        corner = np.array(piece["front"].normal) + np.array(piece["outer-side"].normal)
        arris = Plane.through((0, 0, h), tuple(corner))
        piece["facet"] = Plane(arris.normal, arris.offset - draw(st.floats(2, 6)))
    z = -np.array(piece["front"].normal)
    x = np.cross(piece["front"].normal, piece["outer-side"].normal)
    x = x / np.linalg.norm(x)
    x = x if x[2] < 0 else -x
    y = np.cross(z, x)
    turn = np.array([x, y, z])
    turned = {name: (turn @ np.array(plane.normal), plane.offset) for name, plane in piece.items()}
    body = [plane(n, o) for n, o in turned.values()]
    points = corners_of(body)
    low, high = points.min(axis=0), points.max(axis=0)
    size = high - low
    cuts = {name: plane(n, o - n @ low) for name, (n, o) in turned.items() if name != "front"}
    blank = Blank(length=float(size[0]), width=float(size[1]), thickness=float(size[2]))
    return part(blank, cuts)


@st.composite
def aprons(draw):
    """A leaning apron: bevelled edges, compound shoulders."""
    length, width = draw(st.floats(310, 1400)), draw(st.floats(55, 110))
    thick, lean = draw(st.floats(18, 30)), math.radians(draw(st.floats(0.5, 14)))
    slope, tilt = math.radians(draw(st.floats(1, 20))), math.radians(draw(st.floats(0.2, 4)))
    back = thick * math.tan(lean)
    blank = Blank(length=length, width=width, thickness=thick)
    end = (math.cos(slope) * math.cos(tilt), math.sin(slope) * math.cos(tilt), math.sin(tilt))
    cuts = {
        "lower-edge": Plane.through((0, back, 0), (0, -math.cos(lean), -math.sin(lean))),
        "upper-edge": Plane.through((0, width, 0), (0, math.cos(lean), math.sin(lean))),
        "shoulder-left": Plane.through((30.0, 0, 0), (-end[0], end[1], end[2])),
        "shoulder-right": Plane.through((length - 30.0, 0, 0), end),
    }
    return part(blank, cuts)


@st.composite
def hopper_sides(draw):
    """A side of a splayed box of several sides: compound mitres at both ends, level edges."""
    sides = draw(st.integers(3, 8))
    s = math.radians(draw(st.floats(2, 40)))
    length, width, thick = draw(st.floats(350, 900)), draw(st.floats(80, 280)), 18.0
    half = math.radians(180.0 / sides)
    # the side's own axes: x level, y up the slope, z out of its outer face, reversed
    across, up, out = math.cos(half), math.sin(half) * math.sin(s), math.sin(half) * math.cos(s)
    blank = Blank(length=length, width=width, thickness=thick)
    right = unit((across, up, -out))
    cuts = {
        "mitre-right": Plane.through((length, 0.0, 0.0), right),
        "mitre-left": Plane.through((0.0, 0.0, 0.0), (-right[0], right[1], right[2])),
    }
    lift = thick * math.tan(s)
    cuts["lower-edge"] = Plane.through((0, lift, 0), (0, -math.cos(s), -math.sin(s)))
    cuts["upper-edge"] = Plane.through((0, width, 0), (0, math.cos(s), math.sin(s)))
    return part(blank, cuts)


@st.composite
def mitred_panels(draw):
    """A panel with some of its edges bevelled, all to the same face or not."""
    blank = Blank(
        length=draw(st.floats(300, 2300)),
        width=draw(st.floats(200, 900)),
        thickness=draw(st.floats(12, 25)),
    )
    edges = {
        "left": (-1.0, 0.0, 0.0), "right": (1.0, 0.0, 0.0),
        "front": (0.0, -1.0, 0.0), "back": (0.0, 1.0, 0.0),
    }  # fmt: skip
    chosen = draw(st.lists(st.sampled_from(sorted(edges)), min_size=1, max_size=4, unique=True))
    cuts = {}
    for name in chosen:
        x, y, _ = edges[name]
        lean = math.radians(draw(st.floats(5, 45)))
        up = draw(st.sampled_from([1.0, -1.0]))
        normal = (x * math.cos(lean), y * math.cos(lean), up * math.sin(lean))
        far = (max(x, 0.0) * blank.length, max(y, 0.0) * blank.width)
        keeps = 0.0 if up > 0 else blank.thickness
        cuts[f"mitre-{name}"] = Plane.through((*far, keeps), normal)
    return part(blank, cuts, PartKind.SHEET)


@st.composite
def odd_pieces(draw):
    """A board with up to five planes off it, at any angle."""
    blank = Blank(
        length=draw(st.floats(60, 900)),
        width=draw(st.floats(20, 300)),
        thickness=draw(st.floats(6, 90)),
    )
    corners = np.array(list(itertools.product(*((0.0, side) for side in blank.size))))
    cuts = {}
    for place in range(draw(st.integers(1, 5))):
        entries = st.integers(-100, 100).map(lambda hundredths: hundredths / 100)
        normal = np.array([draw(entries), draw(entries), draw(st.sampled_from([0.0, 0.3, -0.7]))])
        length = float(np.linalg.norm(normal))
        if length < 0.1:
            continue
        reach = corners @ (normal / length)
        share = draw(st.floats(0.6, 0.97))
        cuts[f"cut-{place}"] = plane(
            normal / length, reach.min() + (reach.max() - reach.min()) * share
        )
    return part(blank, cuts)
