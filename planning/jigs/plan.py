"""Every jig that the set-ups, the holes, the glue-ups and the gaps of a piece call for."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from ground.order import natural
from models.parts.assembly import Assembly
from planning.jigs.holes import strips
from planning.jigs.records import (
    Bit,
    ClampWedge,
    GuideBlock,
    Jig,
    LevellingWedge,
    MitreCaul,
    SledSetting,
    Spacer,
    TaperSled,
    Use,
)
from planning.machines import Tool
from planning.saw.job import Job
from planning.saw.records import SetUp
from planning.saw.settings import Hand
from planning.steps.records import Step
from specs.openings import Opening
from specs.spec import Spec

SLANTED = 0.5
"""A hole nearer to square than this needs no slanted guide (degrees)."""
OVER = 200.0
"""How far from the stop a sled's cleat is measured a second time (mm)."""
PAIR = 2
"""Jaws of a clamp, sides of a mitre, ends of a gap."""
MITRED = "mitre"
PLACES = 1
"""Numbers alike to 0.1 make one jig: as fine as they are printed."""


def jigs(
    spec: Spec, assembly: Assembly, set_ups: Iterable[SetUp], steps: Iterable[Step]
) -> tuple[Jig, ...]:
    """Every jig, in the order in which the work comes to it."""
    found, order = tuple(set_ups), tuple(steps)
    return (
        *sled(spec, assembly, found),
        *levelling(assembly, found),
        *strips(assembly),
        *guides(found),
        *clamp_wedges(order),
        *mitre_cauls(assembly, order),
        *spacers(spec),
    )


def used(found: Iterable[SetUp]) -> tuple[Use, ...]:
    """Parts with the numbers of their set-ups."""
    orders: dict[str, list[int]] = {}
    for one in found:
        orders.setdefault(one.part, []).append(one.order)
    return tuple(
        Use(part=label, orders=tuple(orders[label])) for label in sorted(orders, key=natural)
    )


def sled(spec: Spec, assembly: Assembly, found: Iterable[SetUp]) -> Iterator[TaperSled]:
    """One sled for all tapers, with the settings of its cleat."""
    settings: dict[tuple[float, ...], list[SetUp]] = {}
    numbers: dict[tuple[float, ...], SledSetting] = {}
    long = 0.0
    for one in found:
        if one.machine is not Tool.SLED or one.distance is None:
            continue
        job = Job(part=assembly.part(one.part), machines=spec.shop.machines, kerf=spec.shop.kerf)
        long = max(long, job.part.blank.length)
        setting = sled_setting(one, away(one, job))
        key = tuple(round(n, PLACES) for n in (setting.near, setting.far, setting.tilt))
        settings.setdefault(key, []).append(one)
        numbers.setdefault(key, setting)
    if settings:
        yield TaperSled(
            piece=long,
            over=OVER,
            settings=tuple(
                replace(numbers[key], uses=used(alike)) for key, alike in settings.items()
            ),
        )


def sled_setting(one: SetUp, side: Hand) -> SledSetting:
    """Where the cleat lies: a cut that leads to ``side`` widens what is kept, else narrows it."""
    angle = 0.0 if one.mitre is None else 90.0 - one.mitre
    near = one.distance or 0.0
    widens = one.mitre_to is None or one.mitre_to is side
    rise = OVER * tangent(angle)
    return SledSetting(
        near=near,
        far=near + (rise if widens else -rise),
        angle=angle,
        tilt=one.tilt or 0.0,
        uses=(),
    )


def away(one: SetUp, job: Job) -> Hand:
    """To which side of one who stands at the reference edge the piece runs on from the stop."""
    lie = job.lie(one.table_face or "", one.reference_edge or "", one.stop)
    return Hand.RIGHT if lie.inward > 0 else Hand.LEFT


def tangent(degrees: float) -> float:
    """The rise over a run of 1."""
    return math.tan(math.radians(degrees))


