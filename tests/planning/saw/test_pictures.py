"""A picture shows the section that is cut, the blade where the numbers say, and prints well."""

import math
from xml.etree import ElementTree as ET

import pytest

from exporters.set_ups_svg import pictures_svg
from ground.quantities import Units
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.pictures import pictures
from planning.saw.plan import part_set_ups
from planning.saw.sections import Picture, Role
from specs.machines import BladeTilts, Machines, TableSaw
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


@pytest.mark.parametrize("name", examples.EXAMPLES)
def test_the_blade_leans_to_the_side_that_the_set_up_says(name):
    plan, shop, leaning = examples.saw(name), examples.spec(name).shop, 0
    for part in examples.piece(name).parts:
        steps = {one.order: one for one in plan.of(part.label) if one.leans is not None}
        if not steps:
            continue
        for picture in pictures(Job.of(part, shop), plan.of(part.label)):
            if picture.order not in steps:
                continue
            (foot, _), _, _, (top, _) = shape(picture, Role.BLADE)
            assert ("left" if top < foot else "right") == steps[picture.order].leans, part.label
            leaning += 1
    assert leaning > 10 or name != examples.DEMO


@pytest.mark.parametrize("label", ["B1", "B2", "B6"])
def test_the_wood_that_stays_ends_at_the_blade_s_face(label):
    """Compound cuts too: the section is taken square to the blade."""
    steps, found = shown(examples.DEMO, label)
    cuts = {one.order for one in steps if one.kerf and one.depth is None and one.cutter is None}
    assert len(cuts) >= 2
    for picture in (picture for picture in found if picture.order in cuts):
        (foot, _), _, _, (top, high) = shape(picture, Role.BLADE)
        edge = [
            (u, v)
            for u, v in shape(picture, Role.WORKPIECE)
            if abs(u - (foot + (top - foot) * v / high)) < 0.05
        ]
        assert len(edge) == 2, (label, picture.order)


def test_a_taper_is_shown_where_it_is_measured():
    """29.6 at the foot of the leg; its slant lets the section in by up to 9 mm, at 8.2 degrees."""
    steps, found = shown(examples.DEMO, "B1")
    one = next(one for one in steps if one.makes_face == "inner-front")
    picture = next(picture for picture in found if picture.order == one.order)
    blade = shape(picture, Role.BLADE)[0][0]
    near = min(abs(u - blade) for u, _ in shape(picture, Role.FENCE))
    assert near == pytest.approx(one.distance, abs=9.0 * math.tan(math.radians(8.2)) + 0.1)


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


SVG = "{http://www.w3.org/2000/svg}"


def test_the_sheet_of_pictures_is_svg_and_escapes_what_it_is_given():
    steps, found = shown(examples.DEMO, "B1")
    text = pictures_svg(found, steps, 'a <leg> & "more"', Units.MM)
    tree = ET.fromstring(text)  # noqa: S314 - our own text
    assert tree.findtext(f"{SVG}title") == 'a <leg> & "more"'
    groups = tree.findall(f"{SVG}g")
    assert [group.get("id") for group in groups] == [f"B1-{picture.order}" for picture in found]
    assert all(group.findall(f"{SVG}svg/{SVG}polygon") for group in groups)


def test_each_set_up_of_a_sheet_says_what_is_set_and_what_to_measure():
    steps, found = shown(examples.DEMO, "B1")
    tree = ET.fromstring(pictures_svg(found, steps, "B1", Units.MM))  # noqa: S314 - our own text
    assert "manual" in " ".join(text.text or "" for text in tree.findall(f"{SVG}text"))
    for group in tree.findall(f"{SVG}g"):
        keys = {text.text for text in group.findall(f"{SVG}text")}
        assert {"lay", "measure", "mind", "first cut"} <= keys


