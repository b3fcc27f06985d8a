"""The closed piece and every mover on its way, looked at again on the exact solids.

It takes as long as making every part, so it is done only where it is asked for.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from typing import Final

from casewright.checking import Checked
from casewright.workers import Ended, StartError, Workers
from ground.findings import Finding, Severity
from ground.tolerances import CLASH_VOLUME
from ground.vectors import Frame, Vec, along, cross, dot, scale, sub
from models.parts.assembly import Assembly, Motion, Mover
from models.setting_out.densities import part_density

LIMIT: Final = 900.0
"""Seconds that the whole look may take; the largest piece known takes about thirty."""
SHARES: Final = (1 / 3, 2 / 3, 1.0)
"""Of a mover's way, where it is looked at."""
SOURCE: Final = "the solids themselves"


@dataclass(frozen=True, slots=True, kw_only=True)
class Met:
    """Two copies that share ``volume`` (mm3): closed, or with ``mover`` at ``share`` of its way."""

    copies: tuple[str, str]
    volume: float
    mover: str | None = None
    share: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Exact:
    """What the kernel says: volumes (mm3) and middles by label, what met, what cannot be made."""

    volumes: dict[str, float]
    middles: dict[str, Vec]
    met: tuple[Met, ...]
    failed: tuple[tuple[str, str], ...]


def exact_findings(checked: Checked) -> tuple[Finding, ...]:
    """What the solids say of a piece, beside what the quick checks have said.

    Raises:
        StartError: the kernel cannot be loaded.
    """
    from casewright.building import WANTED_LIBRARIES

    try:
        with Workers(1, prepare=prepare, limit=LIMIT) as workers:
            workers.submit("exact", look, checked.assembly)
            ended = [event for event in workers.events() if isinstance(event, Ended)]
    except StartError as error:
        message = f"the CAD kernel cannot be loaded: {error}; {WANTED_LIBRARIES}"
        raise StartError(message) from error
    (event,) = ended
    if event.failure is not None:
        return (_lost(checked.assembly, event.failure.reason),)
    return tuple(told(checked, event.value))


def prepare() -> None:
    """Load the kernel.

    Raises:
        ImportError: it cannot be loaded here.
    """
    for module in ("models.solids.solid", "models.solids.clash"):
        import_module(module)


def look(assembly: Assembly) -> Exact:
    """Make every solid, compare those that are near, closed and on the way; the kernel's part."""
    from ground.errors import BuildError
    from models.solids.clash import clashes, volume
    from models.solids.solid import solid

    solids, failed = {}, []
    for part in assembly.parts:
        try:
            solids[part.label] = solid(part)
        except BuildError as trouble:
            failed.append((part.label, str(trouble)))
    met = [
        Met(copies=(one.first, one.second), volume=one.volume) for one in clashes(assembly, solids)
    ]
    for mover, share in ((mover, share) for mover in assembly.movers for share in SHARES):
        there = moved(assembly, mover, share)
        mine = set(mover.copies)
        pairs = [(one, copy.id) for one in mine for copy in there.copies if copy.id not in mine]
        met += [
            Met(copies=(one.first, one.second), volume=one.volume, mover=mover.id, share=share)
            for one in clashes(there, solids, pairs=pairs)
        ]
    return Exact(
        volumes={label: volume(one.wrapped) for label, one in solids.items()},
        middles={label: one.Center().toTuple() for label, one in solids.items()},
        met=tuple(one for one in met if one.volume > CLASH_VOLUME),
        failed=tuple(failed),
    )


def moved(assembly: Assembly, mover: Mover, share: float) -> Assembly:
    """The piece with one mover at a share of its way."""
    copies = tuple(
        replace(copy, placement=_carried(copy.placement, mover, share))
        if copy.mover == mover.id
        else copy
        for copy in assembly.copies
    )
    return replace(assembly, copies=copies)


def _carried(frame: Frame, mover: Mover, share: float) -> Frame:
    way = mover.limit * share
    if mover.kind is Motion.SLIDES:
        return Frame(frame.x, frame.y, along(frame.origin, mover.axis, way))
    at = along(mover.origin, _turned(sub(frame.origin, mover.origin), mover.axis, way), 1.0)
    return Frame(_turned(frame.x, mover.axis, way), _turned(frame.y, mover.axis, way), at)


