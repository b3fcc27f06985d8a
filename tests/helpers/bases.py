"""A base under the bottom of a case, by itself: to test legs, aprons, plinths and their joints."""

from ground.vectors import Plane, X, Z
from models.parts.assembly import Assembly
from models.parts.features import Trim
from models.parts.part import PartKind
from models.setting_out.base import lay_base
from models.setting_out.bench import Bench
from models.setting_out.case import case_numbers
from models.setting_out.draft import Box, Draft, blank, lying
from models.solids.clash import clashes
from models.solids.solid import solid
from specs.reading import read
from specs.spec import Spec

TEXT = """
format: 1
name: One base
units: {units}
drawings: {{paper: A3, standard: ISO}}
materials:
  oak: {{kind: lumber, species: white oak}}
  ply: {{kind: sheet, core: birch plywood, thickness: {panel},
        size: [2500 mm, 1250 mm], grain: length}}
base: {base}
case:
  size: {{length: {length}, height: {height}, depth: {depth}}}
  material: ply
  corners: {{top: mitre, bottom: butt}}
  joints: {{top: {{kind: spline}}, bottom: {{kind: loose tenon}}}}
  back: {{material: ply, groove_depth: 6 mm, set_in: 10 mm, enters: captive}}
inside: {{open: true}}
"""

SPLAYED = """
  kind: splayed legs
  height: {height}
  set_in: {{front: {front}, back: {front}, sides: 130}}
  legs:
    {{material: oak, top: {top}, foot: {foot}, splay: {{front: {a}, side: {b}}}{more}}}
  aprons: {{material: oak, height: {apron}, thickness: {thickness}, set_back: 8, joint: {joint}}}
  {rest}
  fixing: {{kind: {fixing}, count: 8}}
"""

STRAIGHT = """
  kind: straight legs
  height: 9-1/2
  set_in: {{front: 3/4, back: 3/4, sides: 1}}
  legs: {{material: oak, top: [1-1/2, 1-1/2], foot: [7/8, 7/8],
          taper: {{faces: {faces}, starts: 2-3/4}}, ease: 1/16{more}}}
  aprons: {{material: oak, height: 2-1/4, thickness: 13/16, set_back: 1/8, joint: {joint}}}
  feet: {{kind: {foot}, thickness: 3/16}}
  {rest}
  fixing: {{kind: {fixing}, count: 4}}
"""

STRETCHERS = (
    "stretchers: {count: 2, runs: front to back, at: dividers, material: oak, height: 60, "
    "thickness: 26, joint: {kind: stopped dado, open: top}}"
)
BLOCKS = "corner_blocks: {material: oak, thickness: 26, legs: 80}"
FACET = ", facet: {arris: outer, width: 12}, ease: 3"
DIVIDERS = (580.0, 1100.0)


def splayed(**words: object) -> str:
    """The reading-room cabinet's base, with other ``words`` where they are given."""
    usual: dict[str, object] = {
        "height": 190,
        "front": 24,
        "top": "[58, 58]",
        "foot": "[30, 30]",
        "a": 9,
        "b": 4,
        "more": FACET,
        "apron": 70,
        "thickness": 26,
        "joint": "{kind: loose tenon}",
        "rest": f"{STRETCHERS}\n  {BLOCKS}",
        "fixing": "figure-eight fastener",
    }
    return SPLAYED.format(**(usual | words))


def straight(**words: object) -> str:
    """The bedside cabinet's base, with other ``words`` where they are given."""
    usual: dict[str, object] = {
        "faces": "inside",
        "more": "",
        "joint": "{kind: mortise and tenon}",
        "foot": "glide",
        "rest": "",
        "fixing": "figure-eight fastener",
    }
    return STRAIGHT.format(**(usual | words))


def asked(
    base: str,
    *,
    size: tuple[object, object, object] = (1680, 430, 450),
    units: str = "mm",
    panel: str = "18.6 mm",
) -> Spec:
    """A spec on ``base``, its case ``size`` (length, depth, height)."""
    length, depth, height = size
    text = TEXT.format(
        base=base, units=units, panel=panel, length=length, depth=depth, height=height
    )
    return read(text, "base.yaml").spec


def based(spec: Spec, dividers: tuple[float, ...] = DIVIDERS) -> Bench:
    """The base laid out under the bottom of a case."""
    case = case_numbers(spec)
    bench = Bench()
    lo, hi = case.outside.lo, case.outside.hi
    box = Box((case.panel, 0.0, lo[2]), (hi[0] - case.panel, case.bottom_rear, lo[2] + case.panel))
    size, frame = lying(box, length=X, up=Z)
    bench.put(
        Draft(
            key="case/bottom",
            letter="C",
            name="bottom",
            group=("case",),
            kind=PartKind.SHEET,
            material="ply",
            blank=blank(size),
            frame=frame,
        )
    )
    lay_base(bench, spec, case, tuple((f"divider {at}", at) for at in dividers))
    return bench


def bedside(**words: object) -> Bench:
    """The bedside cabinet's base."""
    spec = asked(
        straight(**words), size=("21-3/4", "18-3/8", "15-1/8"), units="in", panel="0.715 in"
    )
    return based(spec, ())


def reading_room(**words: object) -> Bench:
    """The reading-room cabinet's base."""
    return based(asked(splayed(**words)))


def trims(bench: Bench, key: str) -> dict[str, Plane]:
    """The planes of a part's trims by name, carried to piece axes by its placement."""
    draft = bench.drafts[key]
    return {f.id: draft.frame.plane(f.plane) for f in draft.features if isinstance(f, Trim)}


def own_trims(bench: Bench, key: str) -> dict[str, Plane]:
    """The planes of a part's trims by name, in its own axes."""
    return {f.id: f.plane for f in bench.drafts[key].features if isinstance(f, Trim)}


def face(bench: Bench, key: str, name: str) -> Plane:
    """A face of the blank, carried to piece axes."""
    draft = bench.drafts[key]
    return draft.frame.plane(draft.blank.planes()[name])


def assembly(bench: Bench) -> Assembly:
    """The base as an assembly."""
    return bench.assembly("base")


def assert_stands(bench: Bench) -> None:
    """Assert that every part is one solid, and that no two share wood where they stand."""
    made = assembly(bench)
    solids = {part.label: solid(part) for part in made.parts}
    assert not [clash for clash in clashes(made, solids) if clash.volume > 0.001]


def codes(bench: Bench) -> list[str]:
    """The codes of all findings, in order."""
    return [finding.code for finding in bench.findings]
