"""What holds each kind of joint: glue, screws, or nothing but its neighbours. From memory."""

from enum import StrEnum

from models.parts.assembly import Joint


class Holding(StrEnum):
    """What a joint asks for when it is closed."""

    GLUE = "glue"
    SCREWED = "glue and screws"
    """The screws are the clamps."""
    SCREWS = "screws"
    DRY = "dry"


SCREWED = frozenset(
    {
        "screw",
        "pocket screw",
        "figure-eight fastener",
        "slotted clip",
        "cup hinge",
        "butt hinge",
        "applied front",
        "rabbeted back",
        "glide",
        "leveller",
    }
)
GLUED_AND_SCREWED = frozenset({"corner block", "screw block", "butt with screws"})
LET_GO = frozenset({"grooved back", "groove", "loose panel"})
"""Panels that stand in grooves: without glue, so that they may move."""

AFTER = ("pin", "plug", "bar")
"""Loose pieces that are driven in after the joint is closed, by the last word of their names."""


def holding(joint: Joint) -> Holding:
    """What holds a joint."""
    if joint.kind in SCREWED:
        return Holding.SCREWS
    if joint.kind in GLUED_AND_SCREWED:
        return Holding.SCREWED
    return Holding.DRY if joint.kind in LET_GO else Holding.GLUE


def wants_glue(joint: Joint) -> bool:
    """Tell whether a joint takes glue."""
    return holding(joint) in (Holding.GLUE, Holding.SCREWED)


def driven_after(name: str) -> bool:
    """Tell whether a loose piece goes in when its joint is closed already."""
    return name.rsplit(maxsplit=1)[-1] in AFTER
