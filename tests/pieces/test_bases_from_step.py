"""Bases against worked numbers, from the faces of the STEP files read back by our own grammar.

The numbers for the splayed base (h 190, top 58 x 58, foot 30 x 30, splay 9 and 4 degrees) were
worked from face normals and from closed formulas, independently of this program: slope of the
inner faces atan(tan a + 28/190) and atan(tan b + 28/190), outer faces meeting at
90 - asin(sin a sin b), long apron shoulder atan(tan(ai) cos b), tilt asin(sin(ai) sin b), and the
same for the side apron with a and b exchanged.
"""

import math
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from exporters.step import part_step
from ground.vectors import Plane, Vec, angle, cross, meet, norm, sub
from models.parts.assembly import Copy
from models.solids.solid import solid
from tests.helpers.examples import BEDSIDE, DEMO, copies_named, piece
from tests.helpers.part21 import StepFile

pytestmark = pytest.mark.kernel

WITHIN = 5e-5
"""The worked numbers are given to four decimals."""


@pytest.fixture
def read(tmp_path: Path) -> Callable[[str, str], StepFile]:
    """Write a part's STEP file and read it back."""

    @cache
    def reader(name: str, label: str) -> StepFile:
        part = piece(name).part(label)
        path = tmp_path / f"{label}.step"
        part_step(solid(part), name=part.name, colour=(0.5, 0.5, 0.5), path=path)
        return StepFile(path.read_text(encoding="ascii"))

    return reader


def outside(step: StepFile) -> list[Plane]:
    """The planar faces that no corner lies beyond: not the floors and walls of joints."""
    corners = step.corners()
    return [
        plane for plane in step.planes() if all(plane.height(corner) < 1e-6 for corner in corners)
    ]


def placed(step: StepFile, copy: Copy) -> list[Plane]:
    """The outer faces in piece axes."""
    return [copy.placement.plane(plane) for plane in outside(step)]


def nearest(planes: list[Plane], way: Vec) -> Plane:
    """The face that looks most nearly along ``way``."""
    return max(planes, key=lambda plane: sum(a * b for a, b in zip(plane.normal, way, strict=True)))


def front_left(name: str, part: str) -> Copy:
    """The copy of ``part`` nearest the front left corner at the floor."""
    blanks = {found.label: found.blank for found in piece(name).parts}

    def from_corner(copy: Copy) -> float:
        x, y, _ = copy.placement.point(blanks[copy.label].centre)
        return x + y

    return min(copies_named(name, part), key=from_corner)


def shoulder(step: StepFile) -> tuple[float, float]:
    """A rail's end as a maker sets it: the angle on its face from square, and the blade's tilt."""
    end = nearest(outside(step), (1.0, 0.0, 0.0)).normal
    trace = cross(end, (0.0, 0.0, 1.0))
    return (
        math.degrees(math.atan(abs(trace[0] / trace[1]))),
        math.degrees(math.asin(abs(end[2]))),
    )


def test_the_legs_slopes_and_angles(read: Callable[[str, str], StepFile]) -> None:
    copy = front_left(DEMO, "leg")
    planes = placed(read(DEMO, copy.label), copy)
    inner_side, inner_front = nearest(planes, (1, 0, 0)), nearest(planes, (0, 1, 0))
    # The facet looks between the two outer faces, so look past it.
    outer_side, outer_front = nearest(planes, (-1, 0.2, 0)), nearest(planes, (0.2, -1, 0))
    seen_from_front = math.degrees(math.atan(abs(inner_side.normal[2] / inner_side.normal[0])))
    seen_from_side = math.degrees(math.atan(abs(inner_front.normal[2] / inner_front.normal[1])))
    assert seen_from_front == pytest.approx(17.0012, abs=WITHIN)
    assert seen_from_side == pytest.approx(12.2595, abs=WITHIN)
    outer = angle(outer_side.normal, outer_front.normal)
    assert outer == pytest.approx(89.3748, abs=WITHIN)
    # The lesser angle between the planes, as it was worked; in the wood they meet at more than 90,
    # where inner and outer face meet at less.
    assert 180 - outer == pytest.approx(90.6252, abs=WITHIN)
    between = 180 - angle(inner_side.normal, outer_front.normal)
    assert between == pytest.approx(88.8313, abs=WITHIN)


def test_the_outer_arris_before_facet_and_easing(read: Callable[[str, str], StepFile]) -> None:
    copy = front_left(DEMO, "leg")
    planes = placed(read(DEMO, copy.label), copy)
    outer = nearest(planes, (-1, 0.2, 0)), nearest(planes, (0.2, -1, 0))
    top, foot = nearest(planes, (0, 0, 1)), nearest(planes, (0, 0, -1))
    assert norm(sub(meet(*outer, top), meet(*outer, foot))) == pytest.approx(192.8266, abs=WITHIN)


@pytest.mark.parametrize("name", [DEMO, BEDSIDE])
def test_feet_stand_flat_on_the_floor(name: str, read: Callable[[str, str], StepFile]) -> None:
    """On the floor, or on glides all as thick as one another (3/16 in)."""
    above = {DEMO: 0.0, BEDSIDE: 3 / 16 * 25.4}[name]
    legs = copies_named(name, "leg")
    assert len(legs) == 4
    for copy in legs:
        foot = nearest(placed(read(name, copy.label), copy), (0, 0, -1))
        assert foot.normal == pytest.approx((0.0, 0.0, -1.0), abs=1e-12)
        assert -foot.offset == pytest.approx(above, abs=1e-6)


def test_the_legs_are_a_left_and_a_right() -> None:
    labels = [copy.label for copy in copies_named(DEMO, "leg")]
    assert sorted(labels.count(label) for label in set(labels)) == [2, 2]


@pytest.mark.parametrize(
    ("part", "angles", "width"),
    [("long apron", (16.9621, 1.1687), 72.0), ("side apron", (12.1131, 1.9036), 75.0)],
)
def test_apron_shoulders_and_blanks(
    part: str, angles: tuple[float, float], width: float, read: Callable[[str, str], StepFile]
) -> None:
    """A blank is wider than the plumb 70: 70 / cos(lean) + 26 tan(lean)."""
    (copy, _) = copies_named(DEMO, part)
    step = read(DEMO, copy.label)
    assert shoulder(step) == pytest.approx(angles, abs=WITHIN)
    across = [corner[1] for corner in step.corners()]
    lean = {"long apron": 4.0, "side apron": 9.0}[part]
    worked = 70 / math.cos(math.radians(lean)) + 26 * math.tan(math.radians(lean))
    assert max(across) - min(across) == pytest.approx(worked, abs=1e-6)
    assert worked == pytest.approx(width, abs=0.05)


@pytest.mark.parametrize("part", ["long apron", "side apron"])
def test_straight_legs_leave_square_shoulders(
    part: str, read: Callable[[str, str], StepFile]
) -> None:
    copy = copies_named(BEDSIDE, part)[0]
    step = read(BEDSIDE, copy.label)
    ends = [plane for plane in step.planes() if abs(plane.normal[0]) > 0.5]
    assert len(ends) >= 2
    for plane in ends:
        assert abs(plane.normal[0]) == pytest.approx(1.0, abs=1e-12)
    assert shoulder(step) == pytest.approx((0.0, 0.0), abs=1e-9)