def _turned(p: Vec, axis: Vec, degrees: float) -> Vec:
    """A vector turned about an axis, right hand (Rodrigues' formula)."""
    cos, sin = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    level = scale(axis, dot(axis, p) * (1 - cos))
    return along(along(scale(p, cos), cross(axis, p), sin), level, 1.0)


def told(checked: Checked, found: Exact) -> Iterator[Finding]:
    """What the kernel found, as findings."""
    assembly = checked.assembly
    parts = {part.label: part for part in assembly.parts}
    for label, reason in found.failed:
        yield Finding(
            code="exact.solid",
            severity=Severity.ERROR,
            subject=f"{label} {parts[label].name}",
            message=f"the solid cannot be made: {reason}",
            copies=tuple(copy.id for copy in assembly.copies_of(label)),
            source=SOURCE,
        )
    for one in _first(found.met):
        yield _meeting(assembly, one)
    yield _summary(checked, found)


def _first(met: Iterable[Met]) -> Iterator[Met]:
    """Of what meets in several places, the first; what meets closed is not told again."""
    seen: set[frozenset[str]] = set()
    for one in met:
        pair = frozenset(one.copies)
        if pair not in seen:
            seen.add(pair)
            yield one


def _meeting(assembly: Assembly, one: Met) -> Finding:
    names = {copy.id: f"{copy.id} {assembly.part(copy.label).name}" for copy in assembly.copies}
    where = "in the closed piece" if one.mover is None else f"{one.share:.0%} of its way open"
    first, second = (names[copy] for copy in one.copies)
    return Finding(
        code="exact.overlap" if one.mover is None else "exact.meets",
        severity=Severity.ERROR,
        subject=one.mover or f"{first} and {second}",
        message=f"{first} and {second} share {one.volume:.0f} mm3 {where}; move or cut one of them",
        copies=one.copies,
        value=round(one.volume, 3),
        limit=CLASH_VOLUME,
        unit="mm3",
        source=SOURCE,
    )


def _summary(checked: Checked, found: Exact) -> Finding:
    """The exact mass and centre of gravity beside the quick ones."""
    from checks.placed import read

    piece = read(checked.assembly, checked.spec)
    kg, middle = _weighed(
        (found.volumes[one.part.label] * known.kg_m3 / 1e9, one.copy.placement.point(at))
        for one in piece.placed
        if (at := found.middles.get(one.part.label)) is not None
        and (known := part_density(one.part, checked.spec.materials)) is not None
    )
    quick, near = _weighed((weight.kg, weight.at) for weight in piece.masses.values())
    movers = len(checked.assembly.movers)
    return Finding(
        code="exact.looked",
        severity=Severity.NOTE,
        subject="the piece",
        message=f"{len(found.volumes)} solids made and compared, closed and with each of {movers} "
        f"drawers and doors at a third, two thirds and all of its way; they weigh "
        f"{kg:.2f} kg about {_place(middle)}, by the quick check {quick:.2f} kg about "
        f"{_place(near)}",
        value=round(kg, 6),
        unit="kg",
        source=SOURCE,
    )


def _weighed(lumps: Iterable[tuple[float, Vec]]) -> tuple[float, Vec]:
    """The mass (kg) of lumps, and their centre of gravity (mm)."""
    found = tuple(lumps)
    kg = sum(mass for mass, _ in found)
    if not kg:
        return (0.0, (0.0, 0.0, 0.0))
    x, y, z = (sum(mass * at[axis] for mass, at in found) / kg for axis in range(3))
    return (kg, (x, y, z))


def _place(at: Vec) -> str:
    return "({:.0f}, {:.0f}, {:.0f})".format(*at)


def _lost(assembly: Assembly, reason: str) -> Finding:
    return Finding(
        code="exact.solid",
        severity=Severity.ERROR,
        subject=assembly.name,
        message=f"the solids could not be looked at: {reason}",
        source=SOURCE,
    )
