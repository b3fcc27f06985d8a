"""A picture asks only for shapes that are not made yet, and says what could not be made."""

import json
from dataclasses import replace

import pytest

from casewright.checking import assembled
from casewright.live.jobs import Asked, Seen, Unmade
from casewright.live.picturing import PIECES_OF_LATE, Shapes
from models.parts.assembly import Assembly
from models.solids.records import Measured
from specs.reading import read
from specs.spec import Spec
from tests.helpers.small_piece import EXAMPLES

TEXT = (EXAMPLES / "reading-room-cabinet.yaml").read_text(encoding="utf-8")


def piece(shares: str = "1.5 shares") -> tuple[Spec, Assembly]:
    loaded = read(TEXT.replace("1.5 shares", shares), "piece.yaml")
    return loaded.spec, assembled(loaded)


def stood_in(asked: Asked) -> Seen:
    """A part as its blank, in the place of the kernel's work."""
    size = asked.part.blank.size
    box = ((0.0, 0.0, 0.0), size)
    return Seen(
        measured=Measured(volume=1.0, box=box, faces=()),
        name=f"mesh of {hash(asked.part.shape)}",
        content=asked.part.label.encode(),
        boxes=dict.fromkeys(asked.turned, box),
        proved=False,
    )


def made(shapes: Shapes, assembly: Assembly) -> int:
    """Make what is missing, and say how much that was."""
    asked = shapes.missing(assembly)
    for one in asked:
        shapes.take(one, stood_in(one))
    return len(asked)


@pytest.fixture(scope="module")
def first() -> tuple[Spec, Assembly]:
    return piece()


def test_parts_of_one_shape_are_asked_for_once(first):
    asked = Shapes().missing(first[1])
    assert len(asked) == len({part.shape for part in first[1].parts})


def test_an_edit_asks_for_what_it_changes_and_taking_it_back_for_nothing(first):
    shapes = Shapes()
    assert made(shapes, first[1]) > 40
    assert shapes.picture(*first).made > 40
    spec, assembly = piece("1.6 shares")
    assert 5 < made(shapes, assembly) < 20
    shapes.picture(spec, assembly)
    assert made(shapes, first[1]) == 0
    assert shapes.picture(*first).made == 0


def test_what_is_kept_does_not_grow(first):
    shapes = Shapes()
    for count in range(8):
        spec, assembly = piece(f"{1.5 + count / 10:g} shares")
        made(shapes, assembly)
        shapes.picture(spec, assembly)
    assert len(shapes._kept) <= PIECES_OF_LATE * len(first[1].parts)
    assert len(shapes._meshes) <= len(shapes._kept)
    record = json.loads(shapes.picture(spec, assembly).record)
    assert all(shapes.mesh(part["mesh"]) for part in record["parts"])
    assert shapes.mesh("../piece.yaml") == b""


def test_a_part_that_cannot_be_made_is_a_finding_and_the_rest_is_shown(first):
    shapes, asked = Shapes(), Shapes().missing(first[1])
    bad = next(one for one in asked if one.part.label == "C1")
    unmade = Unmade(cut="groove-1", reason="it cannot be cut")
    for one in asked:
        shapes.take(one, unmade if one is bad else stood_in(one))
    pictured = shapes.picture(*first)
    (finding,) = pictured.findings
    assert finding.subject == "C1 top"
    assert "cannot be made at groove-1: it cannot be cut" in finding.message
    assert finding.copies
    parts = {part["label"]: part for part in json.loads(pictured.record)["parts"]}
    assert parts["C1"]["mesh"] is None
    assert parts["C2"]["mesh"] is not None
    assert shapes.missing(first[1]) == ()  # it is not tried again and again


def test_the_longest_work_is_asked_for_first(first):
    cuts = [len(one.part.cuts()) for one in Shapes().missing(first[1])]
    assert cuts == sorted(cuts, reverse=True)


def test_what_is_shown_is_proved_by_its_solid_once(first):
    shapes = Shapes()
    made(shapes, first[1])
    before = json.loads(shapes.picture(*first).record)
    waiting = shapes.unproved(first[1])
    assert len(waiting) == len({part.shape for part in first[1].parts})
    assert not any(shapes.prove(one, replace(stood_in(one), proved=True)) for one in waiting)
    assert shapes.unproved(first[1]) == ()
    assert json.loads(shapes.picture(*first).record) == before
    _, assembly = piece("1.6 shares")
    fresh = made(shapes, assembly)
    assert len(shapes.unproved(assembly)) == fresh  # the rest is as it was


def test_a_solid_that_measures_otherwise_has_the_last_word(first):
    shapes = Shapes()
    made(shapes, first[1])
    one = next(one for one in shapes.unproved(first[1]) if one.part.label == "C1")
    solid = replace(stood_in(one), name="the solid's mesh", proved=True)
    solid = replace(solid, measured=replace(solid.measured, volume=9.0))
    assert shapes.prove(one, solid)
    record = json.loads(shapes.picture(*first).record)
    top = next(part for part in record["parts"] if part["label"] == "C1")
    assert top["mesh"] == "the solid's mesh"
    assert one.part.shape not in {other.part.shape for other in shapes.unproved(first[1])}


def test_a_solid_that_cannot_be_made_is_a_finding_after_all(first):
    shapes = Shapes()
    made(shapes, first[1])
    assert shapes.picture(*first).findings == ()
    one = next(one for one in shapes.unproved(first[1]) if one.part.label == "C1")
    assert shapes.prove(one, Unmade(cut="groove-1", reason="it cannot be cut"))
    (finding,) = shapes.picture(*first).findings
    assert "cannot be made at groove-1" in finding.message


def test_a_proof_of_what_is_not_kept_any_more_changes_nothing(first):
    shapes = Shapes()
    one = Shapes().missing(first[1])[0]
    assert not shapes.prove(one, Unmade(cut="", reason="too late"))
    assert one.part.shape in {other.part.shape for other in shapes.missing(first[1])}


def test_a_shape_whose_solid_is_shown_is_made_exactly_when_it_is_turned_anew(first):
    shapes = Shapes()
    for one in shapes.missing(first[1]):
        shapes.take(one, replace(stood_in(one), proved=True, boxes={}))
    again = shapes.missing(first[1])
    assert again
    assert all(one.exact for one in again)
    assert not any(one.exact for one in Shapes().missing(first[1]))


def test_a_proof_that_knows_less_turns_than_the_picture_waits_for_its_own(first):
    shapes = Shapes()
    made(shapes, first[1])
    one = next(one for one in shapes.unproved(first[1]) if one.turned)
    solid = replace(stood_in(one), measured=replace(stood_in(one).measured, volume=9.0), boxes={})
    assert not shapes.prove(one, solid)
    assert one.part.shape in {other.part.shape for other in shapes.unproved(first[1])}


def test_a_turned_box_that_is_off_is_mended(first):
    shapes = Shapes()
    made(shapes, first[1])
    one = next(one for one in shapes.unproved(first[1]) if one.turned)
    larger = ((0.0, 0.0, 0.0), (1e4, 1.0, 1.0))
    assert shapes.prove(one, replace(stood_in(one), boxes=dict.fromkeys(one.turned, larger)))