def test_the_blade_of_a_shoulder_stands_as_high_as_the_shoulder_is_deep():
    steps, found = shown(examples.BEDSIDE, "B2")
    shoulders = [one for one in steps if one.does == "tenons: saw the shoulders"]
    for one in shoulders:
        picture = next(picture for picture in found if picture.order == one.order)
        assert max(v for _, v in shape(picture, Role.BLADE)) == pytest.approx(one.depth)


def test_a_mortise_in_a_slanted_face_is_shown_with_its_wedge():
    """Inner and outer face are 8.26 degrees apart; the wedge rises so from end to end."""
    steps, found = shown(examples.DEMO, "B1")
    one = next(one for one in steps if one.wedge is not None)
    picture = next(picture for picture in found if picture.order == one.order)
    wedge, wood = shape(picture, Role.WEDGE), shape(picture, Role.WORKPIECE)
    (u1, v1), (u2, v2) = wedge[3], wedge[2]
    assert one.wedge is not None
    assert abs(v2 - v1) / abs(u2 - u1) == pytest.approx(one.wedge.rise / one.wedge.length)
    top = max(v for _, v in wood)
    assert sum(abs(v - top) < 1e-6 for _, v in wood) == 2  # the face entered lies level


@pytest.mark.parametrize(("tilts", "left"), [(BladeTilts.LEFT, False), (BladeTilts.RIGHT, True)])
def test_the_fence_is_drawn_where_the_blade_can_lean_away_from_it(tilts, left):
    """The apron's upper edge leans away from the fence: left with a blade that tilts left."""
    part = examples.piece(examples.DEMO).part("B3")
    job = Job(part=part, machines=Machines(table_saw=TableSaw(tilts=tilts)), kerf=3.2)
    steps = part_set_ups(job)
    rip = next(one for one in steps if one.makes_face == "upper-edge")
    picture = next(one for one in pictures(job, steps) if one.order == rip.order)
    (foot, _), _, _, (top, high) = shape(picture, Role.BLADE)
    fence = sum(u for u, _ in shape(picture, Role.FENCE)) / 4
    assert (fence < foot) is left
    assert (top > foot) is left
    assert high > 0
    assert rip.tilt is not None
    assert abs(top - foot) == pytest.approx(high * math.tan(math.radians(rip.tilt)))


def test_a_groove_on_the_dado_stack_is_cut_from_below_along_its_fence():
    steps, found = shown(examples.DEMO, "D2")
    one = next(one for one in steps if one.machine is Tool.DADO)
    picture = next(picture for picture in found if picture.order == one.order)
    cutter, fence = shape(picture, Role.CUTTER), shape(picture, Role.FENCE)
    assert min(v for _, v in shape(picture, Role.WORKPIECE)) == pytest.approx(0.0, abs=1e-9)
    assert max(v for _, v in cutter) == pytest.approx(one.depth)
    near = min(abs(a - b) for a, _ in cutter for b, _ in fence)
    assert near == pytest.approx(one.distance)


def test_all_the_sides_of_an_end_s_dovetails_are_in_one_picture_each_at_its_place():
    steps, found = shown("joint-sampler-plinth", "D3")
    one = next(one for one in steps if one.does == "dovetail sockets: saw and chop the sides")
    picture = next(picture for picture in found if picture.order == one.order)
    lines = [shape.points for shape in picture.shapes if shape.role is Role.BLADE]
    assert len(lines) == len(one.cuts) == 10
    wood = shape(picture, Role.WORKPIECE)
    edge = min(u for u, _ in wood)
    # its depth is that of the baseline, the marked face is up
    assert max(v for _, v in wood) == pytest.approx(0.0, abs=1e-9)
    assert {round(min(v for _, v in line), 6) for line in lines} == {-round(one.depth or 0.0, 6)}
    # a socket is narrower toward its far face, and the picture cuts half-way through
    placed = sorted(line[0][0] - edge for line in lines)
    told = sorted(cut.distance or 0.0 for cut in one.cuts)
    assert all(abs(a - b) < 1.0 for a, b in zip(placed, told, strict=True))
