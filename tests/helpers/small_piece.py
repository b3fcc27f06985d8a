"""A little piece set out by hand: a board with every sort of feature, and what stands round it."""

from pathlib import Path

from exporters.record import Built
from ground.findings import Finding, Severity
from ground.vectors import Frame, Plane, Vec
from models.parts.assembly import (
    Assembly,
    Copy,
    HardwareLine,
    Joint,
    Motion,
    Mover,
    Opening,
    Sum,
)
from models.parts.blank import Blank, Grain, Section
from models.parts.features import (
    Channel,
    ChannelKind,
    Countersink,
    EasedEdge,
    Hole,
    HoleKind,
    Mortise,
    Seat,
    Trim,
    TrimKind,
    Waste,
    WasteKind,
)
from models.parts.part import Part, PartKind, Stage, numbered
from models.solids.records import Measured, PlaneFace
from specs.reading import read
from specs.spec import Spec

EXAMPLES = Path(__file__).parents[2] / "examples"
DOWN: Vec = (0.0, 0.0, -1.0)
ALONG: Vec = (1.0, 0.0, 0.0)


def spec(example: str = "reading-room-cabinet", **swaps: str) -> Spec:
    """The spec of an example, with some of its text swapped for other text."""
    text = (EXAMPLES / f"{example}.yaml").read_text(encoding="utf-8")
    for old, new in swaps.items():
        assert old in text
        text = text.replace(old, new)
    return read(text, example).spec


def seat(x: float, y: float, z: float = 20.0) -> Seat:
    """A seat on the top face of a 20 mm board."""
    return Seat((x, y, z), ALONG, DOWN)


BOARD = Part(
    label="B10",
    name="board",
    kind=PartKind.LUMBER,
    material="oak",
    blank=Blank(length=400.0, width=100.0, thickness=20.0),
    features=numbered(
        (
            Trim(kind=TrimKind.MITRE, plane=Plane.through((390, 0, 0), (1, 0, 1)), made_by="a"),
            Channel(
                kind=ChannelKind.GROOVE,
                seat=seat(-1, 20),
                length=402.0,
                width=6.0,
                depth=8.0,
                made_by="back",
            ),
            Mortise(seat=seat(60, 60), length=40.0, width=8.0, depth=15.0, made_by="a"),
            Hole(kind=HoleKind.COUNTERBORE, seat=seat(200, 60), diameter=12, depth=5, made_by="s"),
            Hole(
                kind=HoleKind.CLEARANCE,
                seat=seat(200, 60, 15.0),
                diameter=5.0,
                depth=None,
                made_by="s",
            ),
            Hole(
                kind=HoleKind.SHELF_PIN,
                seat=seat(250, 80),
                diameter=5.0,
                depth=12.0,
                count=3,
                pitch=32.0,
                made_by="shelf",
            ),
            Countersink(seat=seat(150, 80), diameter=9.0, angle=90.0, made_by="s"),
            Waste(
                kind=WasteKind.NOTCH,
                planes=(
                    ("wall-a", Plane((1.0, 0.0, 0.0), 30.0)),
                    ("wall-b", Plane((0.0, 1.0, 0.0), 10.0)),
                    ("", Plane((-1.0, 0.0, 0.0), 1.0)),
                    ("", Plane((0.0, -1.0, 0.0), 1.0)),
                    ("", Plane((0.0, 0.0, 1.0), 21.0)),
                    ("", Plane((0.0, 0.0, -1.0), 1.0)),
                ),
                made_by="leg",
                note="round the leg",
            ),
            EasedEdge(between=("top", "back"), size=3.0, made_by="base.legs"),
        )
    ),
    banded=("front",),
    edged=(400.0, 106.0, 20.0),
    over=(1.0, 0.0, 0.0),
    stage=Stage.TO_FIT,
    note="=HYPERLINK(1)",
)
FRONT = Part(
    label="F2",
    name="front",
    kind=PartKind.SHEET,
    material="front-panel",
    blank=Blank(length=300.03, width=200.0, thickness=20.0, grain=Grain.NONE),
    banded=("left", "right"),
)
DOWEL = Part(
    label="L1",
    name="dowel",
    kind=PartKind.LOOSE,
    material=None,
    blank=Blank(length=40.0, width=8.0, thickness=8.0, section=Section.ROUND),
)
GLIDE = Part(
    label="H1",
    name="glide",
    kind=PartKind.HARDWARE,
    material=None,
    blank=Blank(length=5.0, width=20.0, thickness=20.0, section=Section.ROUND),
    made=False,
)
TILTED = Frame((0.0, 1.0, 0.0), (-1.0, 0.0, 0.0), (0.1 + 0.2, -0.0000000001, 7.0))


