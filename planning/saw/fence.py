"""What comes out when a piece is run along the fence that should have had a sled or a wedge.

A rip along the fence holds the direction of the feed. Where the plane wanted does not, the piece
comes out right at one end and wrong at the other: a leg tapered on one face from t0 to t1, its side
beveled by b, is out by (t0 - t1) tan b across the tapered face.
"""

from dataclasses import dataclass, replace

from ground.vectors import Plane
from planning.saw.lie import Lie
from planning.saw.settings import cut_of, setting
from planning.saw.workpiece import Workpiece


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One line across a face, at one end: how long it should be and how long it comes out (mm).

    ``face`` and ``end`` name the two faces that meet in that line.
    """

    face: str
    end: str
    wanted: float
    got: float

    @property
    def out(self) -> float:
        """How much it is off (mm)."""
        return self.got - self.wanted


def fence_cut(plane: Plane, lie: Lie) -> Plane:
    """The plane that comes out with the right tilt and distance at the stop, but no wedge."""
    wanted = setting(plane, lie, 0.0)
    naive = replace(wanted, mitre=90.0, mitre_to=None)
    return cut_of(naive, lie, 0.0)


def slips(before: Workpiece, wanted: Plane, got: Plane) -> tuple[Slip, ...]:
    """Every line that is there after either cut, in both cases; the furthest out first.

    ``before`` is the workpiece that is cut.
    """
    right, wrong = before.cut("cut", wanted), before.cut("cut", got)
    found = []
    for edge in before.edges:
        one, other = sorted(edge)
        a, b = right.length(one, other), wrong.length(one, other)
        if a is not None and b is not None:
            found.append(Slip(face=one, end=other, wanted=a, got=b))
    return tuple(sorted(found, key=lambda slip: (-abs(slip.out), slip.face, slip.end)))
