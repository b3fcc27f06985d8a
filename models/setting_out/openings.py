"""Openings: the room inside the case divided upright or level, as often as wanted.

Each piece of a divided opening is fixed or shares what is left. Ids follow the order of the spec:
upright left to right, level from the top down (``1``, ``2``, ``2/1``).
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from ground.errors import Path
from ground.quantities import Share
from ground.tolerances import close
from ground.vectors import Vec, X, Y, Z, along, neg
from models.parts.assembly import Opening
from models.parts.features import Channel, ChannelKind, Seat
from models.parts.joints.housing import housed
from models.setting_out.bench import Bench
from models.setting_out.case import panel_draft
from models.setting_out.draft import Box
from models.setting_out.edging import Strip, edge
from models.setting_out.meeting import Meeting, hold
from models.setting_out.numbers import Leaf
from models.setting_out.trouble import trouble
from specs.dividers import Dividers
from specs.joints import DadoJoint, StoppedDadoJoint
from specs.materials import Sheet
from specs.openings import Opening as OpeningSpec
from specs.openings import Split
from specs.spec import Spec

DADO_STOP: Final = 10.0
"""A stopped dado ends this far behind the panel's front edge (mm). Common practice, no source."""
LEVEL: Final = 2
"""The axis across level pieces; X, across upright ones, is 0."""
LEAST: Final = 20.0
"""An opening smaller than this either way holds nothing (mm). Common practice, no source."""
DADO_SHARE: Final = 1 / 3
"""A dado is a third of its panel deep (check values 7.3)."""


def shared(wanted: Sequence[float | Share], room: float) -> tuple[float, ...] | None:
    """Share ``room`` (mm) out: fixed sizes first, shares of what is left; None: nothing is left.

    Where every size is fixed they must add up to ``room``.
    """
    fixed = sum(size for size in wanted if not isinstance(size, Share))
    parts = sum(size.parts for size in wanted if isinstance(size, Share))
    left = room - fixed
    if parts == 0.0:
        sizes = tuple(size for size in wanted if not isinstance(size, Share))
        return sizes if close(left, 0.0) else None
    if left <= 0.0:
        return None
    return tuple(left * size.parts / parts if isinstance(size, Share) else size for size in wanted)


def divide(bench: Bench, spec: Spec, leaf: Leaf, inherited: Dividers | None) -> list[Leaf]:
    """Divide an opening as far as the spec says; the leaves, in order, dividers laid out."""
    opening = leaf.spec
    dividers = opening.dividers or inherited
    if opening.split is None or dividers is None:
        return [leaf]
    thickness = _thickness(spec, dividers)
    axis = 0 if opening.split is Split.UPRIGHT else 2
    pieces = opening.pieces
    room = leaf.box.size[axis] - thickness * (len(pieces) - 1)
    sizes = shared([piece.size or Share(1.0) for piece in pieces], room)
    if sizes is None or min(sizes) < LEAST:
        raise trouble((*leaf.path, "into"), _no_room(pieces, room, leaf, thickness))
    boxes = _boxes(leaf.box, sizes, thickness, axis)
    keys = [f"inside/divider {_child(leaf, n)}" for n in range(1, len(pieces))]
    leaves: list[Leaf] = []
    for number, (piece, box) in enumerate(zip(pieces, boxes, strict=True)):
        before = keys[number - 1] if number else None
        after = keys[number] if number < len(keys) else None
        leaves.append(_piece(leaf, number, piece, box, (before, after)))
    for number, key in enumerate(keys):
        gap = _between(boxes[number], boxes[number + 1], axis)
        _divider(bench, spec, dividers, key, gap, (leaf, opening.split))
    return [end for piece in leaves for end in divide(bench, spec, piece, dividers)]


def _no_room(pieces: tuple[OpeningSpec, ...], room: float, leaf: Leaf, thickness: float) -> str:
    fixed = sum(piece.size for piece in pieces if isinstance(piece.size, float))
    dividers = (len(pieces) - 1) * thickness
    return (
        f"the fixed sizes take {fixed:.1f} mm of the {room:.1f} mm that {len(pieces) - 1} "
        f"divider(s) of {dividers:.1f} mm together leave in opening {leaf.id or 'inside'}; "
        f"leave at least {LEAST:.0f} mm for every piece"
    )


def _child(leaf: Leaf, number: int) -> str:
    return f"{leaf.id}/{number}" if leaf.id else str(number)


def _piece(
    leaf: Leaf, number: int, piece: OpeningSpec, box: Box, around: tuple[str | None, str | None]
) -> Leaf:
    path: Path = (*leaf.path, "into", number)
    before, after = around
    child = replace(leaf, id=_child(leaf, number + 1), path=path, spec=piece, box=box)
    if leaf.spec.split is Split.UPRIGHT:
        return replace(child, left=before or leaf.left, right=after or leaf.right)
    return replace(child, above=before or leaf.above, below=after or leaf.below)


def _boxes(box: Box, sizes: tuple[float, ...], thickness: float, axis: int) -> list[Box]:
    """The pieces' boxes in the spec's order: from the left, or from the top down."""
    found: list[Box] = []
    at = box.lo[0] if axis == 0 else box.hi[2]
    for size in sizes:
        low, high = (at, at + size) if axis == 0 else (at - size, at)
        found.append(_with(box, axis, low, high))
        at = high + thickness if axis == 0 else low - thickness
    return found


