"""Solid wood held across its grain, panels in grooves, drawer boxes and slotted screws."""

from collections.abc import Iterator

from checks.air import Air, Board, air_of, board
from checks.leaves import leaves
from checks.placed import Piece, Placed
from ground.findings import COMMON_PRACTICE, FROM_THE_SPEC, Finding, Severity
from ground.vectors import Vec, X, Y, Z
from models.parts.assembly import Joint
from models.parts.features import Channel, ChannelKind
from models.parts.part import PartKind
from models.setting_out.door_frame import MOVES
from specs.doors import PanelDoors
from specs.hardware import SideMountSlide, UndermountRunner, WoodenRunner
from specs.materials import Cut
from specs.openings import Opening

MOST_GLUED = 120.0
"""Glue held across the grain of solid wood over more than this splits it or lets go (mm). Common
practice, no source."""
GLUED = (
    "dowel",
    "loose tenon",
    "spline",
    "dado",
    "stopped dado",
    "tongue and groove",
    "mortise and tenon",
    "rabbet",
    "mitre",
)
"""First words of the joints that are glued along their whole length."""
LEFT = 0.5
"""What is left over where wood has moved as far as it does (mm). Common practice, no source."""
STAYS_IN = 2.0
"""What must stay in the groove at each edge of a panel in the driest month (mm). Common practice,
no source."""


def find_across(piece: Piece) -> Iterator[Finding]:
    """Say what would split, come out of its groove, or rise until it rubs."""
    air = air_of(piece)
    seen: set[tuple[str, ...]] = set()
    for joint in piece.assembly.joints:
        for found in _glued(piece, joint, air):
            alike = (found.code, *(piece.by_id[copy].part.label for copy in found.copies[:2]))
            if alike not in seen:
                seen.add(alike)
                yield found
    yield from _slots(piece, air)
    for key, asked in leaves(piece.spec).items():
        yield from _panels(piece, key, asked, air)
        yield from _boxes(piece, key, asked, air)


def moves_along(one: Placed, way: Vec) -> bool:
    """Whether a copy of solid wood grows along ``way``."""
    return one.part.kind is PartKind.LUMBER and not one.grain_along(way)


def _glued(piece: Piece, joint: Joint, air: Air) -> Iterator[Finding]:
    if not joint.kind.startswith(GLUED) or len(joint.parts) != 2:  # noqa: PLR2004 - a pair
        return
    pair = tuple(piece.by_id[copy] for copy in joint.parts)
    for one, other in (pair, pair[::-1]):
        for axis, way in enumerate((X, Y, Z)):
            held = min(one.hi[axis], other.hi[axis]) - max(one.lo[axis], other.lo[axis])
            free = not moves_along(one, way) or moves_along(other, way)
            if held <= MOST_GLUED or free or one.thin_along(axis):
                continue
            wood = board(piece, one.part.material or "")
            if wood is None:
                continue
            most = max(abs(wood.swells(held, air)), abs(wood.shrinks(held, air)))
            yield Finding(
                code="movement.cross_grain",
                severity=Severity.WARNING,
                subject=f"{one.spoken} on {other.spoken}",
                message=f"glued across the grain over {held:.0f} mm ({joint.kind}): "
                f"{wood.species} wants to move {most:.1f} mm there ({both_ways(wood, held, air)}) "
                "and is held; it splits or the glue lets go; glue the front third only and leave "
                "the rest dry or in slots, or make it of sheet goods",
                copies=(one.id, other.id),
                value=round(held, 6),
                limit=MOST_GLUED,
                unit="mm",
                source=COMMON_PRACTICE,
            )


def both_ways(wood: Board, width: float, air: Air) -> str:
    """Growth to the dampest month of a width, flat-sawn and quartered side by side."""
    flat, quartered = (wood.swells(width, air, cut) for cut in (Cut.FLAT, Cut.QUARTERED))
    return f"to the dampest month flat {flat:.2f}, quartered {quartered:.2f} mm"


def _slots(piece: Piece, air: Air) -> Iterator[Finding]:
    """Slots behind an applied front reach as far as the front moves past its fixed screws."""
    fixed = {joint.id: joint for joint in piece.assembly.joints if joint.kind == "applied front"}
    for joint in fixed.values():
        back, front = (piece.by_id[copy] for copy in joint.parts[:2])
        if not moves_along(front, Z):
            continue
        wood = board(piece, front.part.material or "", front_cut(piece, front))
        for slot in back.part.features if wood else ():
            if not isinstance(slot, Channel) or slot.kind is not ChannelKind.SLOT:
                continue
            seat = slot.seat.moved(back.copy.placement)
            middle = seat.origin[2] + seat.along[2] * slot.length / 2
            arm = abs(middle - front.middle[2])
            need = max(abs(wood.swells(arm, air)), abs(wood.shrinks(arm, air))) if wood else 0.0
            free = (slot.length - slot.width) / 2
            if need > free:
                yield Finding(
                    code="movement.slot_short",
                    severity=Severity.WARNING,
                    subject=front.spoken,
                    message=f"it moves {need:.2f} mm past a slotted screw {arm:.0f} mm from its "
                    f"middle, and the slot leaves {free:.2f} mm; make the slots "
                    f"{2 * (need - free) + 0.5:.1f} mm longer",
                    copies=(front.id, back.id),
                    value=round(need, 6),
                    limit=round(free, 6),
                    unit="mm",
                    source=COMMON_PRACTICE,
                )
                break


