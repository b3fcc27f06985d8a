"""Screws of a back that is put on last: where they are asked for, clear of what is let in."""

import pytest

from ground.vectors import X, Y, dot, neg
from models.parts.features import Countersink, Hole, HoleKind
from models.setting_out.back_screws import screw_back
from models.setting_out.bench import Bench
from tests.helpers.joints import all_laid, assert_no_clash, assert_play, goes_together, laid
from tests.helpers.small_case import OPEN, small_case, small_spec

RABBETED = "back: {kind: rabbeted, material: thin, depth: 9}"
GLUED = "back: {kind: rabbeted, material: thin, depth: 9, held: glue}"
SLIDING = "back: {material: thin, groove_depth: 6, set_in: 10, enters: from below}"
CAPTIVE = "back: {material: thin, groove_depth: 6, set_in: 10, enters: captive}"


def screwed(back: str, *, inside: str = OPEN, length: float = 260, more: str = "") -> Bench:
    """A small case with its back screwed on."""
    size = f"{{length: {length}, height: 200, depth: 130}}"
    corners = "{top: mitre, bottom: {kind: butt, runs: between}}"
    spec = small_spec(corners, back=back, inside=inside, size=size, more=more)
    bench, case = small_case(spec)
    screw_back(bench, spec, case)
    return bench


def holes(bench: Bench, key: str, kind: HoleKind) -> list[Hole]:
    """The holes of one kind of a part, in piece axes."""
    draft = bench.drafts[key]
    return [
        feature.moved(draft.frame)
        for feature in draft.features
        if isinstance(feature, Hole) and feature.kind is kind and feature.made_by == "case.back"
    ]


@pytest.mark.parametrize(
    ("back", "panels", "total"),
    [
        (RABBETED, {"top": 2, "bottom": 2, "side left": 2, "side right": 2}, 8),
        (SLIDING, {"bottom": 2}, 2),
        (GLUED, {}, 0),
        (CAPTIVE, {}, 0),
    ],
)
def test_a_back_is_screwed_where_it_is_put_on_last(
    back: str, panels: dict[str, int], total: int
) -> None:
    """Two screws an edge: 260 - 36 = 224 and 200 - 36 = 164 long, 40 in from either end."""
    bench = screwed(back)
    for panel in ("top", "bottom", "side left", "side right"):
        assert len(holes(bench, f"case/{panel}", HoleKind.PILOT)) == panels.get(panel, 0)
    assert len(holes(bench, "case/back", HoleKind.CLEARANCE)) == total
    bought = [line.quantity for line in bench.hardware if "back" in line.for_what]
    assert bought == ([total] if total else [])
    assert bench.findings == []


def test_a_screw_goes_through_the_back_into_the_middle_of_its_lap() -> None:
    """No. 6: root 2.3876, 90 % is 2.1. Lap 9 - 0.5 = 8.5, its middle 4.25 behind the side's face.

    6 of the back and 0.1 of room: 25 - 6.1 = 18.9 in the side.
    """
    bench = screwed(RABBETED)
    pilot = holes(bench, "case/side left", HoleKind.PILOT)[0]
    through = holes(bench, "case/back", HoleKind.CLEARANCE)[0]
    assert (pilot.diameter, through.diameter) == (2.1, 3.9)
    assert pilot.depth == pytest.approx(18.9)
    assert through.depth == pytest.approx(6.0)
    assert pilot.seat.origin[0] == pytest.approx(18.0 - 4.25)
    assert dot(pilot.seat.into, neg(Y)) == pytest.approx(1.0)
    heads = [f for f in bench.drafts["case/back"].features if isinstance(f, Countersink)]
    assert len(heads) == 8


@pytest.mark.parametrize("joint", ["dado", "dowel", "loose tenon"])
def test_screws_keep_clear_of_a_divider_in_their_way(joint: str) -> None:
    """The middle one of three would stand at the divider: it moves 16 aside where that is let in.

    Half of 18, 2 of room and half a pilot are 12.05, in steps of 8.
    """
    inside = (
        f"split: upright\n  dividers: {{material: panel, joint: {joint}}}\n"
        "  into: [{size: 1 share, open: true}, {size: 1 share, open: true}]"
    )
    bench = screwed(RABBETED, inside=inside, length=400)
    xs = [hole.seat.origin[0] for hole in holes(bench, "case/top", HoleKind.PILOT)]
    assert len(xs) == 3
    if joint == "dado":
        assert abs(xs[1] - 200.0) == pytest.approx(16.0)
    assert "fit.back_screws" not in {f.code for f in bench.findings}


@pytest.mark.kernel
@pytest.mark.parametrize(
    ("back", "panel"), [(RABBETED, "side left"), (SLIDING, "top"), (CAPTIVE, "side left")]
)
def test_a_back_goes_together_with_its_panels(back: str, panel: str) -> None:
    bench = screwed(back)
    assert_no_clash(all_laid(bench))
    goes_together(laid(bench, f"case/{panel}", "case/back"))


@pytest.mark.kernel
@pytest.mark.parametrize(("back", "play"), [(CAPTIVE, 0.1), (SLIDING, 0.1), (RABBETED, 0.1)])
def test_a_back_has_the_room_of_its_grooves(back: str, play: float) -> None:
    """0.1 before it, and 0.5 from its edges to the floors of grooves and rabbets."""
    made = laid(screwed(back), "case/side left", "case/back")
    assert_play(made.second, (made.first,), neg(Y), play)
    assert_play(made.second, (made.first,), neg(X), 0.5)
