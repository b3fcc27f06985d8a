"""Openings: the room inside the case divided upright or level, as often as wanted.

Each piece of a divided opening is fixed or shares what is left. Ids follow the order of the spec:
upright left to right, level from the top down (``1``, ``2``, ``2/1``).
"""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from ground.errors import Path
from ground.findings import FROM_THE_SPEC, Finding, Severity
from ground.quantities import Share
from ground.tolerances import LENGTH_EPS, close
from ground.vectors import Vec, X, Y, Z, neg
from models.parts.assembly import Opening
from models.setting_out.bench import Bench
from models.setting_out.case import panel_draft
from models.setting_out.draft import Box, room_of
from models.setting_out.edging import Strip, edge, face_towards, lip, lipped
from models.setting_out.hidden_heads import hidden_heads
from models.setting_out.holding import hold, reach
from models.setting_out.meeting import Closing, Meeting
from models.setting_out.numbers import Leaf
from models.setting_out.softwood import is_hard
from models.setting_out.trouble import trouble
from specs.dividers import Dividers
from specs.edging import SolidEdging, TapeEdging
from specs.joints import DadoJoint, TongueAndGrooveJoint
from specs.materials import Sheet
from specs.openings import Opening as OpeningSpec
from specs.openings import Split
from specs.spec import Spec

FRONT_STOP: Final = 10.0
"""A groove in a panel without edging stops this far behind its front edge (mm). Common practice, no
source."""
LEVEL: Final = 2
"""The axis across level pieces; X, across upright ones, is 0."""
LEAST: Final = 20.0
"""An opening smaller than this either way holds nothing (mm). Common practice, no source."""


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
    gaps = [_between(one, other, axis) for one, other in pairwise(boxes)]
    boxes = _clear_of_lips(leaf, dividers, thickness, boxes)
    leaves: list[Leaf] = []
    for number, (piece, box) in enumerate(zip(pieces, boxes, strict=True)):
        before = keys[number - 1] if number else None
        after = keys[number] if number < len(keys) else None
        leaves.append(_piece(leaf, number, piece, box, (before, after)))
    for key, gap in zip(keys, gaps, strict=True):
        _divider(bench, spec, dividers, key, gap, (leaf, opening.split))
    return [end for piece in leaves for end in divide(bench, spec, piece, dividers)]


def _clear_of_lips(leaf: Leaf, dividers: Dividers, thickness: float, boxes: list[Box]) -> list[Box]:
    """The pieces' boxes without what the lips of level dividers take of them.

    Raises:
        SettingOutError: a lip would stand in the way, or along an upright divider.
    """
    lips = [_lip(leaf, side, edging, thickness) for side, edging in _edgings(dividers).items()]
    below, above = (max([0.0, *(it[way] for it in lips)]) for way in (0, 1))
    if below + above <= LENGTH_EPS:
        return boxes
    if leaf.spec.split is Split.UPRIGHT:
        message = "has upright dividers, and their edging a lip; write dividers without one here"
        raise trouble((*leaf.path, "split"), message)
    found = list(boxes)
    pieces = leaf.spec.pieces
    for number in range(len(boxes)):
        # A piece has a divider above it unless it is the first, and below it unless the last.
        hung = below if number else 0.0
        raised = above if number < len(boxes) - 1 else 0.0
        if hung + raised <= LENGTH_EPS:
            continue
        held = pieces[number]
        if held.split or held.doors or held.drawers:
            message = (
                f"has {max(hung, raised):.1f} mm of a divider's lip in its way; only shelves and "
                "open spaces go beside a lip: let it go the other way, or leave it out"
            )
            raise trouble((*leaf.path, "into", number), message)
        box = boxes[number]
        found[number] = _with(box, LEVEL, box.lo[2] + raised, box.hi[2] - hung)
    return found


