"""Parts that can be made: a blank is drawn, then features that fit on it and beside one another.

Lanes along the board keep features apart: the front edge (a mortise, eased arrises), then grooves
and holes each in a lane of their own, the far end for a mitre, the back for a taper. Dadoes cross
the lanes. Holes stand at odd places, so that no round wall only just touches a flat one.
"""

import math

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn

from ground.vectors import Vec, X, Y, neg
from models.parts.blank import Blank
from models.parts.cuts import Profile
from models.parts.features import Feature, Mortise, Seat, TrimKind
from models.parts.part import Part
from tests.helpers.hand_made_parts import countersink, ease, groove, hole, part, trim

Z_DOWN: Vec = (0.0, 0.0, -1.0)
FIRST_LANE = 16.0
LANE = 14.0


@st.composite
def parts(draw: DrawFn) -> Part:
    """A valid part of lumber."""
    length = draw(st.integers(300, 1800)) + draw(st.sampled_from((0.0, 0.5, 1.190625)))
    width = float(draw(st.integers(110, 320)))
    thickness = draw(st.sampled_from((12.0, 15.875, 18.0, 19.05, 25.4, 40.0)))
    blank = Blank(length=length, width=width, thickness=thickness)
    features = [
        *draw(ends(blank)),
        *draw(arrises()),
        *draw(front_edge(blank)),
        *draw(dadoes(blank)),
    ]
    lanes = int((0.8 * width - FIRST_LANE) // LANE)
    for lane in range(lanes):
        features += draw(lane_features(blank, FIRST_LANE + (lane + 0.5) * LANE))
    return part(blank, *draw(st.permutations(features)))


@st.composite
def ends(draw: DrawFn, blank: Blank) -> list[Feature]:
    """Perhaps a mitre or a bevel at the right end, perhaps a taper of the back."""
    features: list[Feature] = []
    corner = (blank.length, 0.0, 0.0)
    if draw(st.booleans()):
        flat = math.radians(draw(st.integers(-10, 10)))
        tilt = math.radians(draw(st.integers(-45, 45)))
        at = (0.93 * blank.length, blank.width / 2, blank.thickness / 2)
        waste = (math.cos(flat) * math.cos(tilt), math.sin(flat) * math.cos(tilt), math.sin(tilt))
        features.append(trim(at, waste, TrimKind.MITRE, "mitre"))
    if draw(st.booleans()):
        fall = draw(st.floats(0.01, 0.1)) * blank.width
        waste = (fall, blank.length, 0.0)
        at = (corner[0], blank.width - fall, 0.0)
        features.append(trim(at, waste, TrimKind.TAPER, "taper"))
    return features


@st.composite
def arrises(draw: DrawFn) -> list[Feature]:
    """Some arrises of the front and the left end, eased."""
    pairs = (("top", "front"), ("bottom", "front"), ("left", "top"), ("left", "front"))
    chosen = draw(st.lists(st.sampled_from(pairs), unique=True, max_size=4))
    size = draw(st.sampled_from((0.5, 1.5, 3.0)))
    profile = draw(st.sampled_from(tuple(Profile)))
    return [ease(first, second, size, profile) for first, second in chosen]


@st.composite
def front_edge(draw: DrawFn, blank: Blank) -> list[Feature]:
    """Perhaps a mortise in the front edge."""
    if draw(st.booleans()):
        return []
    seat = Seat((0.4 * blank.length + 0.21, 0.0, blank.thickness / 2), X, Y)
    depth = draw(st.sampled_from((6.0, 10.0)))
    return [Mortise(seat=seat, length=40.0, width=blank.thickness / 4, depth=depth, made_by="test")]


@st.composite
def dadoes(draw: DrawFn, blank: Blank) -> list[Feature]:
    """Up to two dadoes across the top."""
    places = draw(st.lists(st.sampled_from((0.2, 0.35, 0.5)), unique=True, max_size=2))
    size = (blank.width, draw(st.sampled_from((6.0, 18.0))), 0.3 * blank.thickness)
    return [groove((share * blank.length, 0.0, blank.thickness), Y, size) for share in places]


@st.composite
def lane_features(draw: DrawFn, blank: Blank, y: float) -> list[Feature]:
    """What one lane holds: nothing, a groove above or below, a row of holes, or countersinks."""
    top, length = blank.thickness, blank.length
    into: Vec = draw(st.sampled_from((Z_DOWN, neg(Z_DOWN))))
    mouth = top if into == Z_DOWN else 0.0
    x = 0.08 * length + draw(st.integers(0, 40)) + 0.37
    match draw(st.integers(0, 4)):
        case 0:
            stop = draw(st.sampled_from((0.0, 25.0)))
            return [groove((stop, y, mouth), X, (0.6 * length, 6.0, 0.3 * top), into)]
        case 1:
            depth = draw(st.sampled_from((0.4 * top, 0.6 * top, None)))
            diameter = draw(st.sampled_from((3.0, 5.0, 8.0)))
            count = draw(st.integers(1, 6))
            return [hole((x, y, mouth), diameter, depth, into, count=count, pitch=32.0)]
        case 2:
            return [countersink((x, y, mouth), 8.0, into), hole((x, y, mouth), 4.0, None, into)]
        case _:
            return []