def levelling(assembly: Assembly, found: Iterable[SetUp]) -> Iterator[LevellingWedge]:
    """The wedges that bring a face level, alike to 0.1 mm told once."""
    alike: dict[tuple[float, float], list[SetUp]] = {}
    for one in found:
        if one.wedge is not None:
            key = (round(one.wedge.rise, PLACES), round(one.wedge.length, PLACES))
            alike.setdefault(key, []).append(one)
    for same in alike.values():
        wedge = same[0].wedge
        if wedge is None:
            continue
        blank = assembly.part(same[0].part).blank
        flat = wedge.under.removeprefix("stock.") in {"top", "bottom"}
        yield LevellingWedge(
            rise=wedge.rise,
            length=wedge.length,
            wide=blank.width if flat else blank.thickness,
            made_from=wedge.made_from,
            uses=used(same),
        )


def guides(found: Iterable[SetUp]) -> Iterator[GuideBlock]:
    """A block for each slant that a bit goes in at."""
    alike: dict[float, list[SetUp]] = {}
    for one in found:
        done = one.cutter
        if done is not None and done.diameter is not None and done.lean > SLANTED:
            alike.setdefault(round(done.lean, PLACES), []).append(one)
    for lean, same in sorted(alike.items()):
        bits = dict.fromkeys(bit for one in same for bit in bits_of(one))
        yield GuideBlock(lean=lean, bits=tuple(bits), uses=used(same))


def bits_of(one: SetUp) -> Iterator[Bit]:
    """The bit of a set-up that drills."""
    done = one.cutter
    if done is not None and done.diameter is not None:
        depth = None if done.depth is None else round(done.depth, PLACES)
        yield Bit(kind=one.does, diameter=done.diameter, depth=depth)


def clamp_wedges(steps: Iterable[Step]) -> Iterator[ClampWedge]:
    """The wedges under the jaws of clamps: a pair a clamp, used again from set to set."""
    for step in steps:
        for clamp in step.clamps:
            if clamp.wedge:
                yield ClampWedge(angle=clamp.wedge, count=PAIR * clamp.count, steps=(step.order,))


def mitre_cauls(assembly: Assembly, steps: Iterable[Step]) -> Iterator[MitreCaul]:
    """A strip for either side of every mitre that a glue-up closes at once."""
    joints = {joint.id: joint for joint in assembly.joints}
    labels = {copy.id: copy.label for copy in assembly.copies}
    alike: dict[float, list[tuple[int, int]]] = {}
    for step in steps:
        mitres = [joints[found] for found in step.joints if MITRED in joints[found].kind]
        if not mitres or not step.clamps:
            continue
        runs = (assembly.part(labels[joint.parts[0]]).blank.width for joint in mitres)
        alike.setdefault(round(max(runs), PLACES), []).append((step.order, len(mitres)))
    for length, found in alike.items():
        yield MitreCaul(
            length=length,
            count=PAIR * max(count for _, count in found),
            steps=tuple(order for order, _ in found),
        )


def spacers(spec: Spec) -> Iterator[Spacer]:
    """Sticks for the gaps around drawer fronts and doors: a pair for each level gap at once."""
    most: dict[tuple[float, str], int] = {}
    for opening in openings(spec.inside):
        if opening.drawers is not None:
            key = (opening.drawers.front.gap, "drawer fronts")
            most[key] = max(most.get(key, 0), PAIR * (len(opening.drawers.heights) + 1))
        if opening.doors is not None:
            key = (opening.doors.gap, "doors")
            most[key] = max(most.get(key, 0), PAIR * PAIR)
    for (thickness, what), count in most.items():
        if thickness > 0:
            yield Spacer(thickness=thickness, count=count, what=what)


def openings(opening: Opening) -> Iterator[Opening]:
    """An opening and all that it is divided into."""
    yield opening
    for piece in opening.pieces:
        yield from openings(piece)