def _edgings(dividers: Dividers) -> dict[str, SolidEdging | TapeEdging]:
    """What covers a divider's edges, by side."""
    if dividers.edging is None:
        return {}
    both = {"front": dividers.edging.front, "back": dividers.edging.back}
    return {side: edging for side, edging in both.items() if edging is not None}


def _lip(
    leaf: Leaf, side: str, edging: SolidEdging | TapeEdging, thickness: float
) -> tuple[float, float]:
    return lip(edging, thickness, (*leaf.path, "dividers", "edging", side))


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
    ends = (leaf.below, leaf.above) if upright else (leaf.left, leaf.right)
    thickness = gap.size[LEVEL - axis]
    depths = [
        reach(dividers.joint, (thickness, gap.size[1]), box_of(bench, end).size[axis])
        for end in ends
    ]
    edgings = _edgings(dividers)
    near, far = (edgings[it].thickness if it in edgings else 0.0 for it in ("front", "back"))
    rear = gap.hi[1] if dividers.depth is None else min(gap.hi[1], dividers.depth)
    body = _with(gap, axis, gap.lo[axis] - depths[0], gap.hi[axis] + depths[1])
    body = _with(body, 1, near, rear - far)
    length: Vec = Z if upright else X
    draft = panel_draft(spec, dividers.material, key, body, (length, neg(X) if upright else Z))
    draft.letter, draft.name = "S", "divider"
    if upright:
        draft.show = None  # both its faces are looked at
    bench.put(draft)
    rims = {"front": (0.0, near, neg(Y)), "back": (rear - far, rear, Y)}
    for side, edging in edgings.items():
        low, high, outward = rims[side]
        box = lipped(_with(gap, 1, low, high), _lip(leaf, side, edging, thickness))
        edge(bench, draft, edging, Strip(box=box, length=length, outward=outward))
    for hand, end in zip((-1, 1), ends, strict=True):
        place = _End(gap, body, axis, hand)
        _hold(bench, spec, draft.key, end, place, dividers)


class _End:
    """One end of a divider: where its plane is and which way it looks."""

    def __init__(self, gap: Box, body: Box, axis: int, hand: int) -> None:
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


def _hold(bench: Bench, spec: Spec, key: str, end: str, place: _End, dividers: Dividers) -> None:
    """Join one end of a divider to the panel that it meets."""
    name = f"{key} {'low' if place.hand < 0 else 'high'}"
    face = box_of(bench, end)
    hidden = face.lo[1] - place.start[1]
    panel = bench.drafts[end]
    bare = hidden >= 0.0 and face_towards(panel, neg(Y)) not in panel.banded
    if bare and isinstance(dividers.joint, TongueAndGrooveJoint):
        hidden += FRONT_STOP
    if bare and isinstance(dividers.joint, DadoJoint):
        bench.find(_comes_out(name, (key, end)))
    meeting = Meeting(
        name=name,
        end=key,
        face=end,
        start=place.start,
        way=Y,
        # Under a rail the divider meets no more than the rail is thick.
        length=min(place.length, face.hi[1] - place.start[1]),
        into_end=place.into_end,
        end_thickness=place.thickness,
        face_thickness=face.size[place.axis],
        hidden=neg(X) if place.axis == LEVEL else neg(Z),
        made_by=name,
        for_what="dividers",
        lead=max(0.0, hidden),
        hard=is_hard(spec, dividers.material),
    )
    covered = hidden_heads(bench, meeting, dividers.joint)
    if covered is not None:
        bench.find(covered)
    hold(bench, meeting, dividers.joint, Closing(way=place.into_end))


def _comes_out(name: str, keys: tuple[str, str]) -> Finding:
    return Finding(
        code="joint.dado_shows",
        severity=Severity.NOTE,
        subject=name,
        message="this dado comes out on a front edge that has no edging; edge the panel, or write "
        "a stopped dado",
        copies=keys,
        source=FROM_THE_SPEC,
    )


def box_of(bench: Bench, key: str) -> Box:
    """The box that the blank of an upright or level part fills in the piece."""
    return room_of(bench.drafts[key])


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
