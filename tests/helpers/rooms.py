"""One opening with panels around it, to lay drawers, doors and shelves into by themselves."""

from dataclasses import dataclass

from ground.vectors import X, Y, Z, neg
from models.parts.part import PartKind
from models.setting_out.bench import Bench
from models.setting_out.doors import lay_doors
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.drawers import lay_drawers
from models.setting_out.numbers import Leaf
from models.setting_out.shelves import lay_shelves
from models.setting_out.trouble import SettingOutError
from specs.reading import read
from specs.spec import Spec

TEXT = """
format: 1
name: One opening
units: mm
drawings: {{paper: A3, standard: ISO}}
materials:
  oak: {{kind: lumber, species: white oak}}
  ply: {{kind: sheet, core: birch plywood, thickness: 18, size: [2500, 1250], grain: length}}
  box: {{kind: sheet, core: birch plywood, thickness: {box}, size: [1525, 1525], grain: length}}
  thin: {{kind: sheet, core: birch plywood, thickness: {thin}, size: [1525, 1525], grain: length}}
  board: {{kind: sheet, core: mdf, density: 850, thickness: 20, size: [2500, 1250], grain: none}}
hardware:
  under: {{kind: undermount runner, length: 350, opens: pull}}
  fifteen: {{kind: undermount runner, length: 15 in}}
  push: {{kind: undermount runner, length: 350, opens: push, sync_rod: true}}
  slide: {{kind: side-mount slide, length: 350}}
  wooden: {{kind: wooden runner, material: oak}}
  cup: {{kind: cup hinge, closing: free}}
  sprung: {{kind: cup hinge, closing: sprung, fixing: pressed dowels}}
  butt: {{kind: butt hinge, length: 60, width: 16}}
  latch: {{kind: push latch}}
  catch: {{kind: magnetic catch}}
  ball: {{kind: ball catch}}
  pins: {{kind: shelf pins, holes: 3}}
base:
  kind: plinth
  height: 80
  set_in: {{front: 50, back: 20, sides: 20}}
  material: ply
  fixing: {{kind: screw block, count: 8}}
case:
  size: {{length: 1000, height: 800, depth: 500}}
  material: ply
  corners: {{top: mitre, bottom: mitre}}
  joints: {{top: {{kind: spline}}, bottom: {{kind: spline}}}}
  edging: {{front: {{kind: solid, material: oak, thickness: 6}}}}
  back: {{material: thin, groove_depth: 6, set_in: 10, enters: captive}}
inside:
{inside}
"""

PANEL = 18.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """A bench with four panels, the leaf between them, and the spec that fills it."""

    bench: Bench
    leaf: Leaf
    spec: Spec


def asked(inside: str, *, box: float = 15.0, thin: float = 6.0) -> Spec:
    """A spec whose inside is ``inside``; ``box`` and ``thin`` are two sheets' thicknesses (mm)."""
    return read(TEXT.format(inside=inside, box=box, thin=thin), "room.yaml").spec


def room(
    inside: str,
    size: tuple[float, float, float],
    *,
    box: float = 15.0,
    thin: float = 6.0,
) -> Room:
    """An empty opening ``size`` (width, depth, height) whose lower front left corner is at 100."""
    spec = asked(inside, box=box, thin=thin)
    lo = (100.0, 0.0, 100.0)
    hi = (lo[0] + size[0], size[1], lo[2] + size[2])
    bench = Bench()
    left = Box((lo[0] - PANEL, 0.0, lo[2] - PANEL), (lo[0], size[1], hi[2] + PANEL))
    right = Box((hi[0], 0.0, lo[2] - PANEL), (hi[0] + PANEL, size[1], hi[2] + PANEL))
    below = Box((lo[0], 0.0, lo[2] - PANEL), (hi[0], size[1], lo[2]))
    above = Box((lo[0], 0.0, hi[2]), (hi[0], size[1], hi[2] + PANEL))
    back = Box((lo[0], size[1], lo[2]), (hi[0], size[1] + 6.0, hi[2]))
    for key, box_of_it, length, up in (
        ("case/left", left, Z, neg(X)),
        ("case/right", right, Z, X),
        ("case/below", below, X, Z),
        ("case/above", above, X, Z),
        ("case/back", back, X, Y),
    ):
        size_of_it, frame = lying(box_of_it, length=length, up=up)
        bench.put(
            Draft(
                key=key,
                letter="C",
                name=key.split("/")[1],
                group=("case",),
                kind=PartKind.SHEET,
                material="ply",
                blank=blank(size_of_it),
                frame=frame,
            )
        )
    leaf = Leaf(
        id="1",
        path=("inside",),
        spec=spec.inside,
        box=Box(lo, hi),
        left="case/left",
        right="case/right",
        below="case/below",
        above="case/above",
    )
    return Room(bench=bench, leaf=leaf, spec=spec)


def filled(
    inside: str,
    size: tuple[float, float, float],
    *,
    box: float = 15.0,
    thin: float = 6.0,
) -> Room:
    """The same with everything laid into it that ``inside`` asks for."""
    made = room(inside, size, box=box, thin=thin)
    lay_drawers(made.bench, made.spec, made.leaf)
    lay_doors(made.bench, made.spec, made.leaf)
    lay_shelves(made.bench, made.spec, made.leaf)
    return made


def tried(inside: str, size: tuple[float, float, float]) -> Room | str:
    """The filled opening, or what is said where nothing can be set out in it."""
    try:
        return filled(inside, size)
    except SettingOutError as refused:
        return str(refused)


def codes(made: Room) -> list[str]:
    """The codes of all findings, in order."""
    return [finding.code for finding in made.bench.findings]


def shared_wood(made: Room) -> list[str]:
    """What shares more than 0.001 mm3 in a filled opening, part by part, on the solids."""
    from models.solids.clash import clashes
    from models.solids.made import make, solid_of

    piece = made.bench.assembly("room")
    solids = {part.label: solid_of(make(part, views=())) for part in piece.parts}
    names = {copy.id: f"{copy.id} {piece.part(copy.label).name}" for copy in piece.copies}
    return [
        f"{names[c.first]} and {names[c.second]}: {c.volume:.3f} mm3"
        for c in clashes(piece, solids)
        if c.volume > 0.001
    ]
