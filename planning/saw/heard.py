"""What a maker says was really set or measured, read from a few words."""

import re
from dataclasses import dataclass

from ground.quantities import Units, length

NUMBER = r"(\d+(?:\.\d+)?)"
DEGREES = r"(?:\s*(?:degrees?|deg|°))"

TILT = re.compile(
    rf"(?:(?:blade|tilt(?:ed)?)(?: at)? )?{NUMBER}{DEGREES}|(?:blade|tilt)(?: at)? {NUMBER}"
)
MITRE = re.compile(rf"(?:mitre|gauge)(?: at)? {NUMBER}{DEGREES}?")
NO_HELP = re.compile(r"(?:no|without(?: the| a)?) (?:wedge|sled)|along the fence")
DISTANCE = re.compile(r"(?:fence|stop|distance)(?: at)? (.+)")
MEASURED = re.compile(
    r"(?:came out|measures|measured|is) (.+?) (?:at|on|where|across) (?:the )?(.+)"
)

EXAMPLES = (
    "'5 degrees', 'mitre 9', 'no wedge', 'fence at 57', 'came out 53.6 at the foot',"
    " several of them with commas"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """What differs from the set-up: angles in degrees, lengths in mm; None where it was right.

    ``measured`` are lengths with the words for the place; ``no_help``: run along the fence without
    sled or wedge.
    """

    tilt: float | None = None
    mitre: float | None = None
    distance: float | None = None
    no_help: bool = False
    measured: tuple[tuple[float, str], ...] = ()


def heard(text: str, units: Units) -> Said:
    """Read ``text``.

    Raises:
        ValueError: something in it is not understood.
    """
    numbers: dict[str, float] = {}
    no_help = False
    measured: list[tuple[float, str]] = []
    for clause in (" ".join(bit.lower().split()) for bit in text.split(",")):
        if not clause:
            continue
        if NO_HELP.fullmatch(clause):
            no_help = True
        elif found := MEASURED.fullmatch(clause):
            measured.append((length(found[1], units), found[2]))
        else:
            numbers |= setting_said(clause, units)
    if not numbers and not no_help and not measured:
        message = f"nothing is said in {text!r}; write {EXAMPLES}"
        raise ValueError(message)
    return Said(
        tilt=numbers.get("tilt"),
        mitre=numbers.get("mitre"),
        distance=numbers.get("distance"),
        no_help=no_help,
        measured=tuple(measured),
    )


def setting_said(clause: str, units: Units) -> dict[str, float]:
    """One setting.

    Raises:
        ValueError: it is none.
    """
    if found := MITRE.fullmatch(clause):
        return {"mitre": float(found[1])}
    if found := TILT.fullmatch(clause):
        return {"tilt": float(found[1] or found[2])}
    if found := DISTANCE.fullmatch(clause):
        return {"distance": length(found[1], units)}
    message = f"cannot tell what {clause!r} means; write {EXAMPLES}"
    raise ValueError(message)
