"""What is said of the piece as a whole: cuts that meet in a panel, joints that never close."""

from dataclasses import replace

import pytest

from ground.findings import Severity
from ground.vectors import Frame, X, Y, Z, neg
from models.parts.assembly import Assembly, Copy, Joint
from models.parts.blank import Blank
from models.parts.features import Channel, ChannelKind, Feature, Hole, HoleKind, Seat
from models.parts.part import Part, PartKind, numbered
from models.setting_out.proof import proved
from tests.helpers.examples import EXAMPLES, piece

THICK = 18.0


def panel(label: str, *features: Feature) -> Part:
    """A panel 400 x 300 x 18."""
    return Part(
        label=label,
        name="side",
        kind=PartKind.SHEET,
        material=None,
        blank=Blank(length=400, width=300, thickness=THICK),
        features=numbered(features),
    )


def standing(*parts: Part, joints: tuple[Joint, ...] = ()) -> Assembly:
    """One copy of each part, 1000 up."""
    copies = tuple(
        Copy(id=f"{p.label}.1", label=p.label, group=(), placement=Frame(X, Y, (0, 0, 1000)))
        for p in parts
    )
    return Assembly(name="test", parts=parts, copies=copies, joints=joints)


def hole(made_by: str, *, top: bool, depth: float) -> Hole:
    """A hole 5 wide in the middle of the panel."""
    seat = Seat((200, 150, THICK if top else 0.0), X, neg(Z) if top else Z)
    return Hole(kind=HoleKind.PIN, seat=seat, diameter=5, depth=depth, made_by=made_by)


def dado(made_by: str, *, top: bool, depth: float) -> Channel:
    """A dado across the middle of the panel."""
    seat = Seat((200, 0, THICK if top else 0.0), Y, neg(Z) if top else Z)
    return Channel(
        kind=ChannelKind.DADO, seat=seat, length=300, width=18, depth=depth, made_by=made_by
    )


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_example_goes_together(name: str) -> None:
    wrong = ("fit.opposite_holes", "assembly.two_directions", "joint.opposed_dados")
    assert [found for found in piece(name).findings if found.code in wrong] == []


def test_holes_that_meet_from_opposite_faces_are_an_error_in_their_place() -> None:
    """12 and 8 deep in 18: 2 too much; the middle of the overlap is 18 - 12 + 1 = 7 up."""
    side = panel("C1", hole("shelves", top=True, depth=12), hole("runner", top=False, depth=8))
    (found,) = proved(standing(side)).findings
    assert (found.code, found.severity) == ("fit.opposite_holes", Severity.ERROR)
    assert (found.value, found.limit, found.unit) == (-2.0, 2.0, "mm")
    assert found.at == pytest.approx((200.0, 150.0, 1007.0))
    assert "shelves" in found.message
    assert "runner" in found.message
    assert found.copies == ("C1.1",)


def test_dadoes_back_to_back_are_weak_over_half_and_an_error_when_they_meet() -> None:
    for depth, severity in ((5.0, Severity.WARNING), (9.0, Severity.ERROR)):
        cuts = (dado("one", top=True, depth=depth), dado("other", top=False, depth=depth))
        (found,) = proved(standing(panel("C1", *cuts))).findings
        assert (found.code, found.severity) == ("joint.opposed_dados", severity)
        assert (found.value, found.limit) == (2 * depth, 9.0)


def test_what_was_said_while_an_opening_was_set_out_is_not_said_again() -> None:
    cuts = (dado("one", top=True, depth=6.0), dado("other", top=False, depth=6.0))
    before = standing(panel("C1", *cuts))
    (said,) = proved(before).findings
    again = proved(replace(before, findings=(said,)))
    assert again.findings == (said,)


def test_joints_that_never_close_are_an_error_with_their_angle() -> None:
    names = ("C1", "C2")
    joints = (
        Joint(id="tenon", kind="loose tenon", parts=("C1.1", "C2.1"), closes=X),
        Joint(id="dowels", kind="dowel", parts=("C1.1", "C2.1"), closes=Z),
    )
    (found,) = proved(standing(*(panel(name) for name in names), joints=joints)).findings
    assert (found.code, found.severity) == ("assembly.two_directions", Severity.ERROR)
    assert (found.value, found.unit) == (90.0, "degrees")
    assert found.copies == ("C1.1", "C2.1")
    assert "dowels and tenon" in found.message or "tenon and dowels" in found.message
