"""Fixed shelves, housed in dados of the panels at both their ends."""

from typing import Final

from ground.findings import Finding, Severity
from ground.tolerances import LENGTH_EPS
from ground.vectors import X, Y, dot, neg, sub
from models.parts.features import Channel, ChannelKind, Feature, Seat
from models.parts.joints.housing import housed
from models.setting_out.bench import Bench
from models.setting_out.draft import Box
from models.setting_out.numbers import Leaf
from models.setting_out.shelf_boards import (
    ShelfRoom,
    asked_places,
    edgings,
    lay_shelf,
    shelves_at_hinges,
)
from specs.shelves import Shelves
from specs.spec import Spec

DADO_SHARE: Final = 1 / 3
"""A dado is a third of its panel deep (check values 7.3)."""


def in_dados(bench: Bench, spec: Spec, leaf: Leaf, shelves: Shelves, room: ShelfRoom) -> None:
    """Fixed shelves, housed in both panels; they begin no further forward than the panels do."""
    ends = ((leaf.left, leaf.box.lo[0], neg(X)), (leaf.right, leaf.box.hi[0], X))
    depths = tuple(
        shelves.dado_depth or bench.drafts[panel].blank.thickness * DADO_SHARE
        for panel, _, _ in ends
    )
    edging = edgings(shelves)
    before = edging["front"].thickness if "front" in edging else 0.0
    start = max(room.front + before, *(_front_of(bench, panel) for panel, _, _ in ends))
    places = asked_places(leaf, shelves, room)
    lows = tuple(leaf.box.lo[2] + at for at in places)
    shelves_at_hinges(bench, spec, leaf, lows, room)
    for number, at in enumerate(places, 1):
        low = leaf.box.lo[2] + at
        box = Box(
            (leaf.box.lo[0] - depths[0], start - before, low),
            (leaf.box.hi[0] + depths[1], room.rear, low + room.thick),
        )
        shelf = lay_shelf(bench, spec, leaf, (number, box), shelves)
        for (panel, face, into), depth in zip(ends, depths, strict=True):
            seat = Seat((face, start, low + room.thick / 2), Y, into)
            halves = housed(
                seat,
                length=room.rear - start,
                thickness=room.thick,
                depth=depth,
                closes=neg(into),
                made_by="shelves.dado_depth",
            )
            _opposed(bench, panel, (halves.second[0], face, depth), shelf.key)
            side = "left" if panel == leaf.left else "right"
            bench.join(f"{shelf.key}/dado {side}", shelf.key, panel, halves)


def _opposed(bench: Bench, panel: str, dado: tuple[Feature, float, float], subject: str) -> None:
    """Dados from both sides of one panel take no more than half of it together."""
    fresh, face, depth = dado
    draft = bench.drafts[panel]
    if not isinstance(fresh, Channel):
        return
    here = fresh.moved(draft.frame.inverse()).seat
    for there in draft.features:
        if not isinstance(there, Channel) or there.kind is not ChannelKind.DADO:
            continue
        opposite = dot(there.seat.into, here.into) < 0.0
        apart = abs(dot(sub(there.seat.origin, here.origin), here.across))
        both = depth + there.depth
        if (
            opposite
            and apart < (fresh.width + there.width) / 2
            and (both > draft.blank.thickness / 2 + LENGTH_EPS)
        ):
            bench.find(
                Finding(
                    code="joint.opposed_dados",
                    severity=Severity.WARNING,
                    subject=subject,
                    message=f"dados from both sides take {both:.1f} mm of a panel "
                    f"{draft.blank.thickness:.1f} mm thick; together at most half of it: move one, "
                    "or cut both less deep",
                    copies=(panel,),
                    at=(face, fresh.seat.origin[1], fresh.seat.origin[2]),
                    value=both,
                    limit=draft.blank.thickness / 2,
                    unit="mm",
                    source="common practice, no source (check values 7.3)",
                )
            )


def _front_of(bench: Bench, panel: str) -> float:
    """Y where a panel itself begins, behind its edging."""
    draft = bench.drafts[panel]
    corners = (draft.frame.point((0.0, 0.0, 0.0)), draft.frame.point(draft.blank.size))
    return min(corner[1] for corner in corners)
