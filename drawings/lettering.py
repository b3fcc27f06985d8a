"""How wide lines of text come out, and numbers as a drawing writes them.

Texts of records are plain: a fraction is written ``23-5/8``, a diameter sign U+2300, a degree
sign U+00B0; exporters turn them into stacks and codes of their format.
"""

import math
import re
from functools import lru_cache

from drawings.records import Align, Text
from ground.quantities import Units, angle_text, length_text, rise_in_100
from models.parts.views import Point

DIAMETER = "\N{DIAMETER SIGN}"
TIMES = "×"
DEGREE = "\N{DEGREE SIGN}"

FRACTION = re.compile(
    r"(?P<whole>\d+)-(?P<top>\d+)/(?P<under>\d+)"
    r"|(?<!no\. )(?<!door )(?<!drawer )(?<!shelf )(?<![\d/])(?P<t>\d+)/(?P<u>\d+)(?![\d/])"
)
"""A mixed number or a bare fraction in a text; ``drawer 1/2`` is none, nor is ``no. 1/2``."""

STACKED = 0.65
"""Height of a stacked fraction's figures to the text's."""

_NARROW, _WIDE, _CAPITAL, _PLAIN = 0.42, 1.25, 1.0, 0.82
"""Widths in letter heights, set generously for the common sans-serif faces: measured on two."""


@lru_cache(maxsize=4096)
def text_width(text: str, height: float) -> float:
    """How much room a line of text takes at most (mm); fractions stacked."""

    def stack(found: re.Match[str]) -> str:
        whole = f"{found['whole']} " if found["whole"] else ""
        top, under = found["top"] or found["t"], found["under"] or found["u"]
        return whole + "0" * max(1, round(max(len(top), len(under)) * STACKED + 0.4))

    return height * sum(map(_width, FRACTION.sub(stack, text)))


def _width(letter: str) -> float:
    if letter in "iljtfr.,:;'|!()[] -":
        return _NARROW
    if letter in "mwMW@%—":
        return _WIDE
    return _CAPITAL if letter.isupper() else _PLAIN


def pitch(units: Units, height: float) -> float:
    """Base line to base line: ISO 3098 asks 1.5 h for type B; stacked fractions need 2.2."""
    return height * (1.6 if units is Units.MM else 2.2)


def size(mm: float, units: Units) -> str:
    """A length as a dimension says it: millimetres bare, inches with their sign."""
    text = length_text(mm, units)
    return text if units is Units.MM else f'{text}"'


def slope_text(degrees: float) -> str:
    """An angle from square two ways: ``17.0°, rise 30.6 in 100``."""
    angle = f"{angle_text(degrees)}{DEGREE}"
    if degrees > 80:  # noqa: PLR2004 - the rise of a nearly level cut says nothing at the bench
        return angle
    return f"{angle}, rise {rise_in_100(degrees):.1f} in 100"


def slant_text(degrees: float) -> str:
    """How far a tool stands off square to a face; what lies nearer to the face counts from it."""
    if degrees > 45.0:  # noqa: PLR2004 - half way
        return f"{slope_text(90.0 - degrees)} from the face"
    return f"{slope_text(degrees)} from square"


ROOMY = 0.35
"""A line with so much of it left over takes the beginning of the next phrase."""


@lru_cache(maxsize=1024)
def wrapped(text: str, wide: float, height: float) -> tuple[str, ...]:
    """A text in lines of ``wide`` at most, broken after commas and else between words."""
    lines: list[str] = []
    for piece in re.split(r"(?<=,) ", text):
        longer = f"{lines[-1]} {piece}" if lines else piece
        if lines and text_width(longer, height) <= wide:
            lines[-1] = longer
            continue
        line = lines.pop() if lines and text_width(lines[-1], height) < wide * (1 - ROOMY) else ""
        for word in piece.split(" "):
            wider = f"{line} {word}".strip()
            if line and text_width(wider, height) > wide:
                lines.append(line)
                line = word
            else:
                line = wider
        lines.append(line)
    return tuple(lines)


def text_box(text: Text) -> tuple[Point, Point]:
    """The rectangle that a line of text may cover on the sheet (mm), descenders included."""
    long = text_width(text.text, text.height)
    stacks = FRACTION.search(text.text) is not None
    below, above = text.height * (0.45 if stacks else 0.3), text.height * (1.4 if stacks else 1.1)
    start = {Align.LEFT: 0.0, Align.CENTRE: -long / 2, Align.RIGHT: -long}[text.align]
    turn = math.radians(text.turned)
    along, across = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    corners = [
        (
            text.at[0] + a * along[0] + b * across[0],
            text.at[1] + a * along[1] + b * across[1],
        )
        for a in (start, start + long)
        for b in (-below, above)
    ]
    us, vs = [c[0] for c in corners], [c[1] for c in corners]
    return (min(us), min(vs)), (max(us), max(vs))