def front_cut(piece: Piece, front: Placed) -> Cut:
    """How a drawer front's boards are sawn, as the spec of its opening says."""
    specs = leaves(piece.spec)
    for clear in piece.assembly.openings:
        asked = specs.get(clear.id)
        if front.id in clear.contents and asked is not None and asked.drawers is not None:
            return asked.drawers.front.cut
    return Cut.FLAT


def _panels(piece: Piece, key: str, asked: Opening, air: Air) -> Iterator[Finding]:
    """A solid panel has room in its grooves when damp and stays in them when dry."""
    doors = asked.doors
    if not isinstance(doors, PanelDoors):
        return
    wood = board(piece, doors.panel.material, doors.panel.cut)
    for panel in _in_opening(piece, key, "door panel") if wood else ():
        parts = piece.on(panel.copy.mover or "")
        stiles = sorted(
            (one for one in parts if one.kind_of("door stile")), key=lambda one: one.lo[0]
        )
        if wood is None or len(stiles) != 2:  # noqa: PLR2004 - a left and a right
            continue
        deep = doors.frame.groove_depth
        between = stiles[1].lo[0] - stiles[0].hi[0]
        wide = panel.size[0]
        room = between + 2 * deep - wide
        grows, shrinks = wood.swells(wide, air), wood.shrinks(wide, air)
        tells = both_ways(wood, wide, air)
        if grows > room:
            yield _panel(
                panel,
                "movement.panel_binds",
                f"it grows {grows:.2f} mm ({tells}) and its grooves leave {room:.2f}; make its "
                f"grooves {(grows - room + LEFT) / (2 - 2 * MOVES):.1f} mm deeper, or mill it at a "
                "moisture nearer the room's dampest",
                (grows, room),
            )
        held = (wide - shrinks - between) / 2
        if held < STAYS_IN:
            yield _panel(
                panel,
                "movement.panel_loose",
                f"in the driest month {held:.2f} mm of it stay in each groove ({tells}); make the "
                f"grooves {(STAYS_IN - held + LEFT) / MOVES:.1f} mm deeper (the panel fills "
                f"{MOVES:.0%} of them)",
                (held, STAYS_IN),
            )
        return


def _panel(panel: Placed, code: str, message: str, numbers: tuple[float, float]) -> Finding:
    return Finding(
        code=code,
        severity=Severity.ERROR if code.endswith("binds") else Severity.WARNING,
        subject=panel.spoken,
        message=message,
        copies=(panel.id,),
        value=round(numbers[0], 6),
        limit=round(numbers[1], 6),
        unit="mm",
        source=COMMON_PRACTICE,
    )


def _boxes(piece: Piece, key: str, asked: Opening, air: Air) -> Iterator[Finding]:
    """A solid drawer side grows in height: it must not reach what stands over it."""
    drawers = asked.drawers
    if drawers is None:
        return
    wood = board(piece, drawers.box.material)
    runner = piece.spec.hardware.get(drawers.runner)
    if wood is None or not isinstance(runner, UndermountRunner | SideMountSlide | WoodenRunner):
        return
    sides = _in_opening(piece, key, "drawer side")
    highest = max(sides, key=lambda one: one.size[2], default=None)
    if highest is None:
        return
    grows = wood.swells(highest.size[2], air)
    if grows > runner.above:
        yield Finding(
            code="movement.box_rubs",
            severity=Severity.ERROR,
            subject=highest.spoken,
            message=f"its side grows {grows:.2f} mm ({both_ways(wood, highest.size[2], air)}) and "
            f"the runner leaves {runner.above:.2f} mm above it; make the room above "
            f"{grows + LEFT:.1f} mm",
            copies=(highest.id,),
            value=round(grows, 6),
            limit=round(runner.above, 6),
            unit="mm",
            source=FROM_THE_SPEC,
        )


def _in_opening(piece: Piece, key: str, name: str) -> list[Placed]:
    """Copies called ``name`` that belong to an opening."""
    for clear in piece.assembly.openings:
        if clear.id == key:
            mine = (piece.by_id[copy] for copy in clear.contents)
            return [one for one in mine if one.kind_of(name)]
    return []
