"""Openings share what is left; dividers stand between them, housed or dowelled."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.quantities import Share
from models.parts.features import Channel, ChannelKind
from models.setting_out.openings import shared
from models.setting_out.piece import set_out
from models.setting_out.trouble import SettingOutError
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, parts_named, piece

sizes = st.one_of(st.floats(1.0, 500.0), st.floats(0.1, 5.0).map(Share))


@given(st.lists(sizes, min_size=1, max_size=8), st.floats(10.0, 5000.0))
def test_shares_fill_the_room_exactly_or_are_refused(
    wanted: list[float | Share], room: float
) -> None:
    got = shared(wanted, room)
    fixed = sum(size for size in wanted if isinstance(size, float))
    if got is None:
        assert fixed >= room or not any(isinstance(size, Share) for size in wanted)
        return
    assert sum(got) == pytest.approx(room, abs=1e-6)
    assert all(size > 0.0 for size in got)
    for asked, given_size in zip(wanted, got, strict=True):
        if isinstance(asked, float):
            assert given_size == asked


def test_the_demos_bays() -> None:
    """1642.8 clear less two dividers of 18.6 less 520 leaves 2 x 542.8."""
    found = [(o.id, round(o.width, 6), round(o.height, 6)) for o in piece(DEMO).openings]
    assert found == [("1", 542.8, 412.8), ("2", 520.0, 412.8), ("3", 542.8, 412.8)]


def test_the_bedsides_openings_run_from_the_top_down() -> None:
    """Clear height 15-1/8 less 2 x 0.715; drawer 5-1/2; divider 0.715; the open part is the rest.

    15.125 - 3 x 0.715 - 5.5 = 7.48.
    """
    found = [(o.id, o.kind, round(o.height / 25.4, 6)) for o in piece(BEDSIDE).openings]
    assert found == [("1", "drawers", 5.5), ("2", "open", 7.48)]


def test_a_rail_takes_its_height_out_of_the_opening() -> None:
    """Plan chest: 640 - 2 x 18 - 60 = 544 high."""
    (opening,) = piece(CHEST).openings
    assert (opening.id, opening.width, opening.height) == ("1", 1084.0, 544.0)


def test_a_level_divider_is_housed_and_its_edging_is_not() -> None:
    """Clear 20.32; in dados 1/4 deep the panel is 20.82 long, its edging 20.32."""
    (panel,) = (part for part in parts_named(BEDSIDE, "divider") if part.name == "divider")
    (strip,) = parts_named(BEDSIDE, "divider edging")
    assert panel.blank.length / 25.4 == pytest.approx(20.82)
    assert strip.blank.length / 25.4 == pytest.approx(20.32)


def test_a_stopped_dado_leaves_the_divider_notched() -> None:
    asked = changed(
        BEDSIDE,
        ("joint: {kind: dado, depth: 1/4}", "joint: {kind: stopped dado, depth: 1/4, stop: 1/2}"),
    )
    assembly = set_out(asked)
    divider = next(p for p in assembly.parts if p.name == "divider")
    notches = [
        f for f in divider.features if isinstance(f, Channel) and f.kind is ChannelKind.NOTCH
    ]
    assert [(f.length, f.depth) for f in notches] == [(12.7, 6.35), (12.7, 6.35)]


def test_fixed_sizes_that_leave_nothing_are_refused_with_the_number() -> None:
    with pytest.raises(SettingOutError) as caught:
        set_out(changed(DEMO, ("- size: 520", "- size: 1610")))
    problem = caught.value.problems[0]
    assert problem.path == ("inside", "into")
    assert problem.message == (
        "the fixed sizes take 1610.0 mm of the 1605.6 mm that 2 divider(s) of 37.2 mm together "
        "leave in opening inside; leave at least 20 mm for every piece"
    )
