"""With what care a cut is made: where it is dangerous, in plain words, the manual always named."""

from planning.machines import SAWN, Tool
from planning.saw.settings import Keeps, Lean
from planning.saw.ways import Way

MANUAL = "Your machine's manual and your local rules come first."

SMALL = 300.0
"""A piece shorter than this is held by a clamp, not by a hand (mm). Common practice, no source."""

THIN_STRIP = 25.0
"""A strip narrower than this between fence and blade is pushed with a stick (mm). Common practice,
no source."""

CARE = {
    Tool.GAUGE: "A cut that does not go through takes the guard off: both hands stay on the gauge.",
    Tool.BAND_SAW: "Push with a block and keep both thumbs beside the blade, never before it.",
    Tool.DADO: (
        "The stack is covered by the piece and runs out behind it: use push blocks, keep the piece"
        " down all the way, no hand over the cut."
    ),
    Tool.ROUTER_TABLE: (
        "Feed against the turn of the cutter, never between cutter and fence; a deep cut in several"
        " passes."
    ),
    Tool.ROUTER: (
        "Clamp the piece and the guide; move against the turn of the cutter; a deep cut in several"
        " passes."
    ),
    Tool.DRILL_PRESS: "A bit that grabs turns the piece: clamp it, or stand it against the column.",
    Tool.DRILL: "Clamp the piece; a bit that grabs turns it.",
    Tool.MORTISER: "Clamp the piece; hold the machine down on the face until the cutter stands.",
    Tool.HAND_SAW: "Clamp the piece; both hands stay behind the chisel's edge.",
    Tool.PLANER: "Push blocks over the cutters; stand beside the piece, not behind it.",
}
"""What to mind at each tool. Common practice, no source."""


def for_tool(tool: Tool, long: float) -> tuple[str, ...]:
    """Cautions for work that no through cut of a saw does, on a piece so long (mm)."""
    found = [CARE[tool]] if tool in CARE else []
    if long < SMALL and tool in {Tool.GAUGE, Tool.DADO, Tool.ROUTER_TABLE}:
        found.append(
            f"A piece of {long:.0f} mm is small: hold it in a carrier, or clamp it to a longer one."
        )
    return (*found, MANUAL)


def cautions(way: Way, long: float) -> tuple[str, ...]:
    """Where this cut is dangerous, in plain words."""
    if way.tool not in SAWN:
        return ()
    found = [*by_size(way, long), *by_blade(way)]
    if way.wedge is not None:
        found.append(
            "The wedge is only held by tape: press it home, screw or clamp a batten behind it, and"
            " stop the saw before anything is moved; or mark the line, band saw outside it and"
            " plane to it by hand."
        )
    return (*found, MANUAL) if found else (MANUAL,)


def by_size(way: Way, long: float) -> list[str]:
    """Cautions about small pieces and thin strips."""
    found = []
    if long < SMALL:
        found.append(
            f"A piece of {long:.0f} mm is small: clamp it to the sled or gauge, keep both hands off"
            " it, or cut it on the band saw and plane it to the line."
        )
    if way.setting.rips and way.setting.distance < THIN_STRIP:
        found.append(
            f"Only {way.setting.distance:.1f} mm between fence and blade: two push sticks, or band"
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
