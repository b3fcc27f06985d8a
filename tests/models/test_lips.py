"""Lips: solid edging taller than its panel, on shelves and on level dividers."""

import pytest

from ground.errors import SpecError
from models.setting_out.openings import box_of
from models.setting_out.trouble import SettingOutError
from tests.helpers.joints import all_laid, assert_no_clash
from tests.helpers.rooms import asked, filled, shared_wood
from tests.helpers.small_case import OPEN, small_case, small_spec

BAY = (542.8, 412.0, 500.0)
LIP = "{{kind: solid, material: oak, thickness: 10, height: {height}, hangs: {way}}}"


def shelf(way: str, height: float = 40, *, count: int = 1, more: str = "") -> str:
    """Shelves 18 thick in an open bay."""
    lip = LIP.format(height=height, way=way)
    return f"  open: true\n  shelves: {{count: {count}, material: ply{more}, edging: {lip}}}"


@pytest.mark.parametrize(("way", "under", "over"), [("down", 22.0, 0.0), ("up", 0.0, 22.0)])
def test_a_lip_goes_beyond_its_shelf_on_the_side_that_is_said(
    way: str, under: float, over: float
) -> None:
    """40 high on 18: 22 beyond. With its lip the shelf stands evenly: (500 - 40) / 2 = 230."""
    made = filled(shelf(way, more=", support: dado, dado_depth: 6"), BAY)
    board = box_of(made.bench, "shelf 1/1")
    strip = box_of(made.bench, "shelf 1/1/edging front")
    assert board.lo[2] - strip.lo[2] == pytest.approx(under)
    assert strip.hi[2] - board.hi[2] == pytest.approx(over)
    assert strip.lo[2] - 100.0 == pytest.approx(230.0)
    assert strip.size == pytest.approx((542.8, 10.0, 40.0))
    draft = made.bench.drafts["shelf 1/1"]
    assert draft.edged == pytest.approx((554.8, 412.0, 40.0))
    assert way in made.bench.drafts["shelf 1/1/edging front"].note


def test_lips_count_in_the_room_between_shelves() -> None:
    """Three of 60 in 500 leave (500 - 180) / 4 = 80; of 130 they leave 27.5, 40 at least."""
    filled(shelf("down", 60, count=3, more=", support: dado"), BAY)
    with pytest.raises(SettingOutError, match=r"leaves 27\.5 mm above or below a shelf"):
        filled(shelf("down", 130, count=3, more=", support: dado"), BAY)


def test_a_lip_lower_than_its_panel_is_refused_at_its_place() -> None:
    with pytest.raises(SettingOutError) as refused:
        filled(shelf("down", 17), BAY)
    (problem,) = refused.value.problems
    assert problem.path[-2:] == ("front", "height")
    assert "less than the panel's 18.0 mm" in problem.message


@pytest.mark.kernel
@pytest.mark.parametrize("way", ["up", "down"])
def test_a_shelf_with_a_lip_shares_no_wood(way: str) -> None:
    assert shared_wood(filled(shelf(way, 32), BAY)) == []


def divided(split: str, way: str, *pieces: str) -> str:
    """A small case divided once by a divider with a lip 30 high."""
    lip = LIP.format(height=30, way=way)
    into = ", ".join(f"{{size: 1 share, {piece}}}" for piece in pieces)
    return (
        f"split: {split}\n  dividers: {{material: panel, joint: {{kind: dado}}, edging: {lip}}}\n"
        f"  into: [{into}]"
    )


@pytest.mark.parametrize(("way", "upper", "lower"), [("down", 0.0, 12.0), ("up", 12.0, 0.0)])
def test_a_dividers_lip_comes_off_the_opening_that_it_goes_into(
    way: str, upper: float, lower: float
) -> None:
    """(164 - 18) / 2 = 73 each, less the 12 that the lip is higher than the divider."""
    from models.setting_out.numbers import Leaf
    from models.setting_out.openings import divide

    spec = small_spec("{top: mitre, bottom: mitre}", inside=divided("level", way, OPEN, OPEN))
    bench, case = small_case(small_spec("{top: mitre, bottom: mitre}"))
    whole = Leaf(
        id="",
        path=("inside",),
        spec=spec.inside,
        box=case.clear,
        left="case/side left",
        right="case/side right",
        below="case/bottom",
        above="case/top",
    )
    above, below = divide(bench, spec, whole, None)
    assert above.box.size[2] == pytest.approx(73.0 - upper)
    assert below.box.size[2] == pytest.approx(73.0 - lower)


@pytest.mark.kernel
def test_a_divider_with_a_lip_and_a_back_edging_shares_no_wood() -> None:
    inside = divided("level", "down", OPEN, OPEN).replace(
        "joint: {kind: dado}", "depth: 100, joint: {kind: dado}"
    )
    inside = inside.replace(
        "edging: {kind", "edging: {back: {kind: veneer tape}, front: {kind"
    ).replace("hangs: down}", "hangs: down}}")
    bench, _ = small_case(small_spec("{top: mitre, bottom: butt}", inside=inside))
    assert box_of(bench, "inside/divider 1/edging back").lo[1] == pytest.approx(99.4)
    assert_no_clash(all_laid(bench))


DRAWERS = (
    "drawers: {heights: [1 share], front: {material: panel}, box: {material: panel, corner: butt},"
    " bottom: {material: thin, groove_depth: 5, up: 12}, runner: r}"
)


@pytest.mark.parametrize(
    ("inside", "path"),
    [
        (divided("upright", "down", OPEN, OPEN), ("inside", "split")),
        (
            divided(
                "level", "up", "split: upright, into: [{size: 1 share}, {size: 1 share}]", OPEN
            ),
            ("inside", "into", 0),
        ),
    ],
)
def test_a_lip_that_would_stand_in_the_way_is_refused_at_its_place(
    inside: str, path: tuple[str | int, ...]
) -> None:
    with pytest.raises(SettingOutError) as refused:
        small_case(small_spec("{top: mitre, bottom: butt}", inside=inside))
    assert refused.value.problems[0].path == path


def test_a_lip_over_drawers_is_refused_and_under_them_it_is_not() -> None:
    slide = "{r: {kind: side-mount slide, length: 60}}"
    corners = "{top: mitre, bottom: butt}"
    under = divided("level", "down", OPEN, DRAWERS)
    with pytest.raises(SettingOutError, match="only shelves and open spaces go beside a lip"):
        small_case(small_spec(corners, inside=under, hardware=slide))
    over = divided("level", "down", DRAWERS, OPEN)
    small_case(small_spec(corners, inside=over, hardware=slide))


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ("edging: {front: LIP}", "case.edging.front.height: would stand in the way"),
        ("edging: LIP", "case.edging.height: would stand in the way"),
    ],
)
def test_a_case_has_no_lip(more: str, said: str) -> None:
    lip = LIP.format(height=40, way="down")
    with pytest.raises(SpecError, match=said):
        small_spec("{top: mitre, bottom: butt}", more=more.replace("LIP", lip))


def test_a_front_has_no_lip() -> None:
    lip = LIP.format(height=40, way="down")
    door = f"  doors: {{material: board, hinge: cup, catch: catch, edging: {lip}}}"
    with pytest.raises(SpecError, match=r"doors.edging.height: would stand out of the face"):
        asked(door)
