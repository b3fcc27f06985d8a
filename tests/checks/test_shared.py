"""Parts in one place, found without the kernel and never more than the kernel finds."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checks.placed import read
from checks.shared import find_shared, shared
from ground.findings import Severity
from ground.vectors import Frame, add
from models.parts.assembly import Assembly
from tests.helpers.checked import found
from tests.helpers.examples import BEDSIDE, DEMO, EXAMPLES, piece, spec


def shifted(name: str, part: str, by: tuple[float, float, float]) -> Assembly:
    """An example with the first copy called ``part`` moved."""
    whole = piece(name)
    label = next(
        one.label
        for one in whole.parts
        if one.name.startswith(part) and one.kind.value in {"lumber", "sheet"}
    )
    copies = tuple(
        replace(
            one,
            placement=Frame(one.placement.x, one.placement.y, add(one.placement.origin, by)),
        )
        if one.id == f"{label}.1"
        else one
        for one in whole.copies
    )
    return replace(whole, copies=copies)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_parts_of_the_examples_share_space(name):
    assert found(spec(name), find_shared) == {}


@pytest.mark.parametrize(
    ("name", "part", "by"),
    [
        (DEMO, "shelf", (3.0, 0.0, 0.0)),  # 1 mm clear of the divider: 2 mm into it
        (DEMO, "divider", (0.0, 0.0, 4.0)),  # up into the top
        (BEDSIDE, "long apron", (5.0, 0.0, 0.0)),  # its shoulder into the leg
    ],
)
def test_a_part_that_is_pushed_into_its_neighbour_is_found(name, part, by):
    every = tuple(find_shared(read(shifted(name, part, by), spec(name))))
    assert {(one.code, one.severity) for one in every} == {("fit.overlap", Severity.ERROR)}
    assert max(one.value or 0.0 for one in every) > 100


def test_a_shelf_pushed_2_mm_into_a_side_shares_that_much():
    """2 x 379 x 18.6, the pin holes' squares left out."""
    moved = read(shifted(DEMO, "shelf", (3.0, 0.0, 0.0)), spec(DEMO))
    (mine,) = [
        one
        for one in find_shared(moved)
        if "divider" in one.subject and "shelf" in one.subject and "edging" not in one.subject
    ]
    assert mine.value == pytest.approx(2 * 379 * 18.6, rel=0.02)


@pytest.mark.kernel
@settings(max_examples=6)
@given(st.floats(-6, 6), st.floats(-6, 6), st.floats(-6, 6))
def test_never_more_than_the_kernel_finds(x, y, z):
    from models.solids.solid import solid

    moved = read(shifted(BEDSIDE, "long apron", (x, y, z)), spec(BEDSIDE))
    apron = next(one for one in moved.placed if one.name == "long apron")
    leg = next(one for one in moved.placed if one.name == "leg")

    def shape(one):
        import cadquery as cq

        rows = [list(row) for row in one.copy.placement.matrix()]
        return solid(one.part).moved(
            cq.Location(
                cq.Plane(
                    origin=tuple(row[3] for row in rows[:3]),
                    xDir=tuple(row[0] for row in rows[:3]),
                    normal=tuple(row[2] for row in rows[:3]),
                )
            )
        )

    theirs = shape(apron).intersect(shape(leg)).Volume()
    mine = shared(apron, leg)
    assert mine <= theirs + 1.0
    if theirs > 500:
        assert mine > 0.3 * theirs
