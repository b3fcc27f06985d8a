"""A picture shows the section that is cut, the blade where the numbers say, and prints well."""

import math
from xml.etree import ElementTree as ET

import pytest

from exporters.set_ups_svg import pictures_svg
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.pictures import Picture, Role, pictures
from planning.saw.plan import part_set_ups
from tests.helpers import examples


def shown(example: str, label: str):
    shop = examples.spec(example).shop
    part = examples.piece(example).part(label)
    job = Job(part=part, machines=shop.machines, kerf=shop.kerf)
    steps = part_set_ups(job)
    return steps, pictures(job, steps)


def shape(picture: Picture, role: Role):
    return next(one.points for one in picture.shapes if one.role is role)


def area(points) -> float:
    turned = zip(points, (*points[1:], points[0]), strict=True)
    return math.fabs(math.fsum(a[0] * b[1] - a[1] * b[0] for a, b in turned)) / 2


LEGS = [(examples.DEMO, "B1"), (examples.DEMO, "B3"), (examples.BEDSIDE, "B1")]


@pytest.mark.parametrize(("example", "label"), LEGS)
def test_every_set_up_that_cuts_has_its_picture(example, label):
    steps, found = shown(example, label)
    cutting = [one.order for one in steps if one.cutter is not None or one.distance is not None]
    assert [picture.order for picture in found] == cutting


@pytest.mark.parametrize(("example", "label"), LEGS)
def test_the_blade_leans_as_it_is_set(example, label):
    steps, found = shown(example, label)
    by_order = {one.order: one for one in steps}
    for picture in found:
        one = by_order[picture.order]
        if one.cutter is not None or one.tilt is None:
            continue
        (u0, v0), _, _, (u1, v1) = shape(picture, Role.BLADE)
        assert math.degrees(math.atan2(abs(u1 - u0), abs(v1 - v0))) == pytest.approx(one.tilt)


def test_a_rip_shows_the_blade_at_its_distance_from_the_fence():
    """The long apron's upper edge: the fence at 70.2, its face at u = 0, the blade to its left."""
    steps, found = shown(examples.DEMO, "B3")
    rip = next(one for one in steps if one.makes_face == "upper-edge")
    picture = next(one for one in found if one.order == rip.order)
    assert rip.distance is not None
    assert shape(picture, Role.BLADE)[0] == pytest.approx((-rip.distance, 0.0), abs=1e-6)
    assert min(u for u, _ in shape(picture, Role.FENCE)) == 0.0


def test_the_section_kept_and_the_offcut_are_the_section_before():
    """Apron: 71.989 x 26 less what both bevels take; the first rip leaves all but its own wedge."""
    steps, found = shown(examples.DEMO, "B3")
    rip = next(one for one in steps if one.makes_face == "upper-edge")
    picture = next(one for one in found if one.order == rip.order)
    whole = area(shape(picture, Role.WORKPIECE)) + area(shape(picture, Role.OFFCUT))
    blank = examples.piece(examples.DEMO).part("B3").blank
    assert whole == pytest.approx(blank.width * blank.thickness, rel=1e-6)


def test_a_panel_under_the_rail_lies_with_that_face_up():
    steps, found = shown(examples.DEMO, "C1")
    railed = {one.order for one in steps if one.machine is Tool.TRACK_SAW}
    assert railed
    for picture in found:
        if picture.order in railed:
            wood = max(v for _, v in shape(picture, Role.WORKPIECE))
            assert min(v for _, v in shape(picture, Role.FENCE)) == pytest.approx(wood)


def test_the_sheet_of_pictures_is_svg_and_escapes_what_it_is_given():
    _, found = shown(examples.DEMO, "B1")
    tree = ET.fromstring(pictures_svg(found, 'a <leg> & "more"'))  # noqa: S314 - our own text
    name = "{http://www.w3.org/2000/svg}"
    assert tree.findtext(f"{name}title") == 'a <leg> & "more"'
    assert len(tree.findall(f"{name}g")) == len(found)
    assert tree.findall(f"{name}g/{name}polygon")
