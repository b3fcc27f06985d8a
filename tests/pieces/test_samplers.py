"""The examples together use every joint and every fitting, and all of them can be made."""

from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from typing import get_args

import pytest
from pydantic import BaseModel

from ground.findings import Severity
from models.parts.assembly import Motion
from models.parts.part import PartKind
from specs.base import BaseKind, FixingKind, FootKind, PlinthCorners, Stretchers
from specs.case import BackFixing, BackKind, CornerKind, Enters
from specs.doors import DoorFrame, DoorKind, StopKind
from specs.drawers import BoxCornerKind, CornerPins, InlaidBars, PullKind
from specs.edging import EdgingCorners, EdgingKind
from specs.hardware import Closing, CupFixing, FittingKind, Opens
from specs.joints import ApronJoint, Helper, JointKind, StretcherJoint
from specs.openings import Split
from specs.shelves import Support
from specs.spec import Spec
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


def choices(annotation: object) -> frozenset[type[BaseModel]]:
    """The records that may stand in a field."""
    if isinstance(annotation, type):
        own = issubclass(annotation, BaseModel)
        return frozenset({annotation} if own else ())
    return frozenset().union(*(choices(inside) for inside in get_args(annotation)))


def sections(record: type[BaseModel], seen: set[type[BaseModel]]) -> set[type[BaseModel]]:
    """A record of the language, and every one that may stand in it."""
    if record not in seen:
        seen.add(record)
        for field in record.model_fields.values():
            for inside in choices(field.annotation):
                sections(inside, seen)
    return seen


LANGUAGE = sorted(sections(Spec, set()), key=lambda record: record.__name__)
UNIONS = {
    choices(field.annotation): f"{record.__name__}.{name}"
    for record in LANGUAGE
    for name, field in record.model_fields.items()
    if len(choices(field.annotation)) > 1
}
"""Every closed union of the language, and one field that takes it."""


@cache
def chosen() -> dict[frozenset[type[BaseModel]], set[type[BaseModel]]]:
    """What the examples write in the fields of each union."""
    found: dict[frozenset[type[BaseModel]], set[type[BaseModel]]] = {}
    for name in EXAMPLES:
        for record in records(spec(name)):
            for field, info in type(record).model_fields.items():
                inside = directly(getattr(record, field))
                found.setdefault(choices(info.annotation), set()).update(map(type, inside))
    return found


def directly(value: object) -> Iterator[BaseModel]:
    """The records in one field, not those within them."""
    if isinstance(value, BaseModel):
        yield value
    elif isinstance(value, dict | tuple):
        for one in value.values() if isinstance(value, dict) else value:
            yield from directly(one)


@pytest.mark.parametrize("union", UNIONS, ids=lambda union: UNIONS[union])
def test_every_member_of_every_union_is_used(union: frozenset[type[BaseModel]]) -> None:
    """Joints of the case, of dividers, aprons and stretchers, corners of boxes, fittings, bases."""
    assert {kind.__name__ for kind in chosen()[union]} == {kind.__name__ for kind in union}


def test_every_stretcher_joint_holds_a_stretcher() -> None:
    """And not only a rail, which takes the same joints."""
    kinds = get_args(get_args(StretcherJoint)[0])
    stretchers = [r for name in EXAMPLES for r in records(spec(name)) if isinstance(r, Stretchers)]
    assert {type(asked.joint) for asked in stretchers} == set(kinds)


def test_every_joint_of_a_door_frame_and_both_adornments_of_a_rabbet_are_used() -> None:
    kinds = get_args(get_args(ApronJoint)[0])
    frames = [r for name in EXAMPLES for r in records(spec(name)) if isinstance(r, DoorFrame)]
    assert {type(frame.joint) for frame in frames if frame.joint} == set(kinds)
    used = {type(r) for name in EXAMPLES for r in records(spec(name))}
    assert {CornerPins, InlaidBars} <= used


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
