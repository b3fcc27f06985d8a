"""How many hinges a door wants, where they go, and what contradicts them. Plain arithmetic."""

from dataclasses import dataclass
from typing import Final

from ground.findings import COMMON_PRACTICE, Finding, Severity
from specs.hardware import CupHinge, Hinge

CATALOGUE: Final = "one hinge maker's catalogue, quick-reference page (check values 7.1)"
CHART: Final = ((1016.0, 6.8, 2), (1524.0, 13.6, 3), (2032.0, 20.4, 4), (2540.0, 27.2, 5))
"""Up to this height (mm) and mass (kg): so many hinges; the larger answer counts. Catalogue chart
(check values 7.1), guideline values only."""
FIRST_LEAST: Final = 70.0
"""The first hinge is 70 to 120 from the door's end (mm; check values 7.1, common practice)."""
FIRST_MOST: Final = 120.0
FIRST_PART: Final = 0.2
"""In a door too low for that, this part of its height. Common practice, no source."""
BEHIND_CUP: Final = 2.0
"""Least material behind a cup (mm; check values 7.1: 2 to 3)."""
CUP_EDGE: Final = (3.0, 8.0)
"""From the door's edge to the cup's (mm; catalogue, check values 7.1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DoorSize:
    """A door's ``width``, ``height`` and ``thick``ness (mm) and its ``mass`` (kg)."""

    width: float
    height: float
    thick: float
    mass: float


def hinge_count(height: float, mass: float) -> int:
    """Hinges by height (mm) and mass (kg): the larger answer; one more than the chart beyond it.

    Worked: 409 high and 1.9 kg: 2. 1200 high: 3. 900 high and 15 kg: 4.
    """
    by_height = next((count for most, _, count in CHART if height <= most), CHART[-1][2] + 1)
    by_mass = next((count for _, most, count in CHART if mass <= most), CHART[-1][2] + 1)
    return max(by_height, by_mass)


def hinge_heights(hinge: Hinge, door: DoorSize) -> tuple[float, ...]:
    """Every hinge's height above the door's lower end (mm), from below.

    The first stands ``first`` from the end, or nearer so that the hinges are further apart than the
    door is wide, but no nearer than 70. Worked: 408.8 high, 268.4 wide, first 100: half of the
    140.4 that may be lost is 70.2, less 0.5 is under 70, so 70: hinges at 70 and 338.8, 268.8
    apart.
    """
    count = hinge.count or hinge_count(door.height, door.mass)
    first = min(hinge.first, max(FIRST_LEAST, (door.height - door.width) / 2 - 0.5))
    first = min(first, max(door.height * FIRST_PART, FIRST_LEAST / 2))
    if count == 1:
        return (door.height / 2,)
    step = (door.height - 2 * first) / (count - 1)
    return tuple(first + i * step for i in range(count))


def hinge_findings(subject: str, hinge: Hinge, door: DoorSize) -> list[Finding]:
    """What contradicts the door's size, each with its number."""
    heights = hinge_heights(hinge, door)
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
    if isinstance(hinge, CupHinge):
        found += _cup_findings(subject, hinge, door)
    return found


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
