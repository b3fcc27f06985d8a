"""The records of a plan: one set-up after the other, as the record of a build keeps them."""

from dataclasses import dataclass

from ground.vectors import Vec
from planning.machines import Tool
from planning.saw.settings import Hand, Keeps, Lean


@dataclass(frozen=True, slots=True, kw_only=True)
class Wedge:
    """A long thin wedge that levels a face: ``rise`` over ``length`` (mm).

    It lies against the face ``under`` with its thin end at ``thin_at``; ``made_from`` says what it
    is cut from. ``restores`` is the blank's face that is whole again with it (``stock.back``); None
    where it lies under the table face and turns the piece on the table.
    """

    rise: float
    length: float
    under: str
    thin_at: str
    made_from: str
    restores: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Expect:
    """Something that a rule can measure: ``at`` names the faces whose edge it lies on."""

    what: str
    at: str
    value: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """What a cutter or a bit does in one go, measured on the face that it ``enters``.

    ``at`` is where its middle starts: from the stop, from the reference edge, into the wood (mm).
    ``run`` is the heading of the pass on that face (degrees; 0 away from the reference edge, 90
    away from the stop), ``lean`` how far the cutter is off square to the face and ``lean_to`` the
    heading that it leans to on its way in. ``ends`` are square or round. A row has ``count`` of
    them, ``pitch`` apart along the run. ``length`` is None for a bit that only goes in; ``depth``
    None goes right through.
    """

    enters: str
    at: Vec
    run: float
    lean: float
    lean_to: float
    depth: float | None
    width: float | None = None
    length: float | None = None
    diameter: float | None = None
    ends: str | None = None
    count: int = 1
    pitch: float = 0.0
    makes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Alike:
    """One more cut of a set-up: same machine, same work; its fields are those of ``SetUp``.

    Only the stop or the fence is moved for it, or it is marked from another face.
    """

    table_face: str | None
    reference_edge: str | None
    stop: str | None
    mitre: float | None
    mitre_to: Hand | None
    tilt: float | None
    tilt_to: Lean | None
    measured: str | None
    distance: float | None
    keeps: Keeps | None
    kerf: float | None
    depth: float | None
    makes_face: str | None
    cutter: Pass | None
    expect: tuple[Expect, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SetUp:
    """One set-up of one part, in the part's order.

    A planar cut has its settings (``mitre`` and ``tilt`` from square, ``distance`` to the near side
    of the kerf, ``measured`` square to the reference edge or along it: see
    ``planning.saw.settings.Setting``). What a cutter or a bit makes has a
    ``cutter``. Work that cuts nothing new (gluing an edging on) has neither. ``stop`` is the face
    that lengths are measured from; ``depth`` the height of a cut that does not go through (None:
    through). ``show`` says which way the face on view looks; seen from where the maker
    stands, ``fence`` is the side of the blade that the fence stands on, ``leans`` the side that the
    blade leans to, ``offcut`` the side that the offcut falls to. ``alike`` are the other cuts made
    with it.
    """

    part: str
    order: int
    machine: Tool
    does: str
    table_face: str | None = None
    reference_edge: str | None = None
    stop: str | None = None
    mitre: float | None = None
    mitre_to: Hand | None = None
    tilt: float | None = None
    tilt_to: Lean | None = None
    measured: str | None = None
    distance: float | None = None
    keeps: Keeps | None = None
    kerf: float | None = None
    depth: float | None = None
    wedge: Wedge | None = None
    makes_face: str | None = None
    cutter: Pass | None = None
    expect: tuple[Expect, ...] = ()
    note: str = ""
    show: str | None = None
    fence: Hand | None = None
    leans: Hand | None = None
    offcut: str | None = None
    first_cut: str = ""
    cautions: tuple[str, ...] = ()
    alike: tuple[Alike, ...] = ()

    @property
    def cuts(self) -> "tuple[SetUp | Alike, ...]":
        """The cut that the settings are those of, and those alike."""
        return (self, *self.alike)
