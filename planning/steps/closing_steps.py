"""Steps from closings: what goes in, what is glued into it first, clamped and measured how."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from ground.vectors import Vec, neg, norm, sub, unit
from models.parts.assembly import Joint
from models.parts.directions import Parts
from models.parts.part import Stage
from planning.steps.bodies import Body
from planning.steps.clamps import clamps
from planning.steps.holding import Holding, driven_after, holding, wants_glue
from planning.steps.measuring import measures, spread
from planning.steps.merging import Told, bare, merged
from planning.steps.parting import Bench, Closing, closings
from planning.steps.records import Measure, Move, Step
from planning.steps.units import Piece
from planning.steps.wording import called, counted, listed, way_words

STILL = 1e-9
FEW = 2
"""A title names no more kinds of part than this to which something is brought."""
DRY_FIT = "Close it dry first, clamps and cauls set; mask the joints from finish."
FINISH_FIRST = "Finish the inside faces before the glue: they are hard to reach afterwards."
SCREWED = "The screws hold it while the glue dries."
LET_GO = "No glue in the grooves: the panel must be free to move."


@dataclass(slots=True, kw_only=True)
class Order:
    """The steps so far.

    ``there`` is every copy that has been taken up, ``placed`` what moves and is in the piece by
    now. ``carriers`` are the panels that edgings are on. ``based``: the base is under the case.
    """

    piece: Piece
    bodies: Mapping[str, Body]
    carriers: Mapping[str, tuple[str, Vec]]
    steps: list[Step] = field(default_factory=list)
    there: set[str] = field(default_factory=set)
    placed: set[str] = field(default_factory=set)
    based: bool = False

    def add(self, step: Step) -> None:
        """Put a step at the end."""
        self.steps.append(step)
        self.there |= set(step.copies)

    def carried_way(self, edging: str) -> Vec | None:
        """The way by which an edging goes onto its panel."""
        hit = self.carriers.get(edging)
        return None if hit is None else hit[1]

    def number(self) -> int:
        """The number of the next step."""
        return len(self.steps) + 1

    def close(self, units: Iterable[Parts]) -> None:
        """Put units together, those that are alike told as one."""
        found: list[Closing] = []
        for parts in units:
            joints = self.piece.between(parts)
            bench = Bench.of(joints, self.bodies, self.piece.volumes)
            found += [closing for closing in closings(parts, bench) if closing.blocks]
        for told in merged(found, self.piece.names):
            self.add(closing_step(self, told))
            for step in driven(self, told):
                self.add(step)


def closing_step(order: Order, told: Told) -> Step:
    """One step of closing."""
    piece = order.piece
    crossing = crossing_joints(piece, told)
    glued = any(wants_glue(joint) for joint in crossing)
    loose = loose_moves(piece, told, crossing)
    waiting = [c for c in piece.ordered(told.standing) if c not in order.there]
    moves = tuple(
        Move(copy=copy, way=way)
        for closing in told.closings
        for block, way in closing.blocks
        for copy in piece.ordered(block)
    )
    glue = [joint for joint in crossing if holding(joint) is Holding.GLUE]
    return Step(
        order=order.number(),
        title=title(piece, told, crossing),
        does=does(piece, told, crossing, tuple(move.copy for move in loose)),
        moves=(*loose, *(Move(copy=copy, way=None) for copy in waiting), *moves),
        standing=piece.ordered(told.standing & order.there),
        group=told.group,
        glued=glued,
        clamps=clamps(gathered(told), glue, order.bodies, told.sets),
        measures=measured(told, piece, order.bodies, glued=glued),
        note=note(piece, told, crossing, glued=glued),
        swept=all(closing.clear for closing in told.closings),
        joints=tuple(joint.id for joint in crossing),
    )


def gathered(told: Told) -> Closing:
    """One of the things made alike: hand after hand of it in one closing."""
    first = told.closings[0]
    same = [one for one in told.closings if one.parts & first.parts]
    blocks = tuple(block for one in same for block in one.blocks)
    moved = frozenset().union(*(block for block, _ in blocks))
    standing = frozenset().union(*(one.standing for one in same)) - moved
    return Closing(blocks=blocks, standing=standing, group=first.group)


def measured(
    told: Told, piece: Piece, bodies: Mapping[str, Body], *, glued: bool
) -> tuple[Measure, ...]:
    """What to measure: diagonals where a ring closes, else how far apart glued ends stand."""
    closing = gathered(told)
    joints = rigid(piece.between(closing.parts))
    # what is glued onto a frame can rack it again; what is screwed on cannot
    closed = joints if glued else rigid(crossing_joints(piece, told))
    found = measures(closing.parts, joints, closed, bodies)
    return found or (spread(closing, bodies) if glued else ())


def rigid(joints: Iterable[Joint]) -> list[Joint]:
    """The joints that hold once they are closed, by glue or by screws."""
    return [joint for joint in joints if holding(joint) is not Holding.DRY]


def crossing_joints(piece: Piece, told: Told) -> tuple[Joint, ...]:
    """The joints that a step closes."""
    return tuple(
        joint
        for closing in told.closings
        for joint in piece.between(closing.parts)
        if any(0 < sum(p in block for p in joint.parts) < len(joint.parts)
               for block, _ in closing.blocks)
    )  # fmt: skip


def loose_moves(piece: Piece, told: Told, joints: Iterable[Joint]) -> tuple[Move, ...]:
    """The loose pieces that go into one half before it closes, each the way that the half goes."""
    ways = {
        part: way for closing in told.closings for block, way in closing.blocks for part in block
    }
    return tuple(
        Move(copy=copy, way=next((ways[p] for p in joint.parts if p in ways), home(joint)))
        for joint in joints
        for copy in joint.loose
        if not driven_after(piece.part(copy).name)
    )


def home(joint: Joint) -> Vec:
    """The way by which the last part of a joint comes home to the first."""
    if not isinstance(joint.closes, str):
        return unit(joint.closes)
    way = sub(joint.each[-1], joint.each[0])
    return unit(way) if norm(way) > STILL else unit(joint.each[-1])


def driven(order: Order, told: Told) -> Iterator[Step]:
    """Pins and plugs that are driven into a closed joint."""
    piece = order.piece
    joints = [
        joint
        for joint in crossing_joints(piece, told)
        if any(driven_after(piece.part(copy).name) for copy in joint.loose)
    ]
    if not joints:
        return
    moves = tuple(
        Move(copy=copy, way=inward(piece, order.bodies, copy, joint))
        for joint in joints
        for copy in joint.loose
        if driven_after(piece.part(copy).name)
    )
    copies = tuple(move.copy for move in moves)
    held = frozenset(part for joint in joints for part in joint.parts)
    what = called(piece.assembly, copies)
    yield Step(
        order=order.number(),
        title=f"{what.capitalize()} in",
        does=f"Glue {counted(piece.assembly, copies)} into the closed joints; trim them flush "
        "when the glue is dry.",
        moves=moves,
        standing=piece.ordered(held),
        glued=True,
    )


def inward(piece: Piece, bodies: Mapping[str, Body], copy: str, joint: Joint) -> Vec:
    """The way by which a pin goes in: along itself, towards the parts that it holds."""
    axis = piece.copies[copy].placement.x
    middle = np.mean([bodies[part].centre for part in joint.parts], axis=0)
    towards = middle - bodies[copy].centre
    return axis if float(towards @ np.array(axis)) >= 0 else neg(axis)


def title(piece: Piece, told: Told, joints: tuple[Joint, ...]) -> str:
    """A few words for the head of a step."""
    groups = {joint.closes for joint in joints if isinstance(joint.closes, str)}
    if groups and told.sets > 1:
        return f"Halves of the {group_words(min(groups))}"
    if groups and (told.group is not None or told.parts >= whole_group(piece, min(groups))):
        return f"Close the {group_words(min(groups))}"
    what = called(piece.assembly, told.moved or told.parts)
    to = targets(told, joints)
    names = {bare(piece.part(copy).name) for copy in to}
    onto = f" to the {called(piece.assembly, to)}" if 0 < len(names) <= FEW else " on"
    return f"{what[:1].upper()}{what[1:]}{onto}"


def group_words(group: str) -> str:
    """The name of a group as it is said: ``base frames`` are the base."""
    return group.removesuffix(" frames")


def whole_group(piece: Piece, group: str) -> Parts:
    """Every part that a group closes."""
    return frozenset(p for j in piece.assembly.joints if j.closes == group for p in j.parts)


def targets(told: Told, joints: Iterable[Joint]) -> Parts:
    """The standing parts that something is brought to."""
    return frozenset(p for joint in joints for p in joint.parts if p in told.standing)


def does(piece: Piece, told: Told, joints: tuple[Joint, ...], loose: tuple[str, ...]) -> str:
    """What is done, in one or two sentences."""
    assembly = piece.assembly
    kinds = listed(dict.fromkeys(joint.kind for joint in joints))
    put = "Glue" if any(wants_glue(joint) for joint in joints) else "Put"
    first = f"{put} {counted(assembly, loose)} into one side of each joint. " if loose else ""
    onto = piece.ordered(targets(told, joints))
    to = f" to {counted(assembly, onto)}" if onto else ""
    lead = "Bring home, all at once: " if told.group is not None else "Bring "
    home_words = "" if told.group is not None else "home "
    return f"{first}{lead}{moving_words(piece, told, home_words)}{to} ({kinds})."


def moving_words(piece: Piece, told: Told, home_words: str) -> str:
    """What moves, by the way that it moves; things alike that come from both ends together."""
    ways: dict[str, set[str]] = {}
    moving: dict[str, list[str]] = {}
    for closing in told.closings:
        for block, way in closing.blocks:
            for copy in block:
                name = bare(piece.part(copy).name)
                ways.setdefault(name, set()).add(way_words(way))
                moving.setdefault(name, []).append(copy)
    said: dict[str, list[str]] = {}
    for name, copies in moving.items():
        said.setdefault(from_where(ways[name]), []).extend(copies)
    return "; ".join(
        f"{counted(piece.assembly, copies)} {home_words}{where}" for where, copies in said.items()
    )


def from_where(ways: set[str]) -> str:
    """One way by its own words, more by where they come from."""
    if len(ways) == 1:
        return min(ways)
    return "from both ends" if len(ways) == 2 else "from all sides"  # noqa: PLR2004 - two ends


def note(piece: Piece, told: Told, joints: tuple[Joint, ...], *, glued: bool) -> str:
    """What a maker should know before the glue is on."""
    said: list[str] = []
    if told.group == "case":
        said.append(FINISH_FIRST)
    if glued:
        said.append(DRY_FIT)
    if any(holding(joint) is Holding.DRY for joint in joints):
        said.append(LET_GO)
    if any(holding(joint) is Holding.SCREWED for joint in joints):
        said.append(SCREWED)
    for copy in piece.ordered(told.moved):
        part = piece.part(copy)
        text = f"{bare(part.name)}: {part.note}."
        if part.note and part.stage is not Stage.NOW and text not in said:
            said.append(text)
    return " ".join(f"{text[:1].upper()}{text[1:]}" for text in said)
