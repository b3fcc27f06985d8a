import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.errors import BuildError
from ground.vectors import Frame, Plane, X, Y, Z, neg, unit
from models.parts.blank import Blank, Section
from models.parts.cuts import Profile
from models.parts.features import (
    Channel,
    ChannelKind,
    Mortise,
    Seat,
    TrimKind,
    Waste,
    WasteKind,
)
from models.parts.part import Part
from models.solids.solid import one_by_one, solid
from tests.helpers import twins
from tests.helpers.hand_made_parts import (
    board,
    box_bite,
    countersink,
    ease,
    groove,
    hole,
    part,
    splayed_leg,
    trim,
)
from tests.helpers.parts_strategy import parts

pytestmark = pytest.mark.kernel

DOVETAIL = Waste(
    kind=WasteKind.SOCKET,
    planes=(
        ("", Plane.through((0, 0, 0), neg(X))),
        ("floor", Plane.through((12, 0, 0), X)),
        ("wall-a", Plane.through((0, 20, 0), (1 / 7, -1.0, 0.0))),
        ("wall-b", Plane.through((0, 40, 0), (1 / 7, 1.0, 0.0))),
        ("", Plane.through((0, 0, 18), Z)),
        ("lap", Plane.through((0, 0, 5), neg(Z))),
    ),
    made_by="test",
)
ROD = Blank(length=60, width=8, thickness=8, section=Section.ROUND)
STRIP = Blank(length=60, width=30, thickness=8, section=Section.ROUND_EDGED)

HAND_MADE = {
    "plain board": board(300, 80, 20),
    "stopped groove": board(300, 80, 20, groove((20, 40, 20), X, (200, 6, 9))),
    "through groove": board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9))),
    "rabbet": board(300, 80, 20, groove((0, 76, 20), X, (300, 8, 9))),
    "crossing grooves": board(
        300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)), groove((100, 0, 20), Y, (80, 18, 6))
    ),
    "grooves sharing a wall": board(
        300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)), groove((0, 46, 20), X, (300, 6, 4))
    ),
    "tenon": board(
        300,
        80,
        20,
        box_bite((280, 0, 14), (300, 80, 20), 1, -2, 2, 3),
        box_bite((280, 0, 0), (300, 80, 6), 1, -2, 2, -3),
    ),
    "dovetail socket": board(200, 80, 18, DOVETAIL),
    "bird's-mouth notch in a corner": board(
        90, 90, 30, box_bite((0, 0, 0), (12, 12, 30), -1, -2, -3, 3)
    ),
    "holes blind and through": board(
        300, 80, 20, hole((40, 37, 20), 5, 12, count=7, pitch=32), hole((280, 40, 20), 8, None)
    ),
    "hole exactly as deep as the board": board(100, 60, 20, hole((50, 30, 20), 8, 20)),
    "hole from the end": board(100, 60, 20, hole((100, 30, 10), 8, 30, neg(X))),
    "screw hole": board(100, 60, 20, countersink((50, 30, 20), 9), hole((50, 30, 20), 4.5, None)),
    "pocket hole": board(
        200, 60, 19, hole((60, 30, 19), 9.5, 55, unit((0.966, 0.0, -0.259)), lead=40)
    ),
    "mortise": board(
        200,
        60,
        30,
        Mortise(seat=Seat((100, 0, 15), X, Y), length=50, width=8, depth=25, made_by="test"),
    ),
    "round mortise": board(
        200,
        60,
        30,
        Mortise(seat=Seat((100, 0, 15), X, Y), length=8, width=8, depth=25, made_by="test"),
    ),
    "mitred both ways": board(
        900, 70, 20, trim((880, 35, 10), (1, 0.3, 0.1)), trim((20, 35, 10), (-1, 0.3, -0.1))
    ),
    "groove out at a mitre": board(
        400, 80, 20, trim((380, 0, 0), (1, 0, 1), named="m"), groove((0, 40, 0), X, (400, 6, 6), Z)
    ),
    "chamfers": board(
        100,
        60,
        20,
        *(ease(a, b, 3, Profile.CHAMFER) for a, b in (("top", "front"), ("top", "left"))),
    ),
    "coves": board(
        100, 60, 20, *(ease(a, b, 5, Profile.COVE) for a, b in (("top", "front"), ("top", "left")))
    ),
    "bullnose": board(300, 60, 12, ease("top", "front", 6), ease("bottom", "front", 6)),
    "all twelve arrises": board(
        300,
        60,
        20,
        *(
            ease(a, b, 3)
            for a, b in (
                *((a, b) for a in ("top", "bottom") for b in ("front", "back", "left", "right")),
                *((a, b) for a in ("front", "back") for b in ("left", "right")),
            )
        ),
    ),
    "round-over across an acute mitre": board(
        300,
        60,
        20,
        trim((200, 30, 10), (1, 2.5, 0), named="m"),
        ease("m", "front", 3),
        ease("top", "m", 3),
    ),
    "splayed leg": splayed_leg(),
    "splayed leg without facet": splayed_leg(facet=0),
    "splayed leg, facet 2": splayed_leg(facet=2),
    "splayed leg, facet 1": splayed_leg(facet=1),
    "dowel": part(ROD),
    "dowel sawn on the slant": part(ROD, trim((50, 4, 4), (1, 0.4, 0.2))),
    "loose tenon": part(STRIP),
    "loose tenon trimmed and bored": part(
        STRIP, trim((50, 4, 4), (1, 0.2, 0)), hole((25, 15, 8), 5, None)
    ),
}


