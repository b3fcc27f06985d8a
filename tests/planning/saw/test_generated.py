"""500 parts drawn at random: their set-ups, replayed, leave every face that they should have."""

import numpy as np
from hypothesis import given, settings

from exporters.set_ups_record import entries
from ground.vectors import Plane
from models.parts.features import Trim
from models.parts.part import Part
from planning.saw.job import Job
from planning.saw.plan import part_set_ups
from specs.machines import Machines
from tests.helpers.saw_parts import (
    aprons,
    corners_of,
    hopper_sides,
    legs,
    mitred_panels,
    odd_pieces,
)
from tests.helpers.saw_replay import Plane as Made
from tests.helpers.saw_replay import replay

SLIVER = 0.1
"""A face narrower than this is not looked for (mm): no rule finds it."""

EACH = settings(max_examples=125, deadline=None)
"""Four kinds: 500 parts."""

FEW = settings(max_examples=40, deadline=None)


def shown(part: Part) -> dict[str, tuple[Plane, np.ndarray]]:
    """Every plane of the finished part that has corners of its own, with them."""
    planes = part.blank.planes()
    planes |= {f.id: f.plane for f in part.features if isinstance(f, Trim)}
    points = corners_of(list(planes.values()))
    found = {}
    for name, plane in planes.items():
        on = points[np.abs(points @ np.array(plane.normal) - plane.offset) < 1e-6]
        if len(on) >= 3 and np.linalg.matrix_rank(on[1:] - on[0], tol=SLIVER) >= 2:
            found[name] = (plane, on)
    return found


def nearest(plane: Plane, made: list[Made]) -> Made:
    """The plane made that comes closest to one wanted."""
    return min(
        made,
        key=lambda one: float(np.linalg.norm(one[0] - plane.normal)) + abs(one[1] - plane.offset),
    )


def worst(part: Part) -> tuple[float, float]:
    """How far any face comes out from where it should be: degrees, and mm at its corners."""
    made = replay(
        part.blank.size, entries(part_set_ups(Job(part=part, machines=Machines(), kerf=3.2)))
    )
    turned, away = 0.0, 0.0
    for name, (plane, on) in shown(part).items():
        # of two cuts along one plane only one is made
        normal, offset = made.get(name) or nearest(plane, list(made.values()))
        sine = float(np.linalg.norm(np.cross(normal, plane.normal)))
        assert float(np.dot(normal, plane.normal)) > 0
        turned = max(turned, float(np.degrees(np.arcsin(min(1.0, sine)))))
        away = max(away, float(np.abs(on @ normal - offset).max()))
    return turned, away


def holds(part: Part) -> None:
    turned, away = worst(part)
    assert turned < 0.01
    assert away < 0.01


@EACH
@given(legs())
def test_legs(part):
    holds(part)


@EACH
@given(aprons())
def test_aprons(part):
    holds(part)


@EACH
@given(hopper_sides())
def test_hopper_like_sides(part):
    holds(part)


@EACH
@given(mitred_panels())
def test_mitred_panels(part):
    holds(part)


@FEW
@given(odd_pieces())
def test_odd_pieces_of_up_to_five_cuts_at_any_angle(part):
    holds(part)
