"""Edging as parts of their own: solid strips and veneer tape, each with its own length."""

from dataclasses import dataclass

from ground.errors import Path
from ground.tolerances import LENGTH_EPS
from ground.vectors import Vec, dot
from models.parts.blank import FACES, Grain
from models.parts.features import Trim
from models.parts.part import PartKind, Stage
from models.setting_out.bench import Bench
from models.setting_out.draft import Box, Draft, blank, lying
from models.setting_out.trouble import trouble
from specs.edging import GoesOn, Hang, SolidEdging, TapeEdging

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


def lip(edging: SolidEdging | TapeEdging | None, panel: float, path: Path) -> tuple[float, float]:
    """How far an edging goes beyond a ``panel`` so thick, below it and above it (mm).

    Raises:
        SettingOutError: it is lower than the panel; ``path`` is the edging's place.
    """
    if not isinstance(edging, SolidEdging) or edging.height is None:
        return 0.0, 0.0
    more = edging.height - panel
    if more < -LENGTH_EPS:
        message = f"is less than the panel's {panel:.1f} mm; write more, or leave out the lip"
        raise trouble((*path, "height"), message)
    return (more, 0.0) if edging.hangs is Hang.DOWN else (0.0, more)


def lipped(box: Box, beyond: tuple[float, float]) -> Box:
    """The box of a level strip that goes ``beyond`` its panel, below and above."""
    below, above = beyond
    return Box(
        (box.lo[0], box.lo[1], box.lo[2] - below),
        (box.hi[0], box.hi[1], box.hi[2] + above),
    )


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
    if isinstance(edging, SolidEdging) and edging.hangs is not None:
        laid.note = f"its lip goes {edging.hangs} from the panel; {laid.note}"
    _band(host, face, size)
    return laid


def _band(host: Draft, face: str, size: Vec) -> None:
    """Note on the panel that ``face`` carries a strip of ``size``, and how large that makes it."""
    host.banded = (*host.banded, face)
    length, width, height = host.edged or host.blank.size
    normal = FACES[face]
    host.edged = (
        length + abs(normal[0]) * size[2],
        width + abs(normal[1]) * size[2],
        # A lip is higher than its panel is thick.
        height + size[2] if normal[2] else max(height, min(size[0], size[1])),
    )
