"""What a set-up says besides its numbers: why, what to try on scrap, where things fall."""

import math

from planning.machines import BY_HAND, SAWN, Tool
from planning.saw.fence import Slip
from planning.saw.records import SetUp
from planning.saw.settings import Hand, Keeps, Lean, Setting
from planning.saw.ways import Way
from specs.machines import Machines

SCRAP = 50.0
"""The check on scrap is read off a cut this long (mm)."""

SAME = 0.05
"""Less than a rule shows (mm)."""


def rise(degrees: float) -> float:
    """An angle as a rise in 100."""
    return 100.0 * math.tan(math.radians(degrees))


def angle_words(degrees: float) -> str:
    """An angle three ways: degrees and rise in 100; the template's edge is drawn elsewhere."""
    return f"{degrees:.1f} degrees ({rise(degrees):.1f} in 100)"


def first_cut(tool: Tool, made: Setting) -> str:
    """The first cut on scrap with the value that proves it."""
    checks = []
    if made.tilt > 0.0 and made.tilt_to is not None:
        off = SCRAP * math.tan(math.radians(made.tilt))
        checks.append(
            f"cut a square scrap with the blade at {angle_words(made.tilt)}: over {SCRAP:.0f} mm of"
            f" height a square stands off by {off:.1f} mm"
        )
    turned = 90.0 - made.mitre if made.from_edge else made.mitre
    if turned > 0.0 and not made.rips:
        off = SCRAP * 2 * math.tan(math.radians(turned))
        way = "along the edge" if made.from_edge else "across the board"
        checks.append(
            f"the cut runs off by {off:.1f} in {SCRAP * 2:.0f} {way} ({turned:.1f} degrees)"
        )
    if not checks:
        what = "width" if made.from_edge else "length"
        checks.append(f"cut a scrap and measure it: {what} {made.distance:.1f} mm, edges square")
    lead = "" if tool in SAWN else "on scrap: "
    return lead + "; ".join(checks)


def why_wedge(way: Way, off: tuple[Slip, ...]) -> str:
    """Why a sled or a wedge is needed, and what comes out without it."""
    if not way.setting.from_edge or (way.setting.rips and way.wedge is None):
        return ""
    held = "the wedge" if way.wedge is not None else "the sled"
    reason = f"The cut does not hold the direction of the feed, so {held} turns the piece to it."
    return f"{reason} Without it: {end_to_end(off)}" if both_ends(off) else reason


def end_to_end(off: tuple[Slip, ...]) -> str:
    """What comes out along the fence, in numbers at both ends."""
    ends = both_ends(off)
    numbers = ", ".join(
        f"{slip.got:.1f} mm instead of {slip.wanted:.1f} mm where {slip.face} meets {slip.end}"
        for slip in ends
    )
    apart = abs(ends[0].out - ends[-1].out) if len(ends) > 1 else abs(ends[0].out)
    return f"along the fence it comes out {numbers}; out by {apart:.2f} mm from end to end."


def both_ends(off: tuple[Slip, ...]) -> tuple[Slip, ...]:
    """The line that is furthest out, and the one at the other end of the same face."""
    if not off or abs(off[0].out) < SAME:
        return ()
    worst = off[0]
    others = [slip for slip in off[1:] if slip.face == worst.face and slip.end != worst.end]
    if not others:
        return (worst,)
    return (min(others, key=lambda slip: (abs(slip.out), slip.face, slip.end)), worst)


def fence_side(tool: Tool, made: Setting, machines: Machines) -> Hand | None:
    """On which side of the blade the fence stands, so that the blade leans as it can."""
    if tool not in SAWN or tool is Tool.TRACK_SAW or not made.from_edge:
        return None
    if made.tilt_to is None or tool is Tool.BAND_SAW:
        return Hand.RIGHT  # a band saw's table tilts instead
    tilts = Hand(machines.table_saw.tilts.value)
    return tilts if made.tilt_to is Lean.TOWARD else other(tilts)


def lean_side(way: Way, machines: Machines) -> Hand | None:
    """To which side the blade leans, from where the maker stands; None where none does.

    A track saw has no front, and at a band saw the table tilts.
    """
    if way.setting.tilt_to is None:
        return None
    if way.tool in {Tool.TABLE_SAW, Tool.SLED, Tool.GAUGE}:
        return Hand(machines.table_saw.tilts.value)
    if way.tool is Tool.MITRE_SAW and way.leans is not None:
        return other(way.leans)  # its fence is on the far side
    return None


def other(side: Hand) -> Hand:
    """The other hand."""
    return Hand.LEFT if side is Hand.RIGHT else Hand.RIGHT


def offcut_side(tool: Tool, made: Setting, inward: float, fence: Hand | None) -> str | None:
    """To which side of the blade the offcut falls, from where the maker stands.

    A mitre saw's fence is on the far side, and left and right change places.
    """
    if tool not in SAWN:
        return None
    at_stop = Hand.LEFT if (inward > 0) is (tool is not Tool.MITRE_SAW) else Hand.RIGHT
    kept = (fence or Hand.RIGHT) if made.from_edge else at_stop
    return (other(kept) if made.keeps is Keeps.NEAR else kept).value


def show_side(way: Way, show: str | None) -> str | None:
    """Which way the face on view looks."""
    if show is None:
        return None
    if way.tool is Tool.TRACK_SAW:
        # the rail lies on the table face of the settings, and the teeth come up through it
        return "up, under the rail" if way.table == show else "down"
    return "down" if way.table == show else "up or aside"


def faced(one: SetUp) -> str | None:
    """Which way the face lies that settings are read on; None where nothing is set."""
    if one.table_face is None:
        return None
    if one.machine is Tool.TRACK_SAW:
        return "up, under the rail"
    if one.machine in SAWN or one.machine is Tool.ROUTER_TABLE:
        return "down, on the table"
    return "up, marked on it" if one.machine in BY_HAND else "up, to the cutter"
