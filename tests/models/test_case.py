"""Cases, worked by hand: the three examples' own numbers, and every sort of corner."""

from dataclasses import replace

import pytest

from ground.vectors import Y
from models.parts.features import Channel, ChannelKind
from models.setting_out.back import lay_back
from models.setting_out.bench import Bench
from models.setting_out.case import case_numbers, lay_case
from models.setting_out.numbers import CaseNumbers
from models.setting_out.trouble import SettingOutError
from specs.spec import Spec
from tests.helpers.examples import BEDSIDE, CHEST, DEMO, changed, spec


def laid(asked: Spec) -> tuple[Bench, CaseNumbers]:
    """The case and the back of ``asked``, and nothing else."""
    bench, case = Bench(), case_numbers(asked)
    lay_case(bench, asked, case)
    lay_back(bench, asked, case)
    return bench, case


def size(bench: Bench, key: str) -> list[float]:
    """A blank's length, width and thickness."""
    return [round(value, 6) for value in bench.drafts[key].blank.size]


def test_the_demo_is_worked_from_measured_thickness() -> None:
    """1680 x 450 x 430 outside, panels 18.6: clear 1642.8 x 412.8; back at 430 - 12 - 6 = 412."""
    _, case = laid(spec(DEMO))
    assert case.clear.size == pytest.approx((1642.8, 412.0, 412.8))
    assert case.outside.size == (1680.0, 430.0, 450.0)


def test_the_demos_panels() -> None:
    """Depth 430 - 6 edging - 0.6 tape = 423.4; the bottom ends at the back's face: 412 - 6 = 406.

    It stands between the sides, 1680 - 2 x 18.6 = 1642.8; the top and the mitred sides run to the
    outside.
    """
    bench, _ = laid(spec(DEMO))
    assert size(bench, "case/top") == [1680.0, 423.4, 18.6]
    assert size(bench, "case/side left") == [450.0, 423.4, 18.6]
    assert size(bench, "case/bottom") == [1642.8, 406.0, 18.6]


def test_the_demos_back_comes_up_from_below() -> None:
    """Clear 1642.8 + 2 x (8 - 0.5) = 1657.8; from 190 to 621.4 + 7.5 = 628.9, so 438.9 high."""
    bench, _ = laid(spec(DEMO))
    assert size(bench, "case/back") == [1657.8, 438.9, 6.0]
    grooves = [
        f for f in bench.drafts["case/bottom"].features if getattr(f, "kind", "") == "groove"
    ]
    assert grooves == []


def test_edging_has_its_own_length() -> None:
    """Mitred at the butted bottom corner it is as long as the outside: 1680, not 1642.8."""
    bench, _ = laid(spec(DEMO))
    assert size(bench, "case/bottom/edging front") == [1680.0, 18.6, 6.0]
    assert size(bench, "case/side left/edging front") == [450.0, 18.6, 6.0]
    assert bench.drafts["case/bottom"].edged == pytest.approx((1642.8, 412.0, 18.6))


def test_only_edges_that_show_are_edged() -> None:
    """The bottom's rear edge is hidden behind the back: no tape on it."""
    bench, _ = laid(spec(DEMO))
    assert bench.drafts["case/bottom"].banded == ("front",)
    assert set(bench.drafts["case/top"].banded) == {"front", "back"}


def test_butted_edging_runs_where_the_panels_run() -> None:
    """Plan chest: the sides' strips 640 long, the top's between them, 1120 - 2 x 18 = 1084."""
    bench, _ = laid(spec(CHEST))
    assert size(bench, "case/side left/edging front") == [640.0, 18.0, 8.0]
    assert size(bench, "case/top/edging front") == [1084.0, 18.0, 8.0]


