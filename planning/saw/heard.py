"""What a maker says was really set or measured, read from a few words."""

import re
from dataclasses import dataclass

from ground.errors import WorkError
from ground.quantities import Units, length

NUMBER = r"(\d+(?:\.\d+)?)"
NUMBER_TEXT = r"(\d[\d ./-]*(?:\s*(?:mm|cm|in|\"))?)"
DEGREES = r"(?:\s*(?:degrees?|deg|°))"

TILT = re.compile(
    rf"(?:(?:blade|tilt(?:ed)?)(?: at)? )?{NUMBER}{DEGREES}|(?:blade|tilt)(?: at)? {NUMBER}"
)
MITRE = re.compile(rf"(?:mitre|gauge)(?: at)? {NUMBER}{DEGREES}?")
SIZES = {
    "depth": re.compile(rf"{NUMBER_TEXT} deep|depth(?: at)? {NUMBER_TEXT}"),
    "width": re.compile(
        rf"{NUMBER_TEXT} (?:wide|bit)|(?:width|diameter|bit)(?: at)? {NUMBER_TEXT}"
    ),
    "long": re.compile(rf"{NUMBER_TEXT} long|length(?: at)? {NUMBER_TEXT}"),
    "thick": re.compile(rf"{NUMBER_TEXT} thick|thickness(?: at)? {NUMBER_TEXT}"),
    "radius": re.compile(rf"{NUMBER_TEXT} round|radius(?: at)? {NUMBER_TEXT}"),
}
LEADS = re.compile(r"^(?:came out|measures|measured|is|went|drilled|cut) ")
THROUGH = re.compile(r"(?:right |all the way |clean )?through")
NO_HELP = re.compile(r"(?:no|without(?: the| a)?) (?:wedge|sled)|along the fence")
DISTANCE = re.compile(r"(fence|stop|distance)(?: at)? (.+)")
MEASURED = re.compile(
    r"(?:came out|measures|measured|is) (.+?) (?:at|on|where|across) (?:the )?(.+)"
)

EXAMPLES = (
    "'5 degrees', 'mitre 9', 'no wedge', 'fence at 57', 'stop at 40', 'came out 53.6 at the foot',"
    " '12 deep', 'through', '9 bit', '57 wide', several of them with commas"
)


SAME = 0.05
"""Less than a rule shows (mm)."""


class WhatIfError(WorkError):
    """The question cannot be answered for this step; the message says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What differs from the set-up: angles in degrees, lengths in mm; None where it was right.

    ``distance`` is from the fence, ``stop`` from the stop. ``measured`` are lengths with the words
    for the place; ``no_help``: run along the fence without sled or wedge; ``through``: the cutter
    came out on the other side. ``width`` is a groove's, a bit's or a board's.
    """

    tilt: float | None = None
    mitre: float | None = None
    distance: float | None = None
    stop: float | None = None
    depth: float | None = None
    width: float | None = None
    long: float | None = None
    thick: float | None = None
    radius: float | None = None
    through: bool = False
    no_help: bool = False
    measured: tuple[tuple[float, str], ...] = ()


def heard(text: str, units: Units) -> Said:
    """Read ``text``.

    Raises:
        ValueError: something in it is not understood.
    """
    numbers: dict[str, float] = {}
    measured: list[tuple[float, str]] = []
    no_help = through = False
    for clause in (" ".join(bit.lower().split()) for bit in text.split(",")):
        if NO_HELP.fullmatch(clause):
            no_help = True
        elif THROUGH.fullmatch(LEADS.sub("", clause)):
            through = True
        elif found := MEASURED.fullmatch(clause):
            measured.append((length(found[1], units), found[2]))
        elif clause:
            numbers |= setting_said(clause, units)
    if not numbers and not no_help and not through and not measured:
        message = f"nothing is said in {text!r}; write {EXAMPLES}"
        raise ValueError(message)
    return Said(
        tilt=numbers.get("tilt"),
        mitre=numbers.get("mitre"),
        distance=numbers.get("distance"),
        stop=numbers.get("stop"),
        depth=numbers.get("depth"),
        width=numbers.get("width"),
        long=numbers.get("long"),
        thick=numbers.get("thick"),
        radius=numbers.get("radius"),
        through=through,
        no_help=no_help,
        measured=tuple(measured),
    )


def setting_said(clause: str, units: Units) -> dict[str, float]:
    """One setting or one size.

    Raises:
        ValueError: it is none.
    """
    if found := MITRE.fullmatch(clause):
        return {"mitre": float(found[1])}
    if found := TILT.fullmatch(clause):
        return {"tilt": float(found[1] or found[2])}
    if found := DISTANCE.fullmatch(clause):
        return {"stop" if found[1] == "stop" else "distance": length(found[2], units)}
    for name, pattern in SIZES.items():
        if found := pattern.fullmatch(LEADS.sub("", clause)):
            return {name: length((found[1] or found[2]).strip(), units)}
    message = f"cannot tell what {clause!r} means; write {EXAMPLES}"
    raise ValueError(message)
