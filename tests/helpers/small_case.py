"""A case small enough to make solid often: 260 x 200 x 130, with whatever joints are asked for."""

from models.setting_out.back import lay_back
from models.setting_out.bench import Bench
from models.setting_out.case import case_numbers, lay_case
from models.setting_out.draft import Box
from models.setting_out.numbers import CaseNumbers, Leaf
from models.setting_out.openings import divide
from models.setting_out.rails import KEY as RAIL
from models.setting_out.rails import lay_rails
from specs.reading import read
from specs.spec import Spec

PLAIN = "back: {material: thin, groove_depth: 6, set_in: 10, enters: captive}"
EDGED = "edging: {front: {kind: solid, material: oak, thickness: 5, corners: mitre}}"
BUTTED = (
    "edging: {front: {kind: solid, material: oak, thickness: 5},"
    " back: {kind: veneer tape, thickness: 0.6}}"
)
OPEN = "open: true"


def small_spec(
    corners: str,
    joints: str = "{}",
    *,
    more: str = EDGED,
    back: str = PLAIN,
    inside: str = OPEN,
    hardware: str = "{}",
    panel: float = 18.0,
    size: str = "{length: 260, height: 200, depth: 130}",
) -> Spec:
    """The spec of a small case; ``more`` is further lines of its ``case``."""
    text = f"""
format: 1
name: Small case
units: mm
drawings: {{paper: A3, standard: ISO}}
shop: {{kerf: 3, trim: 10, milling: {{length: 25, width: 5, thickness: 4}},
  humidity: [35, 65], temperature: 20}}
materials:
  oak: {{kind: lumber, species: white oak}}
  pine: {{kind: lumber, species: ponderosa pine}}
  panel: {{kind: sheet, core: mdf, thickness: {panel}, size: [2440, 1220], grain: none}}
  thin: {{kind: sheet, core: birch plywood, thickness: 6, size: [1525, 1525], grain: length}}
hardware: {hardware}
base: {{kind: plinth, height: 60, set_in: {{front: 10, back: 10, sides: 10}}, material: panel,
  fixing: {{kind: screw block, count: 4}}}}
case:
  size: {size}
  material: panel
  corners: {corners}
  joints: {joints}
  {more}
  {back}
inside:
  {inside}
"""
    return read(text, "small.yaml").spec


def small_case(spec: Spec) -> tuple[Bench, CaseNumbers]:
    """The case of ``spec`` on a bench: panels, edging, back, rails and dividers."""
    bench, case = Bench(), case_numbers(spec)
    lay_case(bench, spec, case)
    lay_back(bench, spec, case)
    room: Box = lay_rails(bench, spec, case)
    whole = Leaf(
        id="",
        path=("inside",),
        spec=spec.inside,
        box=room,
        left="case/side left",
        right="case/side right",
        below="case/bottom",
        above="case/top" if spec.case.rails.under_top is None else RAIL,
    )
    divide(bench, spec, whole, None)
    return bench, case
