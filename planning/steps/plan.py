"""The order of assembly of the whole piece, from the first edging to the last front."""

from models.parts.assembly import Assembly
from models.parts.directions import Parts
from models.parts.part import Stage
from planning.steps.bodies import bodies
from planning.steps.closing_steps import Order, home
from planning.steps.contact import carriers
from planning.steps.fitting import fit, fit_fronts, hang_doors, lay_shelves, leftovers, slide_in
from planning.steps.gluing import edge
from planning.steps.records import Step
from planning.steps.standing import finish_carcass
from planning.steps.units import Piece


def steps(assembly: Assembly) -> tuple[Step, ...]:
    """Every step of putting the piece together."""
    piece = Piece.of(assembly)
    found = bodies(assembly)
    order = Order(piece=piece, bodies=found, carriers=carriers(piece, found))
    edge(order, Stage.NOW)
    order.close((piece.base(),))
    back = late_back(piece)
    order.close((piece.carcass() - back,))
    edge(order, Stage.AFTER_GLUE_UP)
    finish_carcass(order, back)
    fit(order, None, "the case")
    boxes = tuple(copies - piece.fronts() for _, copies in piece.movers("drawers"))
    order.close(box & piece.solid() for box in boxes)
    fit(order, "drawers", "the drawer boxes", but=piece.fronts())
    slide_in(order, boxes)
    lay_shelves(order)
    order.close(copies & piece.solid() for _, copies in piece.movers("doors"))
    fit(order, "doors", "the doors")
    hang_doors(order)
    fit_fronts(order)
    fit(order, "drawers", "the drawer fronts")
    leftovers(order)
    return tuple(order.steps)


def late_back(piece: Piece) -> Parts:
    """The back, where it is not closed in by the case: its joints all close one way."""
    ways = {
        joint.parts[-1]: [home(j) for j in piece.assembly.joints if j.parts[-1] == joint.parts[-1]]
        for joint in piece.assembly.joints
        if "back" in joint.kind and joint.parts[-1] in piece.carcass()
    }
    return frozenset(copy for copy, found in ways.items() if len(set(found)) == 1)
