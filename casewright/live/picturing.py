"""The picture of a piece out of shapes: only what is not made yet is asked for."""

import json
from collections import OrderedDict
from collections.abc import Mapping
from dataclasses import dataclass, replace

from casewright.live.jobs import Asked, Box, Seen, Unmade
from ground.findings import Finding, Severity
from ground.vectors import Frame, add
from models.parts.assembly import Assembly
from models.parts.blank import Blank
from models.parts.features import Feature
from models.parts.part import Part
from specs.spec import Spec

Shape = tuple[Blank, tuple[Feature, ...]]

PIECES_OF_LATE = 3
"""So many pieces' worth of shapes are kept, so that taking an edit back costs nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """The picture of a piece: its record, its box, how much was made for it, what could not be."""

    record: bytes
    bounds: Box | None
    made: int
    findings: tuple[Finding, ...]


class Shapes:
    """The shapes of late, those used last at the end."""

    def __init__(self) -> None:
        self._kept: OrderedDict[Shape, Seen | Unmade] = OrderedDict()
        self._meshes: dict[str, bytes] = {}
        self._made = 0

    def missing(self, assembly: Assembly) -> tuple[Asked, ...]:
        """What of a piece is not made yet, each shape once, the longest work first."""
        turned = ways(assembly)
        asked: dict[Shape, Asked] = {}
        for part in assembly.parts:
            wanted = turned.get(part.label, frozenset())
            known = self._kept.get(part.shape)
            if isinstance(known, Unmade) or (known and wanted <= known.boxes.keys()):
                continue
            if part.shape in asked:
                wanted |= asked[part.shape].turned
            exact = known is not None and known.proved
            asked[part.shape] = Asked(part=part, turned=wanted, exact=exact)
        return tuple(sorted(asked.values(), key=lambda one: -len(one.part.cuts())))

    def take(self, asked: Asked, made: Seen | Unmade) -> None:
        """Keep what was made."""
        self._kept[asked.part.shape] = made
        self._made += 1
        if isinstance(made, Seen):
            self._meshes[made.name] = made.content

    def unproved(self, assembly: Assembly) -> tuple[Asked, ...]:
        """What of a piece was made without its exact solid, each shape once."""
        turned = ways(assembly)
        asked: dict[Shape, Asked] = {}
        for part in assembly.parts:
            known = self._kept.get(part.shape)
            if isinstance(known, Seen) and not known.proved:
                wanted = turned.get(part.label, frozenset()) | known.boxes.keys()
                asked.setdefault(part.shape, Asked(part=part, turned=wanted))
        return tuple(asked.values())

    def prove(self, asked: Asked, made: Seen | Unmade) -> bool:
        """Set a shape beside its exact solid; tell whether the picture was wrong, and mend it."""
        known = self._kept.get(asked.part.shape)
        if not isinstance(known, Seen) or known.proved:
            return False
        if isinstance(made, Seen):
            if not known.boxes.keys() <= made.boxes.keys():
                return False  # a later piece has turned it another way, and asks by itself
            if known.measured.agrees_with(made.measured) and alike(known.boxes, made.boxes):
                self._kept[asked.part.shape] = replace(known, proved=True)
                return False
        self.take(asked, made)
        return True

    def picture(self, spec: Spec, assembly: Assembly) -> Pictured:
        """The picture of a piece of which everything was made, or was tried."""
        found: dict[str, Seen] = {}
        failed: list[Finding] = []
        for part in assembly.parts:
            self._kept.move_to_end(part.shape)
            match self._kept[part.shape]:
                case Seen() as one:
                    found[part.label] = one
                case Unmade() as trouble:
                    failed.append(not_made(assembly, part, trouble))
        self._forget(PIECES_OF_LATE * len(assembly.parts))
        box = bounds(assembly, found)
        record = recorded(spec, assembly, found, box)
        made, self._made = self._made, 0
        return Pictured(record=record, bounds=box, made=made, findings=tuple(failed))

    def mesh(self, name: str) -> bytes:
        """A mesh by its name; nothing where there is none."""
        return self._meshes.get(name, b"")

    def _forget(self, most: int) -> None:
        """Let go of the shapes that were not used for longest."""
        while len(self._kept) > most:
            self._kept.popitem(last=False)
        kept = self._kept.values()
        self._meshes = {one.name: one.content for one in kept if isinstance(one, Seen)}


def ways(assembly: Assembly) -> dict[str, frozenset[Frame]]:
    """How the copies of each part are turned that counts in the outside size, by its label."""
    from casewright.building import stands

    standing = {part.label for part in assembly.parts if stands(part)}
    found: dict[str, set[Frame]] = {}
    for copy in assembly.copies:
        if copy.label in standing:
            way = Frame(copy.placement.x, copy.placement.y)
            found.setdefault(copy.label, set()).add(way)
    return {label: frozenset(turned) for label, turned in found.items()}


def bounds(assembly: Assembly, found: dict[str, Seen]) -> Box | None:
    """The exact box of the closed piece (piece axes); None where nothing of it was made."""
    corners = [
        (add(low, copy.placement.origin), add(high, copy.placement.origin))
        for copy in assembly.copies
        if copy.label in found
        for low, high in [found[copy.label].boxes.get(way(copy.placement), (None, None))]
        if low is not None and high is not None
    ]
    if not corners:
        return None
    lows, highs = zip(*corners, strict=True)
    (a, b, c), (d, e, f) = (map(min, zip(*lows, strict=True)), map(max, zip(*highs, strict=True)))
    return ((a, b, c), (d, e, f))


def alike(some: Mapping[Frame, Box], others: Mapping[Frame, Box]) -> bool:
    """Tell whether turned boxes are the same in every way that ``some`` have."""
    from models.solids.records import SAME_BOX

    return all(
        abs(one - other) <= SAME_BOX
        for turned, corners in some.items()
        for mine, yours in zip(corners, others[turned], strict=True)
        for one, other in zip(mine, yours, strict=True)
    )


def way(placement: Frame) -> Frame:
    """How something is turned, without its place."""
    return Frame(placement.x, placement.y)


def not_made(assembly: Assembly, part: Part, trouble: Unmade) -> Finding:
    """Say that a part is missing from the picture."""
    cut = f" at {trouble.cut}" if trouble.cut else ""
    return no_solid(assembly, part, f"{cut}: {trouble.reason}; the picture is without it")


def not_proved(assembly: Assembly, part: Part, reason: str) -> Finding:
    """Say that a part is shown whose solid nobody could make."""
    return no_solid(assembly, part, f": {reason}; the picture shows what it should be")


def no_solid(assembly: Assembly, part: Part, why: str) -> Finding:
    """Say that there is no solid of a part."""
    return Finding(
        code="make.solid",
        severity=Severity.ERROR,
        subject=f"{part.label} {part.name}",
        message=f"the solid cannot be made{why}",
        copies=tuple(copy.id for copy in assembly.copies_of(part.label)),
        source="the solid itself",
    )


def recorded(spec: Spec, assembly: Assembly, found: dict[str, Seen], box: Box | None) -> bytes:
    """The record of the picture; each part says what its mesh is called."""
    from exporters.looks import looks
    from exporters.masses import surface
    from exporters.page_record import Shown, page_record

    seen = {key: surface(material) for key, material in spec.materials.items()}
    record = page_record(
        Shown(
            spec=spec,
            assembly=assembly,
            measured={label: one.measured for label, one in found.items()},
            looks=looks(assembly, seen),
            bounds=box,
            steps=None,
            drawings={part.label: f"drawings#{part.label}" for part in assembly.parts if part.made},
        )
    )
    for part, entry in zip(assembly.parts, record["parts"], strict=True):
        entry["mesh"] = found[part.label].name if part.label in found else None
    return json.dumps(record, ensure_ascii=False, separators=(",", ":")).encode()
