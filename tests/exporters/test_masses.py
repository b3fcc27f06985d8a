"""Masses say what is known, and name what is not."""

from exporters.masses import findings
from tests.helpers.small_piece import PIECE, spec


def test_what_has_no_known_mass_is_named_once():
    found = list(findings(PIECE, spec().materials))
    assert [(f.code, f.subject, f.message, f.copies) for f in found] == [
        (
            "mass.unknown",
            "loose pieces and hardware",
            "no mass is known of the dowel, glide; the total is without them",
            ("L1.1", "H1.1"),
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
