"""Edging as parts of their own: solid strips and veneer tape, each with its own length."""

from dataclasses import dataclass

from ground.vectors import Vec, dot
from models.parts.blank import FACES, Grain
from models.parts.features import Trim
from models.parts.part import PartKind, Stage
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, blank, lying
from specs.edging import GoesOn, SolidEdging, TapeEdging

OVER_SOLID = 1.5
"""Solid edging is milled this much wider than the panel is thick, and flushed (mm). Common
practice, no source."""
OVER_TAPE = (20.0, 2.0)
"""Tape is cut this much longer and wider than its edge, and trimmed (mm). Common practice, no
source."""

BEFORE = "goes on before glue-up; flush it, then cut the panel's ends"
AFTER = "goes on after glue-up"


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """Where one strip goes: the ``box`` that it fills, its ``length`` axis and its ``outward`` way.

    ``trims`` (piece axes) mitre its ends. ``after`` says that it waits for the glue-up.
    """

    box: Box
    length: Vec
    outward: Vec
    trims: tuple[Trim, ...] = ()
    after: bool = False


def face_towards(draft: Draft, direction: Vec) -> str:
    """The name of the blank face of ``draft`` that looks in ``direction`` (piece axes).

    Raises:
        ValueError: no face looks that way: a fault of ours.
    """
    for name, normal in FACES.items():
        if dot(draft.frame.direction(normal), direction) > 1 - 1e-9:
            return name
    reason = f"no face of {draft.key} looks along {direction}"
    raise ValueError(reason)


def edge(bench: Bench, host: Draft, edging: SolidEdging | TapeEdging, strip: Strip) -> Draft:
    """Glue a strip of ``edging`` to the edge of ``host`` and note it on the panel."""
    face = face_towards(host, strip.outward)
    size, frame = lying(strip.box, length=strip.length, up=strip.outward)
    solid = isinstance(edging, SolidEdging)
    material = edging.material if isinstance(edging, SolidEdging) else None
    after = strip.after if edging.goes_on is None else edging.goes_on is GoesOn.AFTER
    laid = Draft(
        key=f"{host.key}/edging {face}",
        letter="E",
        name=f"{host.name} {'edging' if solid else 'tape'}",
        group=host.group,
        kind=PartKind.EDGING,
        material=material,
        blank=blank(size, grain=Grain.LENGTH),
        frame=frame,
        show="top",
        over=(0.0, OVER_SOLID, 0.0) if solid else (*OVER_TAPE, 0.0),
        stage=Stage.AFTER_GLUE_UP if after else Stage.NOW,
        note=AFTER if after else BEFORE,
        mover=host.mover,
    )
    bench.put(laid)
    bench.cut(laid.key, strip.trims)
    _band(host, face, size[2])
    return laid


def _band(host: Draft, face: str, thickness: float) -> None:
    """Note on the panel that ``face`` carries an edging, and how large that makes it."""
    host.banded = (*host.banded, face)
    length, width, height = host.edged or host.blank.size
    normal = FACES[face]
    host.edged = (
        length + abs(normal[0]) * thickness,
        width + abs(normal[1]) * thickness,
        height + abs(normal[2]) * thickness,
    )
