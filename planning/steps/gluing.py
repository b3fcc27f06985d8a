"""Edgings: glued to their panels before the panels are cut, or over the closed case."""

import math

import numpy as np

from ground.vectors import Vec
from models.parts.part import Stage
from planning.steps.clamps import CAUL, SIZE, SPACING, direction
from planning.steps.closing_steps import Order
from planning.steps.records import Clamp, Move, Step
from planning.steps.wording import counted

EDGE_NOW = (
    "The edging is longer and wider than the edge; flush it when the glue is dry, then cut the "
    "panel to length."
)
EDGE_LATER = "Over the closed joints; flush it when the glue is dry."
STIFF = 3.0
"""Edging at least this thick is clamped; thinner tape is pressed on (mm)."""
CAUL_WORDS = "a straight stiff caul as long as the edging"


def edge(order: Order, stage: Stage) -> None:
    """The edgings that go on at one stage."""
    piece = order.piece
    copies = piece.edgings(stage)
    if not copies:
        return
    onto = frozenset(order.carriers[c][0] for c in copies if c in order.carriers)
    now = stage is Stage.NOW
    waiting = piece.ordered(onto - order.there) if now else ()
    order.add(
        Step(
            order=order.number(),
            title="Edgings on the panels" if now else "Edgings on the closed case",
            does=f"Glue on {counted(piece.assembly, copies)}.",
            moves=(
                *(Move(copy=copy, way=None) for copy in waiting),
                *(Move(copy=copy, way=order.carried_way(copy)) for copy in copies),
            ),
            standing=piece.ordered(onto - frozenset(waiting)),
            glued=True,
            clamps=edging_clamps(order, copies),
            note=EDGE_NOW if now else EDGE_LATER,
        )
    )


def edging_clamps(order: Order, copies: tuple[str, ...]) -> tuple[Clamp, ...]:
    """Clamps across each panel, told once for all edgings that lie one way."""
    found: dict[str, list[tuple[int, float]]] = {}
    for copy in copies:
        hit = order.carriers.get(copy)
        blank = order.piece.part(copy).blank
        if hit is None or blank.thickness < STIFF:
            continue
        panel, way = hit
        found.setdefault(direction(way), []).append(
            (math.ceil(blank.length / SPACING), reach(order, panel, way) + 2 * CAUL)
        )
    return tuple(
        Clamp(
            count=max(count for count, _ in each),
            opens=math.ceil(max(opens for _, opens in each) / SIZE) * SIZE,
            along=along,
            caul=CAUL_WORDS,
            sets=len(each),
        )
        for along, each in found.items()
    )


def reach(order: Order, panel: str, way: Vec) -> float:
    """How far a panel reaches along a way (mm)."""
    return float(np.ptp(order.bodies[panel].corners @ np.array(way)))
