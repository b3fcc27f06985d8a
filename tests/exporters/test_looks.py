"""Every material of a spec has a look, told from its neighbours."""

from itertools import combinations

import pytest

from exporters.looks import look, looks
from exporters.masses import surface
from models.parts.part import PartKind
from specs.materials import Core
from specs.reading import load
from tests.helpers import door_and_leg as small
from tests.helpers.repository import ROOT


@pytest.mark.parametrize("core", list(Core))
def test_every_core_has_a_look_of_its_own_name(core):
    assert look(PartKind.SHEET, str(core)).name == str(core)


@pytest.mark.parametrize(
    ("one", "same"),
    [("white oak", "Oak, white"), ("red oak", "northern red oak"), ("douglas fir", "Douglas-fir")],
)
def test_a_species_is_known_by_its_words(one, same):
    assert look(PartKind.LUMBER, one).colour == look(PartKind.LUMBER, same).colour


def test_common_woods_are_told_apart():
    woods = ["white oak", "black walnut", "black cherry", "hard maple", "red oak", "mahogany"]
    for one, two in combinations([look(PartKind.LUMBER, wood).colour for wood in woods], 2):
        assert sum(abs(a - b) for a, b in zip(one, two, strict=True)) > 0.1


def test_what_is_not_known_looks_like_its_kind():
    assert look(PartKind.SHEET, "moon rock").name == "sheet"
    assert look(PartKind.LUMBER).name == "wood"


def test_hardware_is_metal_whatever_it_is_called():
    assert look(PartKind.HARDWARE, "oak").metalness > 0.5


def test_every_material_of_the_examples_has_a_look_of_its_own_name():
    for example in sorted((ROOT / "examples").glob("*.yaml")):
        for material in load(example).spec.materials.values():
            kind = PartKind(material.kind)
            assert look(kind, surface(material)).name == surface(material)


def test_parts_look_like_their_materials():
    found = looks(small.PIECE, {"oak": "white oak", "panel": "linoleum"})
    assert {label: one.name for label, one in found.items()} == {
        "B1": "white oak",
        "F1": "linoleum",
        "L1": "loose piece",
    }
