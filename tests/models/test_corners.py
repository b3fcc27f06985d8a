"""Every sort of corner, with every sort of joint at least once: cut, closed, nothing clashes."""

import pytest

from ground.errors import SpecError
from ground.findings import Severity
from ground.vectors import X, Z, neg
from models.parts.directions import knots
from models.parts.features import Channel
from models.setting_out.trouble import SettingOutError
from tests.helpers.joints import all_laid, assert_no_clash, goes_together, laid
from tests.helpers.small_case import BUTTED, EDGED, small_case, small_spec

pytestmark = pytest.mark.kernel

SOUND = [
    ("butt", "{kind: tongue and groove}", BUTTED),
    ("butt", "{kind: dowel, with: pocket screw}", EDGED),
    ("{kind: butt, runs: between}", "{kind: tongue and groove}", ""),
    ("{kind: butt, runs: between}", "{kind: spline}", BUTTED),
    ("{kind: butt, runs: between}", "{kind: loose tenon}", ""),
    ("{kind: rabbet, in: sides}", "{kind: screw, plugs: oak}", BUTTED),
    ("{kind: rabbet, in: top}", "{kind: screw}", ""),
    ("{kind: dado, in: sides}", "{kind: dowel}", BUTTED),
    ("{kind: dado, in: sides, depth: 5}", "{kind: pocket screw}", ""),
    ("{kind: dado, in: top}", "{kind: screw}", EDGED),
    ("{kind: dado, in: sides, set_in: 12}", "{kind: loose tenon}", EDGED),
    ("{kind: dado, in: top, set_in: 12}", "{kind: screw}", BUTTED),
]


@pytest.mark.parametrize(("corner", "joint", "edging"), SOUND)
def test_corners_go_together(corner: str, joint: str, edging: str) -> None:
    below = corner.replace("in: top", "in: bottom")
    bench, _ = small_case(
        small_spec(
            f"{{top: {corner}, bottom: {below}}}",
            f"{{top: {joint}, bottom: {joint}}}",
            more=edging,
        )
    )
    assert bench.findings == []
    assert_no_clash(all_laid(bench))
    for panel in ("case/top", "case/bottom"):
        goes_together(laid(bench, panel, "case/side left"))
    assert knots(bench.joints) == ()


@pytest.mark.parametrize(
    ("corner", "closes", "each"),
    [
        ("mitre", "case", (neg(Z), X)),
        ("{kind: butt, runs: between}", "case", ((0.0, 0.0, 0.0), X)),
        ("{kind: rabbet, in: sides}", "case", ((0.0, 0.0, 0.0), X)),
        ("butt", neg(Z), ()),
        ("{kind: dado, in: top}", neg(Z), ()),
    ],
)
def test_a_corner_closes_level_or_from_above(
    corner: str, closes: object, each: tuple[object, ...]
) -> None:
    """Sides come inward where the top stands between them; a top over them comes down."""
    bench, _ = small_case(small_spec(f"{{top: {corner}, bottom: butt}}"))
    (joint,) = (j for j in bench.joints if set(j.parts) == {"case/top", "case/side left"})
    if joint.parts[0] == "case/side left" and each:
        each = (each[1], each[0])
    assert (joint.closes, joint.each) == (closes, each)


def test_a_groove_stops_behind_a_front_edge_that_shows() -> None:
    """Without edging the tongue's groove begins 10 behind the edge; with 5 of edging, at it."""
    for edging, starts in (("", 10.0), (EDGED, 5.0)):
        spec = small_spec(
            "{top: butt, bottom: butt}", "{top: {kind: tongue and groove}}", more=edging
        )
        bench, _ = small_case(spec)
        top = bench.drafts["case/top"]
        grooves = [
            f for f in top.features if isinstance(f, Channel) and f.made_by == "case.joints.top"
        ]
        assert {round(top.frame.point(g.seat.origin)[1], 6) for g in grooves} == {starts}


def test_a_tongue_over_the_sides_makes_them_longer() -> None:
    """Sides 200 - 18 + 6 = 188 under the top, and 6 more in the bottom's groove."""
    tongued = "{kind: tongue and groove}"
    over = "{kind: butt, runs: over}"
    bench, _ = small_case(
        small_spec(f"{{top: {over}, bottom: {over}}}", f"{{top: {tongued}, bottom: {tongued}}}")
    )
    assert bench.drafts["case/side left"].blank.length == pytest.approx(200 - 36 + 12)


def test_sides_set_in_differently_at_top_and_bottom_are_refused() -> None:
    asked = small_spec("{top: {kind: dado, in: top, set_in: 12}, bottom: butt}")
    with pytest.raises(SettingOutError, match=r"sets the sides in 0.0 mm, the top 12.0 mm"):
        small_case(asked)


@pytest.mark.parametrize(
    ("corner", "said"),
    [
        ("rabbet", "case.joints.top: leaves nothing for the rabbet; write kind: butt"),
        ("dado", "case.joints.top: is what a dado is cut for already: it takes a tongue"),
    ],
)
def test_what_a_corner_cannot_have_is_refused_in_the_spec(corner: str, said: str) -> None:
    with pytest.raises(SpecError, match=said):
        small_spec(f"{{top: {corner}, bottom: butt}}", "{top: {kind: tongue and groove}}")


@pytest.mark.parametrize(
    ("corner", "back", "code", "left", "least"),
    [
        ("{kind: dado, in: sides, depth: 10}", 6, "joint.deep_dado", 8.0, 9.0),
        ("{kind: rabbet, in: sides, depth: 14}", 6, "joint.deep_rabbet", 4.0, 6.0),
        ("butt", 11, "joint.deep_dado", 7.0, 9.0),
    ],
)
def test_a_deep_channel_is_weak_with_its_number(
    corner: str, back: int, code: str, left: float, least: float
) -> None:
    """18 - 10 of 9; 18 - 14 of a third; 18 - 11 of 9."""
    held = f"back: {{material: thin, groove_depth: {back}, set_in: 10, enters: captive}}"
    bench, _ = small_case(small_spec(f"{{top: {corner}, bottom: butt}}", back=held))
    found = bench.findings[0]
    assert (found.code, found.severity) == (code, Severity.WARNING)
    assert (found.value, found.limit) == pytest.approx((left, least))


@pytest.mark.parametrize(
    ("corner", "back", "place"),
    [
        ("{kind: dado, in: sides, depth: 18}", 6, ("case", "corners", "top", "depth")),
        ("{kind: rabbet, in: top, depth: 20}", 6, ("case", "corners", "top", "depth")),
        ("butt", 18, ("case", "back", "groove_depth")),
    ],
)
def test_a_channel_through_its_panel_is_refused_at_its_number(
    corner: str, back: int, place: tuple[str, ...]
) -> None:
    held = f"back: {{material: thin, groove_depth: {back}, set_in: 10, enters: captive}}"
    with pytest.raises(SettingOutError) as caught:
        small_case(small_spec(f"{{top: {corner}, bottom: butt}}", back=held))
    assert caught.value.problems[0].path == place