@pytest.mark.parametrize("made", HAND_MADE.values(), ids=HAND_MADE.keys())
def test_a_solid_holds_its_blank_less_its_cuts(made: Part):
    body = solid(made)
    assert body.isValid()
    assert body.Volume() == pytest.approx(twins.volume(made), rel=twins.tolerance(made))


def test_crossing_grooves_and_holes_handed_over_together_are_all_cut():
    """300 x 150 x 25 less two crossing grooves 10 x 8 and six holes of 10 through, worked by hand.

    Grooves 8 (10 300 + 10 150 - 100) = 35,200; holes 6 x 25 pi = 11,780.97 (clear of grooves).
    One compound of these tools gave two solids and too much wood, and called itself valid.
    """
    made = board(
        300,
        150,
        25,
        groove((0, 75, 25), X, (300, 10, 8)),
        groove((150, 0, 25), Y, (150, 10, 8)),
        hole((30, 30, 25), 10, None, count=3, pitch=40),
        hole((30, 120, 25), 10, None, count=3, pitch=40),
    )
    expected = 300 * 150 * 25 - 35_200 - 6 * 25 * 25 * 3.141592653589793
    assert solid(made).Volume() == pytest.approx(expected, rel=1e-9)


def test_a_plane_reaches_across_a_long_panel():
    """A mitre along 1,680 mm: 1680 x 412 x 20 less a prism 20 x 20 / 2 along all of it."""
    made = board(1680, 412, 20, trim((0, 412, 0), (0, 1, 1), named="mitre"))
    assert solid(made).Volume() == pytest.approx(1680 * (412 * 20 - 200), rel=1e-12)


def test_a_slanted_cut_reaches_across_a_long_rod():
    """The plane crosses the axis half way: half of the rod is left, whatever the slant."""
    rod = Blank(length=1600, width=20, thickness=20, section=Section.ROUND)
    made = part(rod, trim((800, 10, 10), (0.02, 1.0, 0.0)))
    assert solid(made).Volume() == pytest.approx(rod.volume / 2, rel=1e-7)


@settings(max_examples=25)
@given(parts())
def test_any_part_is_its_blank_less_its_cuts(made):
    assert solid(made).Volume() == pytest.approx(twins.volume(made), rel=twins.tolerance(made))


