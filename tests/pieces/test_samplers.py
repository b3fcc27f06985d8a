"""The examples together use every joint and every fitting, and all of them can be made."""

from collections.abc import Iterator
from enum import StrEnum
from functools import cache

import pytest
from pydantic import BaseModel

from ground.findings import Severity
from models.parts.assembly import Motion
from models.parts.part import PartKind
from specs.base import BaseKind, FixingKind, FootKind, PlinthCorners
from specs.case import BackFixing, BackKind, CornerKind, Enters
from specs.doors import DoorFrame, DoorKind, StopKind
from specs.drawers import BoxCornerKind, CornerPins, InlaidBars, PullKind
from specs.edging import EdgingCorners, EdgingKind
from specs.hardware import Closing, CupFixing, FittingKind, Opens
from specs.joints import Helper, JointKind
from specs.openings import Split
from specs.shelves import Support
from tests.helpers.examples import EXAMPLES, piece, spec

SAMPLERS = tuple(name for name in EXAMPLES if name.startswith("joint-sampler"))


def records(value: object) -> Iterator[BaseModel]:
    """Every record of a spec, outermost first."""
    if isinstance(value, BaseModel):
        yield value
        for name in type(value).model_fields:
            yield from records(getattr(value, name))
    elif isinstance(value, dict):
        for one in value.values():
            yield from records(one)
    elif isinstance(value, tuple):
        for one in value:
            yield from records(one)


@cache
def words() -> frozenset[tuple[type[StrEnum], str]]:
    """Every word of every closed list that some example uses."""
    found: set[tuple[type[StrEnum], str]] = set()
    for name in EXAMPLES:
        for record in records(spec(name)):
            values = (getattr(record, field) for field in type(record).model_fields)
            found |= {(type(v), v.value) for v in values if isinstance(v, StrEnum)}
    return frozenset(found)


@pytest.mark.parametrize(
    "kinds",
    [
        BackFixing,
        BackKind,
        BaseKind,
        BoxCornerKind,
        Closing,
        CornerKind,
        CupFixing,
        DoorKind,
        EdgingCorners,
        EdgingKind,
        Enters,
        FittingKind,
        FixingKind,
        FootKind,
        Helper,
        JointKind,
        Opens,
        PlinthCorners,
        PullKind,
        Split,
        StopKind,
        Support,
    ],
    ids=lambda kinds: kinds.__name__,
)
def test_every_word_of_every_list_is_used(kinds: type[StrEnum]) -> None:
    used = {word for of, word in words() if of is kinds}
    assert used == {word.value for word in kinds}


def kinds_of(*path: str) -> set[str]:
    """The kinds of joint at ``path`` (names of fields) of any record of any example."""
    found: set[str] = set()
    for name in EXAMPLES:
        for record in records(spec(name)):
            value: object = record
            for field in path:
                value = getattr(value, field, None)
            kind = getattr(value, "kind", None)
            found |= {str(kind)} if kind is not None else set()
    return found


def test_every_joint_is_used_where_it_may_stand() -> None:
    assert kinds_of("aprons", "joint") == {
        "loose tenon",
        "mortise and tenon",
        "dowel",
        "pocket screw",
    }
    assert kinds_of("dividers", "joint") == {
        "dowel",
        "dado",
        "stopped dado",
        "loose tenon",
        "screw",
        "pocket screw",
        "tongue and groove",
    }
    assert kinds_of("joints", "top") | kinds_of("joints", "bottom") == {
        "spline",
        "loose tenon",
        "dowel",
        "screw",
        "pocket screw",
        "tongue and groove",
    }
    frames = [r for name in EXAMPLES for r in records(spec(name)) if isinstance(r, DoorFrame)]
    assert {str(frame.joint.kind) for frame in frames if frame.joint} == {
        "loose tenon",
        "mortise and tenon",
        "dowel",
        "pocket screw",
    }
    kinds = {type(r) for name in EXAMPLES for r in records(spec(name))}
    assert {CornerPins, InlaidBars} <= kinds


FITTINGS = {
    "ball catch",
    "ball catch plate",
    "bar pull",
    "figure-eight fastener",
    "glide",
    "hinge arm and plate",
    "hinge cup",
    "hinge knuckle",
    "hinge leaf",
    "knob",
    "leveller",
    "locking device",
    "magnetic catch",
    "push latch",
    "shelf pin",
    "side-mount slide",
    "slotted clip",
    "strike plate",
    "synchronising rod",
    "undermount runner",
    "wall anchor",
}


def test_every_fitting_has_a_solid_of_its_own() -> None:
    bought = {
        part.name.removesuffix(" left").removesuffix(" right")
        for name in EXAMPLES
        for part in piece(name).parts
        if part.kind is PartKind.HARDWARE
    }
    assert bought == FITTINGS


@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_asked_for_is_made_and_can_be_put_together(name: str) -> None:
    """No note that something is not made, no error, and no part asked for two directions."""
    codes = {finding.code for finding in piece(name).findings}
    assert not {code for code in codes if code.startswith("not-made")}
    assert "assembly.two_directions" not in codes
    errors = [f.message for f in piece(name).findings if f.severity is Severity.ERROR]
    assert errors == []


@pytest.mark.parametrize("name", SAMPLERS)
def test_the_checks_find_no_error_in_a_sampler(name: str) -> None:
    from checks.all import look

    found = look(piece(name), spec(name)).findings
    assert [f.message for f in found if f.severity is Severity.ERROR] == []


@pytest.mark.parametrize("name", SAMPLERS)
def test_every_sampler_has_drawers_and_doors_to_try(name: str) -> None:
    assert {mover.kind for mover in piece(name).movers} == set(Motion)