def test_a_rabbet_takes_the_top_in() -> None:
    """Plan chest: 1120 - 2 x (18 - 9) = 1102 long, in rabbets 9 deep and as wide as the panel."""
    bench, _ = laid(spec(CHEST))
    assert size(bench, "case/top") == [1102.0, 752.0, 18.0]
    rabbets = [
        f
        for f in bench.drafts["case/side left"].features
        if isinstance(f, Channel) and f.kind is ChannelKind.RABBET
    ]
    assert [(f.width, f.depth) for f in rabbets] == [(18.0, 9.0), (18.0, 9.0)]


def test_the_bedsides_case_in_inches() -> None:
    """21-3/4 less 2 x 0.715 = 20.32 clear; back 20.32 + 2 x 1/4 less 1 mm in all."""
    bench, case = laid(spec(BEDSIDE))
    assert case.clear.size[0] / 25.4 == pytest.approx(20.32)
    assert bench.drafts["case/back"].blank.length == pytest.approx(20.82 * 25.4 - 1.0)


def test_a_spline_stops_short_of_the_backs_groove() -> None:
    """3 mm at least between the slot's end and the groove's wall, and 10 mm behind the edging."""
    bench, case = laid(spec(DEMO))
    draft = bench.drafts["case/top"]
    for slot in draft.features:
        if not isinstance(slot, Channel) or slot.kind is not ChannelKind.SLOT:
            continue
        starts = draft.frame.point(slot.seat.origin)[1]
        assert draft.frame.direction(slot.seat.along) == pytest.approx(Y)
        assert starts == pytest.approx(case.front + 10.0)
        assert starts + slot.length == pytest.approx(case.groove_front - 3.0)


MITRE = "corners: {top: mitre, bottom: butt}"


@pytest.mark.parametrize(
    ("corner", "top", "side"),
    [
        ("butt", 1680.0, 450.0 - 18.6),
        ("{kind: butt, runs: between}", 1680.0 - 2 * 18.6, 450.0),
        ("{kind: rabbet, in: sides, depth: 9}", 1680.0 - 2 * 9.6, 450.0),
        ("{kind: rabbet, in: top, depth: 9}", 1680.0, 450.0 - 9.6),
        ("{kind: dado, in: sides, depth: 6}", 1680.0 - 2 * 12.6, 450.0),
        ("mitre", 1680.0, 450.0),
    ],
)
def test_a_corner_says_which_panel_runs(corner: str, top: float, side: float) -> None:
    """Panels 18.6 thick: a butt covers a whole thickness, a rabbet 9 deep leaves 9.6 of it."""
    asked = changed(
        DEMO,
        (MITRE, f"corners: {{top: {corner}, bottom: butt}}"),
        (
            "joints: {top: {kind: spline}",
            "joints: {top: {kind: dowel}" if corner != "mitre" else "joints: {top: {kind: spline}",
        ),
    )
    bench, _ = laid(asked)
    assert bench.drafts["case/top"].blank.length == pytest.approx(top)
    assert bench.drafts["case/side left"].blank.length == pytest.approx(side)


def test_a_case_with_no_room_inside_is_refused_at_its_number() -> None:
    asked = changed(
        DEMO,
        (
            "size: {length: 1680, height: 450, depth: 430}",
            "size: {length: 1680, height: 37, depth: 430}",
        ),
    )
    with pytest.raises(SettingOutError) as caught:
        case_numbers(asked)
    assert caught.value.problems[0].path == ("case", "size", "height")


def test_the_setting_out_is_made_of_plain_numbers() -> None:
    """Changing only the floor lifts the case and changes no part of it."""
    low, _ = laid(spec(DEMO))
    high, case = laid(changed(DEMO, ("  height: 190\n", "  height: 240\n")))
    assert case.outside.lo[2] == 240.0
    for key, draft in low.drafts.items():
        assert high.drafts[key].blank == draft.blank
        lifted = replace(
            draft.frame,
            origin=(draft.frame.origin[0], draft.frame.origin[1], draft.frame.origin[2] + 50.0),
        )
        assert high.drafts[key].frame.origin == pytest.approx(lifted.origin)