@settings(max_examples=15)
@given(parts(), st.randoms())
def test_the_order_of_features_does_not_matter(made, random):
    features = list(made.features)
    random.shuffle(features)
    shuffled = part(made.blank, *features)
    assert solid(shuffled).Volume() == pytest.approx(solid(made).Volume(), rel=1e-9)


@settings(max_examples=10)
@given(parts())
def test_one_boolean_or_many_give_the_same_solid(made):
    assert one_by_one(made).Volume() == pytest.approx(solid(made).Volume(), rel=1e-9)


@settings(max_examples=10)
@given(parts())
def test_features_moved_away_and_back_cut_the_same(made):
    there = Frame(unit((0.6, 0.8, 0.0)), unit((-0.8, 0.6, 0.0)), (10.0, -20.0, 30.0))
    features = tuple(f.moved(there).moved(there.inverse()) for f in made.features)
    back = part(made.blank, *features)
    assert solid(back).Volume() == pytest.approx(solid(made).Volume(), rel=1e-9)


def test_parts_of_one_shape_share_their_solid():
    first = board(300, 80, 20, groove((0, 40, 20), X, (300, 6, 9)))
    again = part(first.blank, *first.features, label="T2", name="another")
    assert solid(first) is solid(again)


def failing(*features, blank=(200.0, 60.0, 18.0)):
    with pytest.raises(BuildError) as caught:
        solid(board(*blank, *features))
    return caught.value


def test_a_toe_cut_off_names_the_cut():
    """A mitre of 45 degrees; a slot square to its face too near the tip parts the toe from it."""
    mitre = trim((200, 0, 0), unit((1, 0, 1)), TrimKind.MITRE, "mitre")
    into = unit((-1, 0, -1))
    slot = Channel(
        kind=ChannelKind.SLOT,
        seat=Seat((197.0, 0, 3.0), Y, into),
        length=60,
        width=3,
        depth=9,
        made_by="spline",
        id="spline-slot",
    )
    trouble = failing(groove((20, 30, 18), X, (100, 6, 6)), mitre, slot)
    assert (trouble.part, trouble.cut) == ("T1 part", "spline-slot")
    assert "falls into 2 pieces" in trouble.reason


def test_a_cut_that_takes_everything_is_named():
    trouble = failing(
        groove((20, 30, 18), X, (100, 6, 6)),
        box_bite((0, 0, 0), (200, 60, 18), -1, 1, -2, 2, -3, 3),
    )
    assert trouble.cut == "notch-1"
    assert trouble.reason == "nothing is left of the part"


def test_a_hollow_that_nothing_opens_is_named():
    trouble = failing(box_bite((50, 20, 5), (80, 40, 12)))
    assert trouble.cut == "notch-1"
    assert "hollow" in trouble.reason


def test_easing_an_arris_that_is_not_there_is_named():
    trouble = failing(ease("top", "bottom", 3))
    assert str(trouble) == "T1 part: round-over-1: top and bottom do not meet in an arris"


def test_easing_a_rod_is_refused():
    with pytest.raises(BuildError, match="only squared stock has arrises"):
        solid(part(ROD, ease("left", "right", 1)))


def test_a_mortise_shorter_than_wide_is_refused():
    short = Mortise(seat=Seat((100, 30, 18), X, neg(Z)), length=6, width=8, depth=5, made_by="t")
    assert "8 wide cannot be 6 long" in failing(short).reason


def test_a_hole_without_width_is_refused():
    assert failing(hole((100, 30, 18), 0, 5)).cut == "shelf-pin-hole-1"


def test_wood_asked_for_twice_is_taken_once():
    """The same groove 200 x 6 x 5 from two features."""
    twice = groove((0, 30, 18), X, (200, 6, 5))
    made = board(200, 60, 18, twice, twice)
    assert solid(made).Volume() == pytest.approx(200 * 60 * 18 - 200 * 6 * 5, rel=1e-12)
