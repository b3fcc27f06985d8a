"""The closed case: the base under it, the back in it, whichever must come first."""

from ground.vectors import Vec, Y, Z, neg
from models.parts.assembly import Joint
from models.parts.directions import Parts
from planning.steps.closing_steps import Order, home
from planning.steps.holding import wants_glue
from planning.steps.parting import Bench, passes, whole_reach
from planning.steps.records import Move, Step
from planning.steps.sweeping import obstacles
from planning.steps.wording import counted

UPSIDE_DOWN = "Turn the case over onto a blanket: the base goes on upside down."
FROM: dict[Vec, str] = {Z: "from below", neg(Z): "from above", neg(Y): "from behind"}
BEFORE_BASE = (
    "Now, before the base, which would reach {reach:.1f} mm into its way; to take it out again, "
    "take the base off first."
)


def finish_carcass(order: Order, back: Parts) -> None:
    """The base on and the back in; the back first where the base would be in its way."""
    base = order.piece.base()
    case = frozenset(order.there) - base
    if back and not back_passes(order, back, case | base):
        reach = in_its_way(order, back, base)
        back_in(
            order, back, BEFORE_BASE.format(reach=reach) if back_passes(order, back, case) else ""
        )
        base_on(order)
        return
    base_on(order)
    back_in(order, back, "")


def back_passes(order: Order, back: Parts, placed: Parts) -> bool:
    """Tell whether the back slides home past what is placed."""
    case = placed_in(order, placed) - back
    bench = Bench.of(joints_of(order, back), order.bodies, order.piece.volumes)
    return all(passes(frozenset({copy}), way_of(order, copy), case, bench) for copy in back)


def in_its_way(order: Order, back: Parts, base: Parts) -> float:
    """How far the base reaches across the thickness of a back that is to slide in (mm)."""
    found = [0.0]
    bench = Bench.of((), order.bodies, order.piece.volumes)
    far = whole_reach(back | base, bench)
    for copy in back:
        panel, way = order.bodies[copy], way_of(order, copy)
        axis = max(range(3), key=lambda found: abs(order.piece.copies[copy].placement.z[found]))
        for one in base:
            other = order.bodies[one]
            if obstacles(panel, way, far, (other,)):
                past = (other.high[axis] - panel.low[axis], panel.high[axis] - other.low[axis])
                found.append(float(min(past)))
    return max(found)


def placed_in(order: Order, copies: Parts) -> Parts:
    """What of ``copies`` stands still in the piece."""
    return frozenset(copy for copy in copies if order.piece.copies[copy].mover is None)


def joints_of(order: Order, back: Parts) -> list[Joint]:
    """The joints that the back closes."""
    return [joint for joint in order.piece.assembly.joints if joint.parts[-1] in back]


def way_of(order: Order, copy: str) -> Vec:
    """The way by which a copy comes home."""
    return next(home(j) for j in order.piece.assembly.joints if j.parts[-1] == copy)


def back_in(order: Order, back: Parts, first: str) -> None:
    """The back into the closed case."""
    piece = order.piece
    if not back:
        return
    joints = joints_of(order, back)
    kinds = ", ".join(dict.fromkeys(joint.kind for joint in joints))
    where = FROM.get(way_of(order, min(back)), "")
    notes = dict.fromkeys(piece.part(copy).note for copy in piece.ordered(back))
    said = [first, *(f"{text[:1].upper()}{text[1:]}." for text in notes if text)]
    order.add(
        Step(
            order=order.number(),
            title=f"Back in {where}".strip(),
            does=f"Slide {counted(piece.assembly, back)} in {where} ({kinds}), without glue, and "
            "screw its free edge.",
            moves=tuple(Move(copy=copy, way=way_of(order, copy)) for copy in piece.ordered(back)),
            standing=standing_case(order, back),
            note=" ".join(text for text in said if text),
            swept=back_passes(order, back, frozenset(standing_case(order, back))),
            joints=tuple(joint.id for joint in joints),
        )
    )


def standing_case(order: Order, but: Parts) -> tuple[str, ...]:
    """What stands in its place by now; the base only once it is on."""
    piece = order.piece
    still = placed_in(order, frozenset(order.there)) - but
    if not order.based:
        still -= {copy.id for copy in piece.copies.values() if copy.group[0] == "base"}
    return piece.ordered(still | order.placed)


def base_on(order: Order) -> None:
    """The base under the case."""
    piece = order.piece
    base, case = piece.base(), piece.carcass()
    joints = [j for j in piece.assembly.joints if set(j.parts) & base and set(j.parts) & case]
    order.based = True
    if not joints:
        return
    ways = [home(j) if j.parts[-1] in base else neg(home(j)) for j in joints]
    way = max(set(ways), key=ways.count)
    whole = frozenset(
        copy.id
        for copy in piece.copies.values()
        if copy.group[0] == "base" and copy.id in order.there
    )
    kinds = ", ".join(dict.fromkeys(joint.kind for joint in joints))
    standing = frozenset(standing_case(order, whole))
    bench = Bench.of(joints, order.bodies, piece.volumes)
    order.add(
        Step(
            order=order.number(),
            title="Base on",
            does=f"Set the base on the underside of the case and fix it ({len(joints)} × {kinds}).",
            moves=tuple(Move(copy=copy, way=way) for copy in piece.ordered(whole)),
            standing=piece.ordered(standing),
            glued=any(wants_glue(joint) for joint in joints),
            note=UPSIDE_DOWN,
            turned=True,
            swept=passes(base, way, standing & case, bench),
            joints=tuple(joint.id for joint in joints),
        )
    )
