"""The numbers that the rooms of the setting out hand to one another. Piece axes, mm."""

from dataclasses import dataclass

from ground.errors import Path
from models.setting_out.draft import Box
from specs.openings import Opening as OpeningSpec


@dataclass(frozen=True, slots=True, kw_only=True)
class CaseNumbers:
    """What the rest of the piece takes from the case.

    ``outside`` is the finished case, edging included; ``clear`` the room inside it: between the
    sides, from the bottom's upper to the top's lower face, and from the front plane (Y = 0) to
    the back panel's face. ``panel`` is the panel's thickness as measured. ``front`` is the Y where
    the panels begin (behind their edging), ``rear`` where they end, ``bottom_rear`` where the
    bottom ends (short of the back, where the back passes behind it). ``groove_front`` and
    ``groove_rear`` are the walls of the back's groove. ``lumber`` is what small solid parts of
    the case are made of, None where the spec names none.
    """

    outside: Box
    clear: Box
    panel: float
    front: float
    rear: float
    bottom_rear: float
    groove_front: float
    groove_rear: float
    lumber: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """An opening that is not divided further: what it holds, its clear box, and what bounds it.

    ``box`` runs in Y from the front plane to the back panel. ``left right below above`` are the
    keys of the drafts that stand around it. ``path`` is its place in the spec.
    """

    id: str
    path: Path
    spec: OpeningSpec
    box: Box
    left: str
    right: str
    below: str
    above: str
