"""Masses say what is known, and name what is not."""

from dataclasses import replace

import pytest

from exporters.masses import findings
from models.parts.part import PartKind
from models.setting_out.densities import part_density
from tests.helpers.examples import EXAMPLES, piece
from tests.helpers.examples import spec as example
from tests.helpers.small_piece import PIECE, spec


def test_what_has_no_known_mass_is_named_once():
    found = list(findings(PIECE, spec().materials))
    assert [(f.code, f.subject, f.message, f.copies) for f in found] == [
        (
            "mass.unknown",
            "hardware",
            "no mass is known of the glide; the total is without them",
            ("H1.1",),
        )
    ]


def test_a_wood_without_a_published_density_is_named_with_what_would_help():
    materials = spec(**{"species: white oak\n": "species: bog oak\n"}).materials
    (found, _) = findings(PIECE, materials)
    assert found.message == (
        "no density is known of oak (bog oak); write density in kg a cubic metre, or the total is"
        " without the board"
    )
    assert found.copies == ("B10.10", "B10.2")


@pytest.mark.parametrize(
    ("name", "kind", "kg_m3"),
    [
        ("dowel 8 x 30", PartKind.LOOSE, 710),
        ("loose tenon", PartKind.LOOSE, 710),
        ("spline", PartKind.LOOSE, 710),
        ("black walnut pin", PartKind.LOOSE, 616),
        ("bog oak bar", PartKind.LOOSE, None),
        ("top tape", PartKind.EDGING, 710),
        ("hinge cup", PartKind.HARDWARE, None),
    ],
)
def test_what_no_material_of_the_spec_is_named_for(name, kind, kg_m3):
    """Beech for what is bought ready made, else the wood in the name; hardware is not weighed."""
    part = replace(PIECE.part("L1"), name=name, kind=kind)
    known = part_density(part, {})
    assert (None if known is None else known.kg_m3) == kg_m3


@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_but_hardware_has_a_mass(name):
    unknown = {
        part for part in piece(name).parts if part_density(part, example(name).materials) is None
    }
    assert {part.kind for part in unknown} <= {PartKind.HARDWARE}
