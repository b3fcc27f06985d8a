"""Specs and what one check has to say about them."""

from collections.abc import Callable, Iterable

from checks.placed import Piece, read
from ground.findings import Finding
from models.setting_out.piece import set_out
from specs.loads import Loads
from specs.reading import read as read_text
from specs.spec import Spec

Check = Callable[[Piece], Iterable[Finding]]


def looked(spec: Spec) -> Piece:
    """The piece of a spec, as checks see it."""
    return read(set_out(spec), spec)


def found(spec: Spec, check: Check) -> dict[str, Finding]:
    """The findings of a check by their codes; the last of each."""
    return {one.code: one for one in check(looked(spec))}


def all_found(spec: Spec, check: Check) -> tuple[Finding, ...]:
    """Every finding of a check."""
    return tuple(check(looked(spec)))


TEXT = """
format: 1
name: Case to check
units: mm
drawings: {{paper: A3, standard: ISO}}
shop: {{kerf: 3, trim: 10, humidity: [35, 65], temperature: 20}}
materials:
  oak: {{kind: lumber, species: {species}}}
  panel: {{kind: sheet, core: mdf, thickness: {panel}, size: [2800, 1220], grain: none}}
  thin: {{kind: sheet, core: birch plywood, thickness: 6, size: [1525, 1525], grain: length}}
hardware:
  slide: {{kind: side-mount slide, length: 300, capacity: 30}}
  hinge: {{kind: cup hinge{hinge}}}
base: {base}
case:
  size: {size}
  material: panel
  corners: {{top: butt, bottom: butt}}
  joints: {{top: dowel, bottom: dowel}}
  back: {{material: thin, groove_depth: 6, set_in: 10, enters: captive}}
  {more}
inside:
  {inside}
"""

PLINTH = (
    "{kind: plinth, height: 60, set_in: {front: 10, back: 10, sides: 10}, material: panel,"
    " fixing: {kind: screw block, count: 4}}"
)


def made(
    inside: str,
    *,
    size: str = "{length: 800, height: 600, depth: 330}",
    species: str = "white oak",
    panel: float = 18.0,
    base: str = PLINTH,
    more: str = "",
    hinge: str = "",
) -> Spec:
    """A case of MDF with ``inside``; ``more`` is further lines of its ``case``."""
    text = TEXT.format(
        inside=inside,
        size=size,
        species=species,
        panel=panel,
        base=base,
        more=more,
        hinge=hinge,
    )
    return read_text(text, "checked.yaml").spec


def case(
    inside: str, *, panel: float = 18.0, length: float = 800, loads: Loads | None = None
) -> Spec:
    """A case of MDF on a plinth, 600 high and 330 deep, with ``inside``."""
    size = f"{{length: {length}, height: 600, depth: 330}}"
    spec = made(inside, panel=panel, size=size)
    return spec if loads is None else spec.model_copy(update={"loads": loads})
