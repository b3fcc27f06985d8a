"""Drawer boxes' corners: each goes together, and is laid out by the rules of proportion."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

from ground.findings import Severity
from ground.quantities import Slope
from ground.vectors import X, Y, Z
from models.parts.features import Channel
from models.parts.joints.box_butt import butt_fit, butt_screwed
from models.parts.joints.box_corner import BoxCorner, CornerFit
from models.parts.joints.drawer_bottom import BottomGroove
from models.parts.joints.kit import Halves
from models.parts.joints.lock_rabbet import LockRabbet, lock_rabbet_fit, lock_rabbeted
from models.parts.joints.rabbet_pins import Pins, pin_heights, rabbet_fit, rabbeted
from models.parts.joints.screw import NUMBER_8
from models.parts.joints.tails import (
    LEAST_PIN,
    TailRules,
    Tails,
    dovetails,
    fingers,
    tailed,
    tails_fit,
)
from models.setting_out.box_corners import CornerRoom, box_joint
from models.setting_out.trouble import SettingOutError
from specs.drawers import BoxCorner as CornerSpec

HEIGHT, STOCK, GROOVE = 100.0, 15.0, 6.0


def corner(height: float = HEIGHT, stock: float = STOCK) -> BoxCorner:
    """The front left corner of a box that begins at the origin."""
    return BoxCorner(
        outer=(0.0, 0.0, 0.0),
        across=X,
        deep=Y,
        up=Z,
        height=height,
        side=stock,
        end=stock,
        made_by="test",
    )


def proved(halves: Halves, fit: CornerFit, *, height: float = HEIGHT, stock: float = STOCK) -> None:
    """Cut an end and a side 120 long, and take them apart again."""
    from tests.helpers.joints import board, goes_together, joined

    end = board((fit.end_in, 0.0, 0.0), (120.0, stock, height), length=X, up=Y)
    side = board((0.0, fit.side_in, 0.0), (stock, 120.0, height), length=Y, up=X)
    goes_together(joined(end, side, halves))


def half_blind(height: float, stock: float, ratio: float = 1 / 7) -> Tails:
    """Half-blind dovetails by rule, with a bottom 6 thick 13 up."""
    rules = TailRules(slope=ratio, lap=0.3 * stock)
    return dovetails(rules, height=height, side=stock, end=stock, groove=(13.0, 19.2))


@pytest.mark.kernel
def test_a_rabbet_with_pins_goes_together() -> None:
    pins = Pins(diameter=8.0, heights=pin_heights(2, 8.0, above=25.2, height=HEIGHT))
    fit = rabbet_fit(7.5, side=STOCK, end=STOCK, groove=GROOVE)
    proved(rabbeted(corner(), 7.5, pins), fit)


@pytest.mark.kernel
def test_a_plain_rabbet_goes_together() -> None:
    proved(rabbeted(corner(), 5.0, None), rabbet_fit(5.0, side=STOCK, end=STOCK, groove=GROOVE))


@pytest.mark.kernel
def test_a_lock_rabbet_goes_together() -> None:
    joint = LockRabbet(lap=5.0, stub=5.0, tongue=5.0, depth=5.0)
    fit = lock_rabbet_fit(joint, side=STOCK, end=STOCK, groove=GROOVE)
    proved(lock_rabbeted(corner(), joint), fit)


@pytest.mark.kernel
@pytest.mark.parametrize("lap", [4.5, 0.0])
def test_dovetails_go_together(lap: float) -> None:
    rules = TailRules(slope=1 / 7, lap=lap)
    joint = dovetails(rules, height=HEIGHT, side=STOCK, end=STOCK, groove=(13.0, 19.2))
    kind = "half-blind dovetail" if lap else "through dovetail"
    fit = tails_fit(joint, side=STOCK, end=STOCK, groove=GROOVE)
    proved(tailed(corner(), joint, kind=kind), fit)


@pytest.mark.kernel
def test_a_box_joint_goes_together() -> None:
    joint = fingers(height=HEIGHT, width=STOCK, end=STOCK)
    fit = tails_fit(joint, side=STOCK, end=STOCK, groove=GROOVE)
    proved(tailed(corner(), joint, kind="box joint"), fit)


@pytest.mark.kernel
def test_a_screwed_butt_goes_together() -> None:
    halves = butt_screwed(corner(), NUMBER_8, above=25.0, for_what="test")
    proved(halves, butt_fit(side=STOCK, end=STOCK, groove=GROOVE))


@pytest.mark.kernel
def test_a_dovetail_has_its_clearance_on_every_cheek() -> None:
    """0.05 square to a cheek of slope 1:7 is 0.05 x sqrt(1 + 1/49) = 0.050508 upwards."""
    from tests.helpers.joints import assert_play, board, joined

    joint = half_blind(HEIGHT, STOCK)
    end = board((0.0, 0.0, 0.0), (120.0, STOCK, HEIGHT), length=X, up=Y)
    side = board((0.0, joint.lap, 0.0), (STOCK, 120.0, HEIGHT), length=Y, up=X)
    made = joined(end, side, tailed(corner(), joint, kind="half-blind dovetail"))
    assert_play(made.second, (made.first,), Z, 0.05 * math.sqrt(1 + 1 / 49))


def test_a_lock_rabbets_clearance_is_shared_out() -> None:
    """Clearance 0.1: the slot is 5.05 for a stub of 5, the dado 5.05 for a tongue of 4.95."""
    joint = LockRabbet(lap=5.0, stub=5.0, tongue=5.0, depth=5.0)
    halves = lock_rabbeted(corner(), joint)
    (dado,) = halves.second
    assert isinstance(dado, Channel)
    assert dado.width == pytest.approx(5.05)
    assert dado.seat.origin == pytest.approx((15.0, 12.525, 0.0))


def test_dovetails_by_hand() -> None:
    """Front and side 15, 100 high, lap 4.5, slope 1:7.

    Pins 15 / 3 = 5 thin. A tail of 1.75 x 15 = 26.25 and a pin of 5 go 95 / 31.25 = 3.04 times
    into what is left beside one pin: 3 tails of (100 - 4 x 5) / 3 = 26.667. Tails reach 10.5, lean
    1.5; a cheek is sqrt(10.5^2 + 1.5^2) = 10.6066 long, six of them 15 wide glue 954.594 mm2.
    The bottom's groove, 13 to 19.2, lies in the first tail: 5 to 31.667, at its root 6.5 to 30.167.
    """
    joint = half_blind(100.0, 15.0)
    assert joint.pins == pytest.approx((5.0, 5.0, 5.0, 5.0))
    assert [high - low for low, high in joint.tails] == pytest.approx([26.6667] * 3, abs=1e-4)
    assert joint.run == pytest.approx(1.5)
    assert joint.glue_area(15.0) == pytest.approx(954.594, abs=1e-3)
    assert joint.holds((13.0, 19.2))
    assert not joint.holds((28.0, 34.2))


@pytest.mark.parametrize(("along", "degrees"), [(6, 9.462), (7, 8.130), (8, 7.125)])
def test_slopes_are_the_angles_that_the_trade_prints(along: int, degrees: float) -> None:
    joint = half_blind(100.0, 15.0, 1 / along)
    lean = math.degrees(math.atan2(joint.run, joint.length))
    assert lean == pytest.approx(degrees, abs=5e-4)


@given(st.floats(60.0, 300.0), st.floats(10.0, 20.0), st.floats(1 / 8, 1 / 6), st.floats(8.0, 20.0))
def test_dovetails_keep_pins_and_groove_or_say_so(
    height: float, stock: float, ratio: float, up: float
) -> None:
    groove = (up, up + 6.2)
    rules = TailRules(slope=ratio, lap=0.3 * stock)
    joint = dovetails(rules, height=height, side=stock, end=stock, groove=groove)
    if not joint.tails:
        assert height < 4 * stock
        return
    assert min(joint.pins) >= LEAST_PIN - 1e-9
    assert joint.pins[0] > 0.0
    assert joint.pins[-1] > 0.0
    assert sum(joint.pins) + sum(b - a for a, b in joint.tails) == pytest.approx(height)
    if joint.holds(groove):
        inside = [t for t in joint.tails if t[0] + joint.run < up and up + 6.2 < t[1] - joint.run]
        assert len(inside) == 1


@given(st.floats(40.0, 300.0), st.floats(9.0, 20.0))
def test_box_joints_end_with_a_finger_of_the_front(height: float, width: float) -> None:
    joint = fingers(height=height, width=width, end=width)
    assert joint.pins == pytest.approx([height / (2 * len(joint.tails) + 1)] * len(joint.pins))


@given(st.integers(2, 5), st.floats(4.0, 10.0), st.floats(90.0, 300.0))
def test_pins_stay_clear_of_the_groove_and_the_edge(
    count: int, diameter: float, height: float
) -> None:
    heights = pin_heights(count, diameter, above=25.0, height=height)
    assert heights[0] - diameter / 2 >= 25.0 + diameter - 1e-9
    assert heights[-1] + diameter / 2 <= height - diameter + 1e-9


counts = st.integers(1, 4)
CORNERS = st.one_of(
    st.builds(lambda n: {"kind": "butt", "count": n}, counts),
    st.builds(lambda n: {"kind": "pocket screw", "count": n}, counts),
    st.builds(lambda d: {"kind": "rabbet", "depth": d}, st.floats(2.0, 20.0)),
    st.builds(
        lambda d, n: {"kind": "rabbet", "pins": {"diameter": d, "count": n, "species": "cherry"}},
        st.floats(3.0, 10.0),
        counts,
    ),
    st.builds(
        lambda w, d: {
            "kind": "rabbet",
            "bars": {"width": w, "depth": d, "count": 2, "species": "cherry"},
        },
        st.floats(3.0, 12.0),
        st.floats(4.0, 30.0),
    ),
    st.builds(
        lambda t, d: {"kind": "lock rabbet", "tongue": t, "depth": d},
        st.floats(2.0, 8.0),
        st.floats(2.0, 12.0),
    ),
    st.builds(
        lambda s, n: {"kind": "half-blind dovetail", "slope": Slope(1 / s), "tails": n},
        st.sampled_from((6, 7, 8)),
        counts,
    ),
    st.builds(
        lambda s, pin: {"kind": "through dovetail", "slope": Slope(1 / s), "pin": pin},
        st.sampled_from((6, 7, 8)),
        st.floats(2.0, 12.0),
    ),
    st.builds(lambda f: {"kind": "box joint", "finger": f}, st.floats(4.0, 30.0)),
)
"""Every corner of a box, with the sizes that a spec may give it."""


@pytest.mark.kernel
@pytest.mark.slow
@settings(max_examples=16)
@given(CORNERS, st.floats(60.0, 200.0), st.floats(10.0, 19.0))
def test_any_corner_goes_together_or_is_refused_with_its_number(
    asked: dict[str, object], height: float, stock: float
) -> None:
    room = CornerRoom(
        height=height,
        stock=stock,
        groove=BottomGroove(up=13.0, thick=6.0, depth=5.0),
        subject="drawer",
        path=("corner",),
    )
    corner_of = TypeAdapter[CornerSpec](CornerSpec).validate_python(asked)
    try:
        joint = box_joint(corner_of, room)
    except SettingOutError as refused:
        told = str(refused)
        assert any(letter.isdigit() for letter in told), told
        return
    for found in joint.findings:
        assert found.value is not None
    if all(found.severity is not Severity.ERROR for found in joint.findings):
        proved(joint.make(corner(height, stock)), joint.fit, height=height, stock=stock)
