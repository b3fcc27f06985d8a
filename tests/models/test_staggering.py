"""Dividers over and under one panel, or left and right of one: their holes do not meet inside."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from ground.findings import Severity
from ground.vectors import Y, dot
from models.parts.features import Hole, Mortise
from models.setting_out.bench import Bench
from models.setting_out.proof import proved
from tests.helpers.joints import all_laid, assert_no_clash, goes_together, laid
from tests.helpers.small_case import small_case, small_spec

LOWER, MIDDLE = "inside/divider 2/1", "inside/divider 1"


def crossed(joint: str, split: str = "level", depth: float = 200.0) -> Bench:
    """One divider right across, and one from it to either side in the same line."""
    other = {"level": "upright", "upright": "level"}[split]
    pair = f"split: {other}, into: [{{size: 1 share, open: true}}, {{size: 1 share, open: true}}]"
    inside = (
        f"split: {split}\n  dividers: {{material: panel, joint: {joint},"
        " edging: {kind: solid, material: oak, thickness: 5}}\n"
        f"  into: [{{size: 1 share, {pair}}}, {{size: 1 share, {pair}}}]"
    )
    size = f"{{length: 400, height: 400, depth: {depth}}}"
    return small_case(small_spec("{top: mitre, bottom: butt}", inside=inside, size=size))[0]


def found(bench: Bench) -> list[str]:
    """The codes of all that is found in the whole."""
    return [finding.code for finding in proved(bench.assembly("crossed")).findings]


@pytest.mark.parametrize("split", ["level", "upright"])
@pytest.mark.parametrize(
    "joint",
    ["dowel", "{kind: dowel, count: 4}", "loose tenon", "{kind: dowel, with: pocket screw}"],
)
def test_rows_from_both_sides_of_one_panel_are_staggered(joint: str, split: str) -> None:
    assert found(crossed(joint, split)) == []


def test_a_staggered_row_is_moved_as_little_as_it_takes_and_in_both_halves() -> None:
    """Dowels 8 in 18, 13 deep from either face: 1.5 x 8 = 12 apart in plan, 15 in steps of 5."""
    bench = crossed("dowel")
    middle = bench.drafts[MIDDLE]
    rows = {
        key: middle.frame.point(f.seat.origin)[1]
        for key in ("inside/divider 1/1 low", f"{LOWER} high")
        for f in middle.features
        if isinstance(f, Hole) and f.made_by == key
    }
    first, second = rows.values()
    assert abs(second - first) == pytest.approx(15.0)
    ends = [
        bench.drafts[LOWER].frame.point(f.seat.origin)[1]
        for f in bench.drafts[LOWER].features
        if isinstance(f, Hole) and f.made_by == f"{LOWER} high"
    ]
    assert ends == pytest.approx([second])


@pytest.mark.kernel
def test_a_staggered_joint_goes_together() -> None:
    bench = crossed("{kind: dowel, with: pocket screw}")
    assert_no_clash(all_laid(bench))
    goes_together(laid(bench, LOWER, MIDDLE))


def pitch_of_row(bench: Bench) -> float | None:
    """From one hole or mortise of a joint's row to the next (mm); None in a row of one."""
    middle = bench.drafts[MIDDLE]
    mine = [f for f in middle.features if f.made_by == f"{LOWER} high"]
    row = sorted(middle.frame.point(f.seat.origin)[1] for f in mine if isinstance(f, Mortise))
    pitches = [f.pitch for f in mine if isinstance(f, Hole) and f.count > 1]
    pitches += [second - first for first, second in pairwise(row)]
    return pitches[0] if pitches else None


@given(st.floats(100.0, 500.0), st.sampled_from(("dowel", "loose tenon")), st.integers(1, 5))
def test_rows_that_find_no_place_are_told(depth: float, kind: str, count: int) -> None:
    """Rows find a place in one another's gaps exactly where the gaps are wide enough.

    Middles of holes stay 1.5 diameters apart in plan, and a row is moved by steps of 5 mm. Dowels 8
    thick: 12 apart, so moved by 15, which a pitch of 27 leaves room for. Tenons 20 x 6 have middle
    lines 14 long: 14 + 9 = 23 from centre to centre, so moved by 25: a pitch of 48. Under twice 12
    or 23 no place at all lies between two neighbours. From 180 deep on, the quarter of the joint or
    40 mm that rows keep from its ends is enough for that and 3 mm of wood besides.
    """
    bench = crossed(f"{{kind: {kind}, count: {count}}}", depth=round(depth, 1))
    told = found(bench)
    whole = proved(bench.assembly("crossed"))
    errors = [f.code for f in whole.findings if f.severity is Severity.ERROR]
    assert set(errors) <= {"fit.opposite_holes", "joint.crowded", "joint.thin_end"}
    apart = {"dowel": 12.0, "loose tenon": 23.0}[kind]
    steps = apart // 5 * 5 + 5
    pitch = pitch_of_row(bench)
    if depth >= 180.0 and (pitch is None or pitch >= steps + apart):
        assert "fit.opposite_holes" not in told
    elif pitch is not None and pitch < 2 * apart:
        assert "fit.opposite_holes" in told
    for draft in bench.drafts.values():
        for f in draft.features:
            if isinstance(f, Hole) and draft.name == "divider":
                far = f.pitch * (f.count - 1)
                y = draft.frame.point(f.seat.origin)[1]
                way = dot(draft.frame.direction(f.seat.along), Y)
                assert min(y, y + way * far) > 0.0


def test_screws_whose_heads_another_divider_covers_are_found() -> None:
    """One finding: the first divider's heads are free when it is screwed, the second's are not."""
    told = [f for f in crossed("screw").findings if f.code == "fit.hidden_heads"]
    assert [f.severity for f in told] == [Severity.ERROR]
    assert "divider 1/1" in told[0].message
    assert "fit.hidden_heads" not in found(crossed("pocket screw"))
