"""What a set-up says besides its numbers: why, what to try on scrap, what is dangerous."""

import math

from planning.machines import SAWN, Tool
from planning.saw.fence import Slip
from planning.saw.settings import Hand, Keeps, Lean, Setting
from planning.saw.ways import Way

MANUAL = "Your machine's manual and your local rules come first."

SMALL = 300.0
"""A piece shorter than this is held by a clamp, not by a hand (mm). Common practice, no source."""

THIN_STRIP = 25.0
"""A strip narrower than this between fence and blade is pushed with a stick (mm). Common practice,
no source."""

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
            f"cut a square scrap with the blade at {angle_words(made.tilt)}: over {SCRAP:.0f} of"
            f" height a square stands off by {off:.1f}"
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
        checks.append(f"cut a scrap and measure it: {what} {made.distance:.1f}, edges square")
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
        f"{slip.got:.1f} instead of {slip.wanted:.1f} where {slip.face} meets {slip.end}"
        for slip in ends
    )
    apart = abs(ends[0].out - ends[-1].out) if len(ends) > 1 else abs(ends[0].out)
    return f"along the fence it comes out {numbers}; out by {apart:.2f} from end to end."


def both_ends(off: tuple[Slip, ...]) -> tuple[Slip, ...]:
    """The line that is furthest out, and the one at the other end of the same face."""
    if not off or abs(off[0].out) < SAME:
        return ()
    worst = off[0]
    others = [slip for slip in off[1:] if {slip.face, slip.end} & {worst.face, worst.end}]
    if not others:
        return (worst,)
    return (min(others, key=lambda slip: (abs(slip.out), slip.face, slip.end)), worst)


def cautions(way: Way, long: float) -> tuple[str, ...]:
    """Where this cut is dangerous, in plain words."""
    if way.tool not in SAWN:
        return ()
    found = [*by_size(way, long), *by_blade(way)]
    if way.wedge is not None:
        found.append(
            "The wedge is only held by tape: press it home, screw or clamp a batten behind it, and"
            " stop the saw before anything is moved."
        )
    return (*found, MANUAL) if found else (MANUAL,)


def by_size(way: Way, long: float) -> list[str]:
    """Cautions about small pieces and thin strips."""
    found = []
    if long < SMALL:
        found.append(
            f"A piece of {long:.0f} is small: clamp it to the sled or gauge and keep both hands off"
            " it, or cut it on the band saw and plane it to the line."
        )
    if way.setting.rips and way.setting.distance < THIN_STRIP:
        found.append(
            f"Only {way.setting.distance:.1f} between fence and blade: use two push sticks, or band"
            " saw and hand plane."
        )
    return found


def by_blade(way: Way) -> list[str]:
    """Cautions about what the blade frees, and what it may trap."""
    found = []
    made = way.setting
    if made.keeps is Keeps.FAR:
        found.append(
            "The cut frees a piece between fence and blade: stand aside, do not push it on, stop"
            " the saw before taking it away."
        )
    if made.tilt > 0.0 and made.tilt_to is Lean.TOWARD and made.rips:
        found.append(
            "The blade leans over the fence and can trap the offcut: use a low fence, hold the"
            " offcut down with a feather board, never reach over the blade."
        )
    if made.tilt > 0.0 and not made.from_edge and way.tool in {Tool.GAUGE, Tool.MITRE_SAW}:
        found.append("The tilted blade pulls the piece aside: clamp it to the fence.")
    return found


def offcut_side(way: Way, inward: float) -> str | None:
    """To which side of the blade the offcut falls, from where the maker stands."""
    made = way.setting
    if way.tool not in SAWN:
        return None
    if made.from_edge:
        # the fence stands on that side of the blade that lets it lean away from the fence
        fence = Hand.RIGHT
        kept = fence if made.keeps is Keeps.NEAR else Hand.LEFT
        return (Hand.LEFT if kept is Hand.RIGHT else Hand.RIGHT).value
    beyond = Hand.RIGHT if inward > 0 else Hand.LEFT
    near = Hand.LEFT if inward > 0 else Hand.RIGHT
    return (beyond if made.keeps is Keeps.NEAR else near).value


def show_side(way: Way, show: str | None) -> str | None:
    """Which way the face on view looks."""
    if show is None:
        return None
    if way.tool is Tool.TRACK_SAW:
        # the rail lies on the table face of the settings, and the teeth come up through it
        return "up, under the rail" if way.table == show else "down"
    return "down" if way.table == show else "up or aside"
