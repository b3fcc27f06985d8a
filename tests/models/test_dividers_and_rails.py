"""Dividers and rails with every joint of the spec, in a small case with its back."""

import pytest

from models.parts.directions import knots
from models.parts.features import Hole, HoleKind
from tests.helpers.joints import all_laid, assert_no_clash, goes_together, laid
from tests.helpers.small_case import EDGED, small_case, small_spec

pytestmark = pytest.mark.kernel

MITRED = "{top: mitre, bottom: mitre}"
MIXED = "{top: butt, bottom: {kind: butt, runs: between}}"
DIVIDED = [
    ("upright", "{kind: dowel}", MITRED),
    ("upright", "{kind: dado}", MIXED),
    ("upright", "{kind: stopped dado, open: front}", MITRED),
    ("upright", "{kind: tongue and groove, with: pocket screw}", MIXED),
    ("level", "{kind: stopped dado}", MITRED),
    ("level", "{kind: loose tenon}", MIXED),
    ("level", "{kind: screw}", MITRED),
    ("level", "{kind: pocket screw}", MIXED),
    ("level", "{kind: tongue and groove}", MITRED),
    ("level", "{kind: dado, with: screw}", MITRED),
]


def inside(split: str, joint: str) -> str:
    """Two openings with one divider, edged like the case."""
    return (
        f"split: {split}\n"
        f"  dividers: {{material: panel, joint: {joint},"
        f" edging: {{kind: solid, material: oak, thickness: 5}}}}\n"
        "  into: [{size: 1 share, open: true}, {size: 1 share, open: true}]"
    )


@pytest.mark.parametrize(("split", "joint", "corners"), DIVIDED)
def test_dividers_go_together(split: str, joint: str, corners: str) -> None:
    bench, _ = small_case(small_spec(corners, inside=inside(split, joint)))
    assert bench.findings == []
    assert_no_clash(all_laid(bench))
    ends = ("bottom", "top") if split == "upright" else ("side left", "side right")
    for end in ends:
        goes_together(laid(bench, "inside/divider 1", f"case/{end}"))
    assert knots(bench.joints) == ()


def test_a_divider_without_edging_keeps_behind_the_edging_of_the_case() -> None:
    """The panels begin 5 behind the front: the dado does too, and the divider is notched there."""
    plain = (
        inside("upright", "{kind: dado}").split(", edging")[0]
        + "}\n"
        + ("  into: [{size: 1 share, open: true}, {size: 1 share, open: true}]")
    )
    bench, case = small_case(small_spec(MITRED, inside=plain))
    assert case.front == 5.0
    assert_no_clash(all_laid(bench))
    goes_together(laid(bench, "inside/divider 1", "case/top"))


def test_a_dado_that_comes_out_on_a_bare_edge_is_told() -> None:
    plain = (
        inside("upright", "{kind: dado}").split(", edging")[0]
        + "}\n"
        + ("  into: [{size: 1 share, open: true}, {size: 1 share, open: true}]")
    )
    bench, _ = small_case(small_spec(MITRED, more="", inside=plain))
    assert [found.code for found in bench.findings] == ["joint.dado_shows"] * 2


def railed(joint: str, *, material: str = "oak") -> str:
    """A front edging, and a rail under the top."""
    held = f", joint: {joint}" if joint else ""
    return (
        f"{EDGED}\n"
        f"  rails: {{under_top: {{material: {material}, height: 50, thickness: 18{held}}}}}"
    )


@pytest.mark.parametrize(
    "joint",
    [
        "",
        "{kind: stopped dado}",
        "{kind: dado}",
        "{kind: loose tenon}",
        "{kind: mortise and tenon}",
        "{kind: mortise and tenon, haunch: true}",
        "{kind: stopped dado, open: bottom, with: screw}",
        "{kind: dowel, count: 1, diameter: 6, with: pocket screw}",
        "{kind: screw}",
        "{kind: pocket screw}",
    ],
)
def test_rails_go_together(joint: str) -> None:
    bench, _ = small_case(small_spec(MITRED, more=railed(joint)))
    assert bench.findings == []
    assert_no_clash(all_laid(bench))
    goes_together(laid(bench, "case/rail under top", "case/side left"))
    assert knots(bench.joints) == ()


def test_pilots_in_a_softwood_rail_are_thinner() -> None:
    """No. 8, root 2.8448: 70 % is 2.0 in pine, 90 % is 2.6 in oak."""
    found = []
    for material in ("pine", "oak"):
        bench, _ = small_case(small_spec(MITRED, more=railed("{kind: screw}", material=material)))
        rail = bench.drafts["case/rail under top"]
        found += [
            f.diameter
            for f in rail.features
            if isinstance(f, Hole) and f.kind is HoleKind.PILOT and f.seat.origin[0] < 1.0
        ]
    assert found == [2.0, 2.6]


def test_a_divider_under_a_rail_is_held_where_the_rail_is() -> None:
    """One dowel in the middle of the 13 that meet: 5 + 13 / 2 = 11.5 behind the front."""
    spec = small_spec(MITRED, more=railed(""), inside=inside("upright", "{kind: dowel}"))
    bench, _ = small_case(spec)
    (joint,) = (j for j in bench.joints if j.id.startswith("inside/divider 1 high"))
    (dowel,) = joint.loose
    draft = bench.drafts[dowel]
    assert draft.frame.point(draft.blank.centre)[1] == pytest.approx(11.5)
    assert_no_clash(all_laid(bench))


@pytest.mark.parametrize(
    "back",
    [
        "back: {material: thin, groove_depth: 6, set_in: 10, enters: captive}",
        "back: {material: thin, groove_depth: 6, set_in: 10, enters: from below}",
        "back: {kind: rabbeted, material: thin}",
    ],
)
@pytest.mark.parametrize(
    "corners", [MITRED, "{top: mitre, bottom: butt}", "{top: {kind: dado, in: top}, bottom: butt}"]
)
def test_backs_go_in_after_or_with_the_case(back: str, corners: str) -> None:
    taped = (
        "edging: {front: {kind: solid, material: oak, thickness: 5},"
        " back: {kind: veneer tape, thickness: 0.6}}"
    )
    bench, _ = small_case(small_spec(corners, more=taped, back=back))
    assert bench.findings == []
    assert_no_clash(all_laid(bench))
    if "mitre, bottom: butt" not in corners or "below" in back:
        goes_together(laid(bench, "case/side left", "case/back"))
    assert knots(bench.joints) == ()