def aside(y: float) -> Frame:
    """A place by itself, so that nothing of the little piece clashes."""
    return Frame(origin=(0.0, y, 0.0))


PIECE = Assembly(
    name="Lüttes Ding",
    parts=(BOARD, FRONT, DOWEL, GLIDE),
    copies=(
        Copy(id="B10.10", label="B10", group=("case",), placement=TILTED),
        Copy(id="B10.2", label="B10", group=("case",), placement=aside(-200.0)),
        Copy(
            id="F2.1", label="F2", group=("drawers", "drawer 1"), placement=aside(500.0), mover="d"
        ),
        Copy(id="L1.1", label="L1", group=("case",), placement=aside(900.0)),
        Copy(id="H1.1", label="H1", group=("base",), placement=aside(1000.0)),
    ),
    movers=(
        Mover(
            id="d",
            kind=Motion.SLIDES,
            axis=(0.0, -1.0, 0.0),
            origin=(0.0, 0.0, 0.0),
            limit=350.0,
            copies=("F2.1",),
        ),
    ),
    joints=(
        Joint(id="j10", kind="mitre", parts=("B10.2", "B10.10"), closes="case"),
        Joint(
            id="j9", kind="dowel", parts=("B10.2", "F2.1"), loose=("L1.1",), closes=(0.0, 0.0, -1.0)
        ),
    ),
    openings=(
        Opening(id="10", kind="open", corner=(1.0, 0.0, 2.0), width=500, height=200, depth=400),
        Opening(
            id="2/1",
            kind="drawers",
            corner=(18.6, 0.0, 190.0),
            width=520.0,
            height=115.6573333,
            depth=412.0,
            contents=("F2.1",),
        ),
    ),
    hardware=(
        HardwareLine(name="screw", quantity=12, size="4 x 30", for_what="base", note="brass"),
        HardwareLine(name="+glide", quantity=4),
        HardwareLine(name="screw", quantity=8, size="3.5 x 16"),
    ),
    sums=(
        Sum(
            subject="drawer 2/1",
            what="depth",
            terms=(("front", 20.0), ("gap", 3.0), ("runner", 350.0), ("spare", 39.0)),
        ),
    ),
    findings=(
        Finding(
            code="fit.runner_depth",
            severity=Severity.ERROR,
            subject="drawer 2/1",
            message="too long",
            copies=("F2.1",),
            at=(1.0, 2.0, 3.0),
            value=450.0,
            limit=412.0,
            unit="mm",
            source="the data sheet",
        ),
    ),
)


def measured(part: Part, volume: float) -> Measured:
    """What a solid of ``part`` might say of itself."""
    face = PlaneFace(name="bottom", plane=Plane(DOWN, -0.0), made_by=None)
    wall = PlaneFace(name="mitre-1", plane=Plane((0.5**0.5, 0.0, 0.5**0.5), 275.77), made_by="a")
    return Measured(volume=volume, box=((0.0, 0.0, 0.0), part.blank.size), faces=(wall, face))


def built(**changes: object) -> Built:
    """A whole build of the little piece."""
    facts: dict[str, object] = {
        "version": "0.1.0",
        "spec": spec(),
        "assembly": PIECE,
        "measured": {
            "B10": measured(BOARD, 700_000.0),
            "F2": measured(FRONT, 1_000_000.0),
            "L1": measured(DOWEL, 2010.6192982974677),
            "H1": measured(GLIDE, 1570.796),
        },
        "files": {"B10": {"step": "parts/B10-board.step", "drawing": "drawings/B10-board.dxf"}},
        "bounds": ((0.0, -0.0, 0.0), (1680.0, 430.0, 640.0)),
        "findings": PIECE.findings,
        "listed": (),
    }
    return Built(**(facts | changes))  # type: ignore[arg-type]
