"""Every feature of every part of every example is fixed on its sheet, and no distance is spare."""

import re
from dataclasses import replace
from functools import cache

import pytest

from drawings.lettering import size
from drawings.part_sheet import part_sheet
from drawings.records import Axis, Issue, Linear, Ordinate, Sheet
from ground.quantities import angle_text
from models.parts.features import Channel, Countersink, EasedEdge, Hole, Mortise, Trim
from models.parts.part import Part
from tests.helpers.coverage import AXES, chosen, distances, lost, spare, unmet, whole, words
from tests.helpers.examples import EXAMPLES, piece, spec
from tests.helpers.flat_views import flat_views

PARTS = [(name, part.label) for name in EXAMPLES for part in piece(name).parts if part.made]


@cache
def drawn(name: str, label: str) -> tuple[Part, Sheet]:
    """A part of an example and its sheet, with views that need no kernel."""
    part, asked = piece(name).part(label), spec(name).drawings
    sheet = part_sheet(
        part,
        flat_views(part),
        units=spec(name).units,
        standard=asked.standard,
        paper=asked.paper,
        piece=replace(Issue.of(spec(name)), quantity=1),
    )
    return part, sheet


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_every_feature_is_fixed(name, label):
    part, sheet = drawn(name, label)
    assert unmet(part, sheet) == []


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_every_feature_has_its_size_in_words(name, label):
    part, sheet = drawn(name, label)
    for feature in part.features:
        said = words(sheet, feature.id)
        for number in _sizes(feature, sheet):
            assert number in said, (feature.id, number, said)


def _sizes(feature, sheet: Sheet) -> list[str]:
    """The numbers that no distance gives."""
    units = sheet.units
    match feature:
        case Hole():
            row = [f"{feature.count} × ", size(feature.pitch, units)] if feature.count > 1 else []
            return [size(feature.diameter, units), *row]
        case Countersink():
            return [size(feature.diameter, units), angle_text(feature.angle)]
        case Channel():
            return [size(feature.width, units)]
        case Mortise():
            return [size(value, units) for value in (feature.length, feature.width, feature.depth)]
        case EasedEdge():
            return [size(feature.size, units), f"{feature.between[0]}/{feature.between[1]}"]
        case Trim():
            return []
        case _:
            return [str(feature.note or feature.kind)]


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_every_slanted_cut_has_its_angle_and_the_way_it_leans(name, label):
    part, sheet = drawn(name, label)
    for feature in part.features:
        if isinstance(feature, Trim) and max(map(abs, feature.plane.normal)) < 1.0 - 1e-9:
            assert re.search(r"\d\.\d°", words(sheet, feature.id)), feature.id


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_the_whole_size_is_given_once_each_way(name, label):
    part, sheet = drawn(name, label)
    given = [
        (AXES[view.name][0 if d.axis is Axis.U else 1], round(d.measured, 6))
        for d, view in distances(sheet)
        if isinstance(d, Linear)
    ]
    assert sorted(given) == sorted((axis, round(at, 6)) for axis, at in enumerate(whole(part)))


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_no_distance_can_be_left_out(name, label):
    """Each one taken away leaves something unstated: what is unmet grows."""
    part, sheet = drawn(name, label)
    assert spare(part, sheet) == []
    for dimension, view in distances(sheet):
        if isinstance(dimension, Ordinate) and dimension.states:
            left = tuple(d for d in view.dimensions if d is not dimension)
            views = tuple(replace(v, dimensions=left) if v is view else v for v in sheet.views)
            assert lost(chosen(part, sheet), replace(sheet, views=views)) != []
            break  # one a part by hand; ``spare`` asks it of all


@pytest.mark.parametrize(("name", "label"), PARTS)
def test_every_distance_is_what_the_part_measures(name, label):
    """Some feature lies exactly there (1e-6), not only near."""
    part, sheet = drawn(name, label)
    needed = chosen(part, sheet)
    for dimension, view in distances(sheet):
        if isinstance(dimension, Ordinate) and dimension.states:
            axis = AXES[view.name][0 if dimension.axis is Axis.U else 1]
            near = [abs(need.at - dimension.measured) for need in needed if need.axis == axis]
            slanted = any(need.within > 0.1 for need in needed if need.feature in dimension.states)
            assert min(near) <= (0.6 if slanted else 1e-6)
