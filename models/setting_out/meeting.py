"""Where the end of one part meets the face of another, and what is asked to hold it there.

What is let into the face (dado, tongue, tenon) needs the end's part longer than to the plane of the
face: by ``reach``, which is asked for before that part is drafted.
"""

from dataclasses import dataclass, field, replace

from ground.vectors import Vec, along
from models.parts.joints.kit import Halves
from models.parts.joints.tongue import EndLine
from models.setting_out.bench import Bench
from models.setting_out.weak import Room, findings


@dataclass(frozen=True, slots=True, kw_only=True)
class Meeting:
    """A butt: the end of ``end`` stands against the face of ``face`` (keys of drafts).

    ``start`` is the beginning of the joint's middle line in piece axes, ``way`` its direction,
    ``length`` how long it is. ``into_end`` points from the joint's plane into the end.
    ``end_thickness`` and ``face_thickness`` are what there is to bore in. ``hidden`` is the
    outward normal of the end part's face that may carry pockets. ``lead`` and ``tail`` are how far
    what is let into the face keeps from the beginning and the end of the line, where it would
    show; ``shy`` is how much of the end's thickness, on the side away from ``hidden``, has no wood
    to go into; ``under`` is how much more wood there is between that thickness and the hidden face.
    ``hard`` says whether screws find hard wood in the end. ``shift`` is how far a row of holes is
    moved along the line, out of the way of others.
    """

    name: str
    end: str
    face: str
    start: Vec
    way: Vec
    length: float
    into_end: Vec
    end_thickness: float
    face_thickness: float
    hidden: Vec
    made_by: str
    for_what: str
    lead: float = 0.0
    tail: float = 0.0
    shy: float = 0.0
    under: float = 0.0
    hard: bool = True
    shift: float = 0.0

    @property
    def line(self) -> EndLine:
        """The middle line of what may be let in."""
        return EndLine(
            start=along(self.start, self.hidden, self.shy / 2),
            way=self.way,
            length=self.length,
            into_end=self.into_end,
            thickness=self.end_thickness - self.shy,
            lead=self.lead,
            tail=self.tail,
        )

    def deeper(self, depth: float) -> "Meeting":
        """The same meeting at the floor of a housing ``depth`` deep."""
        return replace(
            self,
            start=along(self.start, self.into_end, -depth),
            face_thickness=self.face_thickness - depth,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """How a meeting closes: ``way`` of the face's part against the end's, or a group's name.

    ``each`` gives the way of every part (by key) that the group moves.
    """

    way: Vec | str
    each: dict[str, Vec] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A joint worked out for a meeting, not yet on the bench.

    ``halves`` belong to the end and the face, in this order; ``swapped`` ones the other way round.
    ``rooms`` say how sound it is.
    """

    halves: tuple[Halves, ...] = ()
    swapped: tuple[Halves, ...] = ()
    rooms: tuple[Room, ...] = ()

    def and_(self, other: "Held") -> "Held":
        """This joint, and what helps to hold it."""
        return Held(
            halves=self.halves + other.halves,
            swapped=self.swapped + other.swapped,
            rooms=self.rooms + other.rooms,
        )


def put(bench: Bench, meeting: Meeting, held: Held, closing: Closing) -> None:
    """Cut, record and criticise a joint; where it cannot be made, record a plain butt."""
    keys = (meeting.end, meeting.face)
    for finding in findings(held.rooms, meeting.name, keys):
        bench.find(finding)
    made = not any(room.impossible for room in held.rooms)
    if made:
        for halves in held.halves:
            _join(bench, meeting, halves, closing, keys)
        for halves in held.swapped:
            _join(bench, meeting, halves, closing, (meeting.face, meeting.end))
    if not made or not (held.halves or held.swapped):
        bare = Halves(kind="butt", first=(), second=(), closes="")
        _join(bench, meeting, bare, closing, keys)


def _join(
    bench: Bench, meeting: Meeting, halves: Halves, closing: Closing, keys: tuple[str, str]
) -> None:
    way = closing.way
    if not isinstance(way, str) and keys[0] == meeting.face:
        way = (0.0 - way[0], 0.0 - way[1], 0.0 - way[2])
    each = tuple(closing.each[key] for key in keys) if closing.each else ()
    name = f"{meeting.name}/{halves.kind.replace(' ', '-')}"
    bench.join(name, keys[0], keys[1], replace(halves, closes=way, each=each))
