"""What the exact solids say beside the quick checks."""

from dataclasses import replace

import pytest

from casewright.checking import Checked
from casewright.exact import Exact, Met, look, moved, told
from checks.volumes import lump_of
from ground.findings import Severity
from ground.vectors import Frame, add
from models.parts.assembly import Assembly, Motion
from tests.helpers.examples import BEDSIDE, DEMO, EXAMPLES, piece, spec


def only(whole: Assembly, *names: str) -> Assembly:
    """A piece of which only the parts that begin with one of ``names`` are there."""
    parts = tuple(part for part in whole.parts if part.name.startswith(names))
    labels = {part.label for part in parts}
    copies = tuple(copy for copy in whole.copies if copy.label in labels)
    ids = {copy.id for copy in copies}
    movers = tuple(
        replace(mover, copies=tuple(copy for copy in mover.copies if copy in ids))
        for mover in whole.movers
    )
    return replace(whole, parts=parts, copies=copies, movers=movers)


def pushed(whole: Assembly, name: str, by: tuple[float, float, float]) -> Assembly:
    """The first copy of a part pushed along."""
    label = next(part.label for part in whole.parts if part.name.startswith(name))
    first = whole.copies_of(label)[0].id
    copies = tuple(
        replace(
            one, placement=Frame(one.placement.x, one.placement.y, add(one.placement.origin, by))
        )
        if one.id == first
        else one
        for one in whole.copies
    )
    return replace(whole, copies=copies)


def checked(name: str, assembly: Assembly) -> Checked:
    return Checked(spec=spec(name), assembly=assembly, findings=())


@pytest.mark.kernel
@pytest.mark.slow
@pytest.mark.parametrize("name", EXAMPLES)
def test_the_kernel_agrees_with_the_quick_checks(name):
    """Nothing meets, closed or on its way; a part weighs within 2 % what its solid does.

    Within 0.01 % over the whole piece: small parts are those whose holes meet their cuts.
    """
    whole = piece(name)
    found = look(whole)
    assert (found.met, found.failed) == ((), ())
    mine = kernels = 0.0
    for part in whole.parts:
        if part.made:
            quick, exact = lump_of(part), found.volumes[part.label]
            assert quick.volume == pytest.approx(exact, rel=0.02), part.name
            assert quick.centre == pytest.approx(found.middles[part.label], abs=0.2), part.name
            mine, kernels = mine + quick.volume, kernels + exact
    assert mine == pytest.approx(kernels, rel=1e-4)


@pytest.mark.kernel
def test_what_stands_in_a_drawers_way_is_found_on_the_solids_and_the_free_one_passes():
    """A side moved 3 mm towards the drawer front: its gap is 1.98 mm."""
    sound = only(piece(BEDSIDE), "side right", "drawer front")
    (note,) = told(checked(BEDSIDE, sound), look(sound))
    assert note.code == "exact.looked"
    tight = pushed(sound, "side right", (-3.0, 0.0, 0.0))
    found = look(tight)
    first, last = told(checked(BEDSIDE, tight), found)
    assert (first.code, first.severity, last.code) == (
        "exact.overlap",
        Severity.ERROR,
        "exact.looked",
    )
    assert "drawer front" in first.subject
    assert {one.mover for one in found.met} >= {None}


def test_what_meets_only_on_the_way_is_told_of_its_mover():
    door = piece(DEMO).movers[0]
    two = (door.copies[0], next(c.id for c in piece(DEMO).copies if c.id not in door.copies))
    met = tuple(Met(copies=two, volume=50.0, mover=door.id, share=share) for share in (0.5, 0.75))
    found = Exact(volumes={}, middles={}, met=met, failed=())
    first, _ = told(checked(DEMO, piece(DEMO)), found)
    assert first.code == "exact.meets"
    assert first.subject == door.id
    assert "50% of its way open" in first.message


def test_a_mover_is_carried_along_its_axis_or_about_it():
    whole = piece(DEMO)
    for mover in whole.movers:
        for copy, there in zip(whole.copies, moved(whole, mover, 0.5).copies, strict=True):
            if copy.mover != mover.id:
                assert copy == there
            elif mover.kind is Motion.SLIDES:
                wanted = tuple(
                    a + b * mover.limit / 2
                    for a, b in zip(copy.placement.origin, mover.axis, strict=True)
                )
                assert there.placement.origin == pytest.approx(wanted)
            else:
                before = sum(
                    (a - b) ** 2 for a, b in zip(copy.placement.origin, mover.origin, strict=True)
                )
                after = sum(
                    (a - b) ** 2 for a, b in zip(there.placement.origin, mover.origin, strict=True)
                )
                assert after == pytest.approx(before)
                assert there.placement.origin[2] == pytest.approx(copy.placement.origin[2])
