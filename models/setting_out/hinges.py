"""How many hinges a door wants, where they go, and what contradicts them. Plain arithmetic."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from specs.hardware import ButtHinge, CupHinge, Hinge

CATALOGUE: Final = "one hinge maker's catalogue, quick-reference page (check values 7.1)"
CHART: Final = ((1016.0, 6.8, 2), (1524.0, 13.6, 3), (2032.0, 20.4, 4), (2540.0, 27.2, 5))
"""Up to this height (mm) and mass (kg): so many hinges; the larger answer counts. Catalogue chart
(check values 7.1), guideline values only."""
FIRST_LEAST: Final = 70.0
"""The first hinge is 70 to 120 from the door's end (mm; check values 7.1, common practice)."""
FIRST_ON_ROW: Final = 50.0
"""On a row of holes the first hinge may stand this near to the door's end (mm): half a plate and
room for the screwdriver. Common practice, no source."""
FIRST_PART: Final = 0.2
"""In a door too low for that, this part of its height. Common practice, no source."""
BEHIND_CUP: Final = 2.0
"""Least material behind a cup (mm; check values 7.1: 2 to 3)."""
CLEAR: Final = 2.0
"""Between a hinge and the end of a frame's rail (mm). Common practice, no source."""
CUP_EDGE: Final = (3.0, 8.0)
"""From the door's edge to the cup's (mm; catalogue, check values 7.1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSize:
    """A door's ``width``, ``height`` and ``thick``ness (mm) and its ``mass`` (kg).

    ``keep`` is what a hinge keeps clear of at either end: the rails of a frame, and their tenons.
    """

    width: float
    height: float
    thick: float
    mass: float
    keep: float = 0.0


def hinge_count(height: float, mass: float) -> int:
    """Hinges by height (mm) and mass (kg): the larger answer; one more than the chart beyond it.

    Worked: 409 high and 1.9 kg: 2. 1200 high: 3. 900 high and 15 kg: 4.
    """
    by_height = next((count for most, _, count in CHART if height <= most), CHART[-1][2] + 1)
    by_mass = next((count for _, most, count in CHART if mass <= most), CHART[-1][2] + 1)
    return max(by_height, by_mass)


def hinge_heights(hinge: Hinge, door: DoorSize, pitch: float | None = None) -> tuple[float, ...]:
    """Every hinge's height above the door's lower end (mm), from below.

    The first stands ``first`` from the end, or nearer so that the hinges are further apart than the
    door is wide, but no nearer than 70. Worked: 408.8 high, 268.4 wide, first 100: half of the
    140.4 that may be lost is 70.2, less 0.5 is under 70, so 70: hinges at 70 and 338.8, 268.8
    apart. ``pitch``: their plates share the holes of a row of shelf pins, so they stand whole steps
    of it apart. Worked with 32: 268.8 lies between 256, which is less than the door's 268.4, and
    288: hinges at 60.4 and 348.4.
    """
    count = hinge.count or hinge_count(door.height, door.mass)
    first = min(hinge.first, max(FIRST_LEAST, (door.height - door.width) / 2 - 0.5))
    first = min(first, max(door.height * FIRST_PART, FIRST_LEAST / 2))
    first = min(max(first, door.keep + half_length(hinge)), door.height / 2)
    if count == 1:
        return (door.height / 2,)
    if pitch is not None:
        first = _on_rows(first, door, (count, pitch), door.keep + half_length(hinge))
    step = (door.height - 2 * first) / (count - 1)
    return tuple(first + i * step for i in range(count))


def _on_rows(first: float, door: DoorSize, row: tuple[int, float], least: float) -> float:
    """The ``first`` that puts every hinge on one row; as it was where none would.

    ``row`` is the number of hinges and the row's pitch. Check values 7.1: 70 to 120, or on a 32 mm
    row.
    """
    count, pitch = row
    unit = (count - 1) * pitch
    below = (door.height - 2 * first) // unit * unit
    totals = [total for total in (below, below + unit) if total > 0.0]
    fits = [t for t in totals if (door.height - t) / 2 >= max(least, FIRST_ON_ROW)]
    if not fits:
        return first
    wide = [total for total in fits if total > door.width]
    natural = door.height - 2 * first
    total = min(wide or fits, key=lambda total: abs(total - natural))
    return (door.height - total) / 2


def half_length(hinge: Hinge) -> float:
    """What is bored or let into a door either way from a hinge's middle, and a little (mm)."""
    match hinge:
        case CupHinge():
            return max(hinge.cup_diameter, hinge.fixing_spacing + hinge.dowel_diameter) / 2 + CLEAR
        case ButtHinge():
            return hinge.length / 2 + CLEAR


def hinge_findings(
    subject: str, hinge: Hinge, door: DoorSize, pitch: float | None = None
) -> list[Finding]:
    """What contradicts the door's size, each with its number."""
    heights = hinge_heights(hinge, door, pitch)
    apart = heights[-1] - heights[0]
    found: list[Finding] = []
    if apart <= door.width:
        found.append(
            _finding(
                "fitting.hinge_spacing",
                Severity.WARNING,
                subject,
                f"the outer hinges stand {apart:.1f} mm apart and the door is {door.width:.1f} mm "
                "wide: it sags; make two doors of it, or a narrower one",
                (apart, door.width),
            )
        )
    found += _meeting_findings(subject, hinge, heights)
    if isinstance(hinge, CupHinge):
        found += _cup_findings(subject, hinge, door)
    return found


def _meeting_findings(subject: str, hinge: Hinge, heights: tuple[float, ...]) -> list[Finding]:
    """Neighbouring hinges that have no room for both."""
    nearest = min((b - a for a, b in pairwise(heights)), default=math.inf)
    least = 2 * half_length(hinge)
    if nearest >= least:
        return []
    return [
        _finding(
            "fitting.hinges_meet",
            Severity.ERROR,
            subject,
            f"two hinges stand {nearest:.1f} mm apart and want {least:.1f} mm; make the door "
            "higher, take smaller hinges or hang it by one",
            (nearest, least),
        )
    ]


def _cup_findings(subject: str, hinge: CupHinge, door: DoorSize) -> list[Finding]:
    found: list[Finding] = []
    behind = door.thick - hinge.cup_depth
    if behind < BEHIND_CUP:
        found.append(
            _finding(
                "fitting.cup_depth",
                Severity.ERROR,
                subject,
                f"a cup {hinge.cup_depth:.1f} mm deep leaves {behind:.1f} mm of a door "
                f"{door.thick:.1f} mm thick; take a shallower cup or a thicker door",
                (behind, BEHIND_CUP),
            )
        )
    least, most = CUP_EDGE
    if not least <= hinge.cup_edge <= most:
        limit = least if hinge.cup_edge < least else most
        found.append(
            _finding(
                "fitting.cup_edge",
                Severity.WARNING,
                subject,
                f"the cup's edge is {hinge.cup_edge:.1f} mm from the door's; keep to {least:.0f} "
                f"to {most:.0f} mm",
                (hinge.cup_edge, limit),
                source=CATALOGUE,
            )
        )
    return found


def _finding(
    code: str,
    severity: Severity,
    subject: str,
    message: str,
    numbers: tuple[float, float],
    *,
    source: str = COMMON_PRACTICE,
) -> Finding:
    return Finding(
        code=code,
        severity=severity,
        subject=subject,
        message=message,
        value=numbers[0],
        limit=numbers[1],
        unit="mm",
        source=source,
    )
