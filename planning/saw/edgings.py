"""Which edges of a panel are edged before it is cut: found where the edging stands in the piece."""

from ground.vectors import Vec, along
from models.parts.assembly import Assembly
from models.parts.blank import FACES
from models.parts.part import Part, PartKind, Stage

INTO = 0.3
"""How deep into its edging a panel's edge is probed (mm); the thinnest tape is 0.5."""


def edged_first(assembly: Assembly, part: Part) -> tuple[str, ...]:
    """The banded faces of ``part`` whose edging goes on before glue-up."""
    copies = assembly.copies_of(part.label)
    if not part.banded or not copies:
        return ()
    frame = copies[0].placement
    return tuple(
        face
        for face in part.banded
        if (edging := edging_at(assembly, frame.point(probe(part, face)))) is not None
        and edging.stage is Stage.NOW
    )


def probe(part: Part, face: str) -> Vec:
    """A place just outside the middle of a face, in part axes."""
    normal = FACES[face]
    reach = sum(abs(n) * s / 2 for n, s in zip(normal, part.blank.size, strict=True))
    return along(part.blank.centre, normal, reach + INTO)


def edging_at(assembly: Assembly, place: Vec) -> Part | None:
    """The edging that stands at a place of the piece."""
    for copy in assembly.copies:
        part = assembly.part(copy.label)
        if part.kind is not PartKind.EDGING:
            continue
        own = copy.placement.inverse().point(place)
        if all(0 <= v <= s for v, s in zip(own, part.blank.size, strict=True)):
            return part
    return None
