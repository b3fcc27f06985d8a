"""Whether a finished part still lies inside what is left of its wood, and where."""

from itertools import combinations

from ground.vectors import Plane, Vec, dot, meet, norm
from planning.saw.heard import SAME
from planning.saw.workpiece import Workpiece


def room(remaining: Workpiece, finished: Workpiece) -> Vec | None:
    """The least shift that brings the finished part wholly into what is left; None: none does."""
    slack = [
        (
            face.plane.normal,
            face.plane.offset - max(dot(face.plane.normal, c) for c in finished.corners),
        )
        for face in remaining.faces
    ]
    best: Vec | None = None
    for three in combinations(slack, 3):
        planes = [Plane(normal, offset) for normal, offset in three]
        try:
            shift = meet(*planes)
        except ZeroDivisionError:
            continue
        if all(dot(normal, shift) <= offset + SAME / 10 for normal, offset in slack):
            best = shift if best is None or norm(shift) < norm(best) else best
    return best
