"""Gaps measured on the placed parts, and blind holes that come out."""

from dataclasses import replace

import pytest

from checks.fit import find_fit
from checks.placed import read
from ground.findings import Severity
from ground.vectors import Frame, add
from models.parts.features import Hole, HoleKind
from tests.helpers.checked import found
from tests.helpers.examples import DEMO, EXAMPLES, changed, piece, spec


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_gap_of_the_examples_is_as_asked_and_no_hole_comes_out(name):
    assert found(spec(name), find_fit) == {}


@pytest.mark.parametrize(
    ("narrower", "severity"),
    [(0.04, None), (0.3, Severity.WARNING), (2.5, Severity.ERROR)],
)
def test_a_front_in_an_opening_that_came_out_narrower(narrower, severity):
    """0.04 mm is within half a step of a rule; 2.5 mm is more than the gap."""
    whole = piece(DEMO)
    openings = tuple(
        replace(one, width=one.width - narrower) if one.id == "2" else one for one in whole.openings
    )
    mine = {one.code: one for one in find_fit(read(replace(whole, openings=openings), spec(DEMO)))}
    if severity is None:
        assert mine == {}
        return
    assert mine["fit.gap"].severity is severity
    assert mine["fit.gap"].value == pytest.approx(2 - narrower)
    assert ("wider than its opening" in mine["fit.gap"].message) == (narrower > 2)


def test_one_front_that_sits_askew_is_found_whichever_it_is():
    """The second of three, 0.5 mm to the right: 2.5 mm on its left and 1.5 on its right."""
    whole = piece(DEMO)
    second = next(copy for copy in whole.copies if copy.id == "F3.2")
    place = second.placement
    aside = Frame(place.x, place.y, add(place.origin, (0.5, 0.0, 0.0)))
    copies = tuple(
        replace(copy, placement=aside) if copy is second else copy for copy in whole.copies
    )
    mine = list(find_fit(read(replace(whole, copies=copies), spec(DEMO))))
    assert [one.value for one in mine] == pytest.approx([2.5, 1.5])
    assert {one.subject for one in mine} == {second.mover}


@pytest.mark.parametrize(("depth", "severity"), [(18.4, None), (19.2, Severity.WARNING)])
def test_hinge_cups_that_nearly_come_through_the_door(depth, severity):
    """Doors are 20 thick: 1.6 left is enough, 0.8 is not."""
    deep = changed(DEMO, ("closing: free}", f"closing: free, cup_depth: {depth}}}"))
    mine = found(deep, find_fit)
    assert (mine["fit.comes_through"].severity if severity else mine.get("fit.comes_through")) == (
        severity
    )


def test_a_hole_that_comes_out_is_an_error():
    whole = piece(DEMO)

    def deeper(feature):
        cup = isinstance(feature, Hole) and feature.kind is HoleKind.HINGE_CUP
        return replace(feature, depth=23.0) if cup else feature

    parts = tuple(
        replace(part, features=tuple(deeper(one) for one in part.features)) for part in whole.parts
    )
    mine = {one.code: one for one in find_fit(read(replace(whole, parts=parts), spec(DEMO)))}
    assert mine["fit.comes_through"].severity is Severity.ERROR
    assert mine["fit.comes_through"].value == pytest.approx(20 - 23)