def _with(box: Box, axis: int, low: float, high: float) -> Box:
    lo, hi = list(box.lo), list(box.hi)
    lo[axis], hi[axis] = low, high
    return Box((lo[0], lo[1], lo[2]), (hi[0], hi[1], hi[2]))


def _between(one: Box, other: Box, axis: int) -> Box:
    low = min(one.hi[axis], other.hi[axis])
    high = max(one.lo[axis], other.lo[axis])
    return _with(one, axis, low, high)


def _thickness(spec: Spec, dividers: Dividers) -> float:
    found = spec.materials[dividers.material]
    if isinstance(found, Sheet):
        return found.thickness_used
    return dividers.thickness or 0.0


def _divider(
    bench: Bench,
    spec: Spec,
    dividers: Dividers,
    key: str,
    gap: Box,
    within: tuple[Leaf, Split],
) -> None:
    """One divider with its edging, joined to the panels at both its ends."""
    leaf, split = within
    upright = split is Split.UPRIGHT
    axis = 2 if upright else 0
    joint = dividers.joint
    dado = joint if isinstance(joint, DadoJoint | StoppedDadoJoint) else None
    ends = (leaf.below, leaf.above) if upright else (leaf.left, leaf.right)
    depths = [_dado_depth(bench, dado, end) for end in ends]
    front = dividers.edging.front if dividers.edging else None
    rear = gap.hi[1] if dividers.depth is None else min(gap.hi[1], dividers.depth)
    body = _with(gap, axis, gap.lo[axis] - depths[0], gap.hi[axis] + depths[1])
    body = _with(body, 1, front.thickness if front else 0.0, rear)
    length: Vec = Z if upright else X
    draft = panel_draft(spec, dividers.material, key, body, (length, neg(X) if upright else Z))
    draft.letter, draft.name = "S", "divider"
    bench.put(draft)
    if front is not None:
        strip = _with(gap, 1, 0.0, front.thickness)
        edge(bench, draft, front, Strip(box=strip, length=length, outward=neg(Y)))
    for hand, end in zip((-1, 1), ends, strict=True):
        _end(bench, draft.key, end, _End(gap, body, axis, hand, leaf), dividers)


def _dado_depth(bench: Bench, dado: DadoJoint | StoppedDadoJoint | None, end: str) -> float:
    if dado is None:
        return 0.0
    return dado.depth or bench.drafts[end].blank.thickness * DADO_SHARE


class _End:
    """One end of a divider: where its plane is and which way it looks."""

    def __init__(self, gap: Box, body: Box, axis: int, hand: int, leaf: Leaf) -> None:
        self.axis, self.hand = axis, hand
        self.plane = gap.lo[axis] if hand < 0 else gap.hi[axis]
        across = LEVEL - axis
        start = [0.0, body.lo[1], 0.0]
        start[axis] = self.plane
        start[across] = (gap.lo[across] + gap.hi[across]) / 2
        self.start: Vec = (start[0], start[1], start[2])
        self.length = body.size[1]
        self.thickness = gap.size[across]
        unit = (X, Y, Z)[axis]
        self.into_end: Vec = neg(unit) if hand > 0 else unit
        self.name = f"{leaf.id or 'inside'}"


def _end(bench: Bench, key: str, end: str, place: _End, dividers: Dividers) -> None:
    """Join one end: housed in a dado, or held by what the spec asks for."""
    joint = dividers.joint
    name = f"{key} {'low' if place.hand < 0 else 'high'}"
    closes = place.into_end
    if isinstance(joint, DadoJoint | StoppedDadoJoint):
        _house(bench, key, end, place, joint)
        return
    hold(
        bench,
        Meeting(
            name=name,
            end=key,
            face=end,
            start=place.start,
            way=Y,
            length=place.length,
            into_end=place.into_end,
            end_thickness=place.thickness,
            face_thickness=bench.drafts[end].blank.thickness,
            hidden=neg(X) if place.axis == LEVEL else neg(Z),
            made_by=name,
            for_what="dividers",
        ),
        joint,
        closes=closes,
    )


def _house(
    bench: Bench, key: str, end: str, place: _End, joint: DadoJoint | StoppedDadoJoint
) -> None:
    """House one end in a dado; a stopped dado leaves the divider's front corner notched."""
    depth = _dado_depth(bench, joint, end)
    name = f"{key} {'low' if place.hand < 0 else 'high'}"
    stop = 0.0
    if isinstance(joint, StoppedDadoJoint):
        stop = DADO_STOP if joint.stop is None else joint.stop
    halves = housed(
        Seat(along(place.start, Y, stop), Y, neg(place.into_end)),
        length=place.length - stop,
        thickness=place.thickness,
        depth=depth,
        closes=place.into_end,
        made_by=name,
    )
    bench.join(f"{name}/dado", key, end, halves)
    if stop:
        notch = Channel(
            kind=ChannelKind.NOTCH,
            seat=Seat(along(place.start, place.into_end, -depth), Y, place.into_end),
            length=stop,
            width=place.thickness,
            depth=depth,
            made_by=name,
        )
        bench.cut(key, (notch,))


def record(leaf: Leaf, contents: tuple[str, ...]) -> Opening:
    """The opening as the record keeps it: its clear sizes and what stands in it."""
    spec = leaf.spec
    kind = next(
        (word for word in ("drawers", "doors", "shelves") if getattr(spec, word) is not None),
        "open",
    )
    size = leaf.box.size
    return Opening(
        id=leaf.id,
        kind=kind,
        corner=leaf.box.lo,
        width=size[0],
        height=size[2],
        depth=size[1],
        contents=contents,
    )
