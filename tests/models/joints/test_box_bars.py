"""Inlaid bars and pocket screws of a drawer box: they go together, and are laid out by hand."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from ground.vectors import X, Y, Z, dot
from models.parts.features import Channel, ChannelKind, Hole, HoleKind
from models.parts.joints.box_butt import butt_fit, butt_screwed
from models.parts.joints.box_pocket import box_pocketed, pocket_seat
from models.parts.joints.inlaid_bars import Bars, barred
from models.parts.joints.pocket_screw import LEAST_POCKET
from models.parts.joints.rabbet_pins import rabbet_fit, rabbeted
from models.parts.joints.rows import counted
from models.parts.joints.screw import NUMBER_8
from models.setting_out.trouble import SettingOutError
from tests.helpers.rooms import filled
from tests.models.joints.test_box_corners import GROOVE, STOCK, corner, proved

BARS = Bars(width=6.0, depth=12.0, heights=(40.0, 70.0), name="black walnut bar")


@pytest.mark.kernel
def test_a_rabbet_with_bars_goes_together() -> None:
    fit = rabbet_fit(7.5, side=STOCK, end=STOCK, groove=GROOVE)
    proved(barred(rabbeted(corner(), 7.5, None), corner(), 7.5, BARS), fit)


@pytest.mark.kernel
def test_shallow_bars_stay_in_the_lap() -> None:
    """A bar 5 deep in a lap of 7.5 leaves the end uncut."""
    bars = Bars(width=6.0, depth=5.0, heights=(50.0,))
    halves = barred(rabbeted(corner(), 7.5, None), corner(), 7.5, bars)
    assert halves.first == ()
    proved(halves, rabbet_fit(7.5, side=STOCK, end=STOCK, groove=GROOVE))


def test_a_bar_goes_through_the_lap_and_on_into_the_end() -> None:
    """12 deep: 7.5 of lap, 4.5 into the end; as long as the end is thick, flush outside."""
    halves = barred(rabbeted(corner(), 7.5, None), corner(), 7.5, BARS)
    slots = [f for f in halves.second if isinstance(f, Channel) and f.kind is ChannelKind.SLOT]
    assert [(slot.depth, slot.width, slot.length) for slot in slots] == [(7.5, 6.0, STOCK)] * 2
    assert [f.depth for f in halves.first if isinstance(f, Channel)] == [4.5, 4.5]
    for bar, height in zip(halves.loose, BARS.heights, strict=True):
        assert bar.blank.size == (STOCK, 6.0, 12.0)
        corners = [bar.frame.point((0.0, 0.0, 0.0)), bar.frame.point(bar.blank.size)]
        assert min(p[0] for p in corners) == pytest.approx(0.0)
        assert max(p[0] for p in corners) == pytest.approx(12.0)
        assert sorted(p[2] for p in corners) == pytest.approx([height - 3.0, height + 3.0])


@pytest.mark.kernel
@pytest.mark.parametrize("stock", [12.0, 15.0])
def test_pocket_screws_go_together(stock: float) -> None:
    halves = box_pocketed(corner(stock=stock), above=25.0, count=None, for_what="test")
    proved(halves, butt_fit(side=stock, end=stock, groove=5.0), stock=stock)


def test_pockets_lie_in_the_face_behind_the_show_front() -> None:
    """Stock 15: the screw of 32 bites 11 / cos 15 = 11.4; its head sits 29.0 - 20.6 = 8.4 deep."""
    halves = box_pocketed(corner(), above=25.0, count=2, for_what="test")
    pocket = next(f for f in halves.first if isinstance(f, Hole) and f.kind is HoleKind.POCKET)
    assert pocket.count == 2
    assert pocket.seat.origin[1] == pytest.approx(0.0)
    assert dot(pocket.seat.into, Y) > 0
    assert dot(pocket.seat.into, X) < 0
    assert pocket_seat(side=15.0, end=15.0) == pytest.approx(8.37, abs=0.01)
    assert halves.second == ()


@settings(max_examples=40)
@given(stock=st.floats(10.0, 22.0))
def test_what_takes_no_pocket_is_refused_with_the_number(stock: float) -> None:
    text = (
        "  drawers: {heights: [1 share], front: {material: oak, thickness: 20}, runner: slide,"
        f" box: {{material: oak, thickness: {round(stock, 3)!r}, corner: pocket screw}},"
        " pull: knob, bottom: {material: thin, groove_depth: 4, up: 12}}"
    )
    seat = pocket_seat(side=round(stock, 3), end=round(stock, 3))
    if seat >= LEAST_POCKET:
        filled(text, (500.0, 400.0, 160.0))
        return
    with pytest.raises(SettingOutError, match=f"{seat:.1f} mm"):
        filled(text, (500.0, 400.0, 160.0))


@pytest.mark.kernel
def test_three_screws_hold_a_butted_corner_when_asked() -> None:
    """From 25 to 100: 15 in at both ends leaves 45, so three stand 22.5 apart."""
    halves = butt_screwed(corner(), NUMBER_8, above=25.0, for_what="test", count=3)
    pilots = next(f for f in halves.first if isinstance(f, Hole))
    assert (pilots.count, pilots.pitch) == (3, 22.5)
    assert halves.hardware[0].quantity == 3
    proved(halves, butt_fit(side=STOCK, end=STOCK, groove=GROOVE))


@given(st.floats(20.0, 400.0), st.integers(1, 8))
def test_a_counted_row_stays_inside_its_room(length: float, count: int) -> None:
    row = counted((0.0, 0.0, 0.0), Z, length, count=count, margin=15.0, most=80.0)
    assert row.count == count
    places = [place[2] for place in row.places()]
    assert min(places) >= min(15.0, length / 4) - 1e-9
    assert max(places) <= length - min(15.0, length / 4) + 1e-9
    assert sum(places) / count == pytest.approx(length / 2)


def test_bars_too_shallow_and_too_close_are_found() -> None:
    """Stock 15, rabbet 7.5: a bar 8 deep goes 0.5 beyond the lap, 2 are asked for."""
    text = (
        "  drawers: {heights: [1 share], front: {material: oak, thickness: 20}, runner: under,"
        " box: {material: box, corner: {kind: rabbet, bars: {width: 8, depth: 8, count: 4,"
        " species: black walnut}}}, pull: knob,"
        " bottom: {material: thin, groove_depth: 6, up: 13}}"
    )
    made = filled(text, (520.0, 412.0, 140.0))
    found = {finding.code: finding for finding in made.bench.findings}
    assert found["joint.bar_shallow"].value == 8.0
    assert found["joint.bar_shallow"].limit == 9.5
    assert found["joint.bars_crowded"].limit == 24.0
