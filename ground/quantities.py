"""Numbers as a maker writes them, read and printed: mm, degrees, kg, N, deg C inside, text outside.

Readers take text and raise ``ValueError`` with one sentence that says what is wrong and what would
be right. Printers never lose more than half a step (0.1 mm, 1/64 in).
"""

import math
import re
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

from ground.tolerances import LENGTH_EPS

MM_PER_INCH = 25.4
"""Exact by definition: International yard and pound agreement of 1959."""

MM_PER_FOOT = 304.8
"""Twelve inches."""

KG_PER_POUND = 0.45359237
"""Exact by definition: International yard and pound agreement of 1959."""

N_PER_POUND_FORCE = 4.4482216152605
"""A pound times standard gravity 9.80665 m/s2, exact by definition."""

LONGEST = 100_000.0
"""No length of a piece reaches 100 m (mm)."""

LARGEST = 1e9
"""No mass, force, price or count of a piece reaches this."""

SHOWN = 60
"""Characters of somebody's text that a message repeats."""


class Units(StrEnum):
    """How bare numbers of a spec are read and sizes are printed."""

    MM = "mm"
    INCH = "in"


class Rounding(StrEnum):
    """Which way a printed length may differ from the real one."""

    NEAREST = "nearest"
    DOWN = "down"
    """For what must go in: a front is never printed larger than it is."""
    UP = "up"


@dataclass(frozen=True, slots=True)
class Share:
    """So many equal shares of what the fixed sizes leave."""

    parts: float = 1.0


@dataclass(frozen=True, slots=True)
class Slope:
    """A slope as a ratio: ``1:7`` is one across for seven along, ratio 1/7."""

    ratio: float

    @property
    def angle(self) -> float:
        """The slope as an angle from the line that it leaves (degrees)."""
        return math.degrees(math.atan(self.ratio))

    def __str__(self) -> str:
        return f"1:{1 / self.ratio:.6g}"


_NUMBER = re.compile(
    r"(?P<sign>-)?\s*"
    r"(?:(?:(?P<whole>\d+)(?:-|\s+))?(?P<top>\d+)/(?P<under>\d+)|(?P<decimal>\d+(?:\.\d*)?|\.\d+))",
    re.ASCII,
)

_LENGTH_UNITS = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    '"': MM_PER_INCH,
    "″": MM_PER_INCH,
    "ft": MM_PER_FOOT,
    "foot": MM_PER_FOOT,
    "feet": MM_PER_FOOT,
    "'": MM_PER_FOOT,
    "′": MM_PER_FOOT,
}
_ANGLE_UNITS = {"": 1.0, "deg": 1.0, "degree": 1.0, "degrees": 1.0, "°": 1.0}
_MASS_UNITS = {"": 1.0, "kg": 1.0, "g": 0.001, "lb": KG_PER_POUND, "lbs": KG_PER_POUND}
_FORCE_UNITS = {"": 1.0, "N": 1.0, "kN": 1000.0, "lbf": N_PER_POUND_FORCE}
_PERCENT_UNITS = {"": 1.0, "%": 1.0}
_CELSIUS_UNITS = {"": 1.0, "C": 1.0, "°C": 1.0, "deg C": 1.0}
_NO_UNITS = {"": 1.0}

_LENGTH_EXAMPLES = {Units.MM: "19, '19 mm' or '3/4 in'", Units.INCH: "3/4, '3/4 in' or '19 mm'"}
_FEET_AND_INCHES = re.compile(r"(?P<feet>\d+)\s*(?:'|′|ft\b)[\s-]*(?P<inches>\d.*)", re.ASCII)


def shown(text: str) -> str:
    """Quote somebody's text for a message: one line, nothing unprintable, cut at 60 characters."""
    cut = text if len(text) <= SHOWN else text[: SHOWN - 3] + "..."
    plain = "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii")
        for sign in cut
    )
    return f"'{plain if len(plain) <= SHOWN else plain[: SHOWN - 3] + '...'}'"


def _unreadable(text: str, what: str, examples: str) -> ValueError:
    if not text.strip():
        return ValueError(f"nothing is written where {what} belongs; write {examples}")
    return ValueError(f"cannot read {shown(text)} as {what}; write {examples}")


def _split(text: str) -> tuple[Fraction, str] | None:
    """Read a number and the unit after it; None where there is no number.

    Raises:
        ZeroDivisionError: a fraction over nothing.
    """
    stripped = text.strip()
    match = _NUMBER.match(stripped)
    if match is None or len(match[0]) > SHOWN:
        return None
    if match["decimal"] is not None:
        number = Fraction("0" + match["decimal"])
    else:
        number = Fraction(int(match["top"]), int(match["under"])) + int(match["whole"] or 0)
    return (-number if match["sign"] else number), stripped[match.end() :].strip()


def _quantity(text: str, units: dict[str, float], what: str, examples: str) -> float:
    """Read a number with one of ``units``; the unit ``""`` stands for no unit written."""
    try:
        found = _split(text)
    except ZeroDivisionError:
        message = f"{shown(text)} divides by zero; write {examples}"
        raise ValueError(message) from None
    if found is None or found[1] not in units:
        raise _unreadable(text, what, examples)
    number, unit = found
    if abs(number) > LARGEST:
        message = f"{shown(text)} is too large to be {what}; write {examples}"
        raise ValueError(message)
    return float(number * Fraction(str(units[unit])))  # 3/4 in is 19.05, not 19.049999999999997


def length(text: str, units: Units) -> float:
    """Read a length in mm: ``19``, ``2-1/4``, ``23 5/8``, ``18 mm``, ``3/4 in``, ``5' 6"``.

    A bare number is in ``units``. It may be negative or nothing; the caller knows what fits.

    Raises:
        ValueError: no length, over nothing, or over 100 m.
    """
    examples = _LENGTH_EXAMPLES[units]
    table = {"": _LENGTH_UNITS[units.value], **_LENGTH_UNITS}
    both = _FEET_AND_INCHES.fullmatch(text.strip())
    if both is not None and len(both["feet"]) <= len(str(int(LONGEST))):
        feet = int(both["feet"]) * _LENGTH_UNITS["ft"]
        inches = {unit: size for unit, size in _LENGTH_UNITS.items() if size == MM_PER_INCH}
        value = feet + _quantity(
            both["inches"], {"": MM_PER_INCH, **inches}, "a length", "5' 6\" or 66 in"
        )
    else:
        value = _quantity(text, table, "a length", examples)
    if abs(value) > LONGEST:
        message = f"{shown(text)} is longer than 100 m; write {examples}"
        raise ValueError(message)
    return value


def angle(text: str) -> float:
    """Read an angle in degrees: ``9``, ``9.5 deg``.

    Raises:
        ValueError: no angle, or a whole turn and more.
    """
    value = _quantity(text, _ANGLE_UNITS, "an angle", "9 or '9 deg'")
    if abs(value) >= 360:  # noqa: PLR2004 - a whole turn
        message = f"{shown(text)} is a whole turn or more; write degrees, such as 9"
        raise ValueError(message)
    return value


def slope(text: str) -> Slope:
    """Read a slope: ``1:7``, or an angle with its unit, ``8 deg``.

    Raises:
        ValueError: no slope, or one that is flat or steeper than 1:1.
    """
    examples = "1:7 or '8 deg'"
    if ":" in text:
        across, along = (
            _quantity(side, _NO_UNITS, "a slope", examples) for side in text.split(":", 1)
        )
        ratio = across / along if along else math.inf
    else:
        if text.strip().replace(".", "", 1).isdecimal():  # a bare 8 may be 1:8 or 8 degrees
            raise _unreadable(text, "a slope", examples)
        ratio = math.tan(math.radians(_quantity(text, _ANGLE_UNITS, "a slope", examples)))
    if not 0.01 <= ratio <= 1:  # noqa: PLR2004
        message = f"{shown(text)} is not between 1:100 and 1:1; write {examples}"
        raise ValueError(message)
    return Slope(ratio)


def mass(text: str) -> float:
    """Read a mass in kg: ``30``, ``30 kg``, ``66 lb``.

    Raises:
        ValueError: no mass.
    """
    return _quantity(text, _MASS_UNITS, "a mass", "30, '30 kg' or '66 lb'")


def force(text: str) -> float:
    """Read a force in N: ``400``, ``400 N``, ``90 lbf``.

    Raises:
        ValueError: no force.
    """
    return _quantity(text, _FORCE_UNITS, "a force", "400, '400 N' or '90 lbf'")


def temperature(text: str) -> float:
    """Read a temperature in deg C: ``21``, ``21 C``, ``70 F``.

    Raises:
        ValueError: no temperature, or one that no workshop has (under -50 or over 100 deg C).
    """
    examples = "21, '21 C' or '70 F'"
    fahrenheit = re.fullmatch(r"(.*?)\s*(?:°|deg)?\s*F\s*", text, re.DOTALL)
    if fahrenheit is not None:
        value = (_quantity(fahrenheit[1], _NO_UNITS, "a temperature", examples) - 32) / 1.8
    else:
        value = _quantity(text, _CELSIUS_UNITS, "a temperature", examples)
    if not -50 <= value <= 100:  # noqa: PLR2004 - wider than any room
        message = f"{shown(text)} is no temperature of a room; write {examples}"
        raise ValueError(message)
    return value


def percent(text: str) -> float:
    """Read a share of a hundred: ``8``, ``8 %``.

    Raises:
        ValueError: no number, or not from 0 to 100.
    """
    value = _quantity(text, _PERCENT_UNITS, "a percentage", "8 or '8 %'")
    if not 0 <= value <= 100:  # noqa: PLR2004
        message = f"{shown(text)} is not from 0 to 100; write a percentage, such as 8"
        raise ValueError(message)
    return value


def number(text: str) -> float:
    """Read a bare number.

    Raises:
        ValueError: no number.
    """
    return _quantity(text, _NO_UNITS, "a number", "850")


def money(text: str) -> Decimal:
    """Read a sum of money, without a sign of its currency.

    Raises:
        ValueError: no sum, or a negative one.
    """
    bare = text.strip()
    if not re.fullmatch(r"\d{1,9}(\.\d{1,4})?", bare, re.ASCII):
        raise _unreadable(text, "a price", "97 or 9.50")
    return Decimal(bare)


def count(text: str) -> int:
    """Read a whole number.

    Raises:
        ValueError: no whole number, or over a thousand.
    """
    bare = text.strip()
    if not re.fullmatch(r"\d{1,9}", bare, re.ASCII):
        raise _unreadable(text, "a whole number", "2")
    if int(bare) > 1000:  # noqa: PLR2004
        message = f"{shown(text)} is more than 1000; write a smaller number"
        raise ValueError(message)
    return int(bare)


def share(text: str) -> Share | None:
    """Read ``1 share`` or ``1.5 shares``; None where the text speaks of no share.

    Raises:
        ValueError: shares of nothing, or no number before them.
    """
    match = re.fullmatch(r"\s*(.*?)\s*shares?\s*", text, re.DOTALL)
    if match is None:
        return None
    parts = _quantity(match[1], _NO_UNITS, "a number of shares", "'1 share' or '1.5 shares'")
    if not 0.001 <= parts <= 1000:  # noqa: PLR2004
        message = f"{shown(text)} is not from 0.001 to 1000 shares; write '1 share'"
        raise ValueError(message)
    return Share(parts)


# --- and back ---------------------------------------------------------------------------------

_STEP = {Units.MM: 0.1, Units.INCH: MM_PER_INCH / 64}
"""The finest that a maker reads off a rule (mm): 0.1 mm, 1/64 in."""


def step(units: Units) -> float:
    """The step that printed lengths are rounded to (mm)."""
    return _STEP[units]


def _steps(mm: float, units: Units, rounding: Rounding) -> int:
    """``mm`` in whole steps; a length within 1e-6 mm of a step is on it."""
    exact = mm / _STEP[units]
    slack = LENGTH_EPS / _STEP[units]
    match rounding:
        case Rounding.NEAREST:
            return math.floor(exact + 0.5 + slack)
        case Rounding.DOWN:
            return math.floor(exact + slack)
        case Rounding.UP:
            return math.ceil(exact - slack)


def length_text(mm: float, units: Units, *, rounding: Rounding = Rounding.NEAREST) -> str:
    """Print a length without its unit: ``412.8`` to 0.1 mm, or ``23-5/8`` to 1/64 in."""
    steps = _steps(mm, units, rounding)
    sign, steps = ("-", -steps) if steps < 0 else ("", steps)
    if units is Units.MM:
        whole, tenth = divmod(steps, 10)
        return f"{sign}{whole}.{tenth}" if tenth else f"{sign}{whole}"
    whole, rest = divmod(steps, 64)
    fraction = Fraction(rest, 64)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole}-{fraction}" if whole else f"{sign}{fraction}"


def length_with_unit(mm: float, units: Units, *, rounding: Rounding = Rounding.NEAREST) -> str:
    """Print a length with its unit: ``412.8 mm``, ``23-5/8 in``."""
    return f"{length_text(mm, units, rounding=rounding)} {units.value}"


def _decimal_text(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def angle_text(degrees: float) -> str:
    """Print an angle to 0.1 degree: ``17.0``."""
    return _decimal_text(degrees, 1)


STEEP = 80.0
"""Beyond this the rise in 100 says nothing at the bench (degrees)."""


def rise_in_100(degrees: float) -> float:
    """The rise over a run of 100 that an angle from the level has: 17 degrees is 30.6."""
    return 100 * math.tan(math.radians(degrees))


def mass_text(kg: float, units: Units) -> str:
    """Print a mass: ``12.3 kg``, and in an inch piece ``27.1 lb``."""
    if units is Units.MM:
        return f"{_decimal_text(kg, 1)} kg"
    return f"{_decimal_text(kg / KG_PER_POUND, 1)} lb"


def force_text(newtons: float, units: Units) -> str:
    """Print a force: ``400 N``, and in an inch piece ``90 lbf``."""
    if units is Units.MM:
        return f"{_decimal_text(newtons, 0)} N"
    return f"{_decimal_text(newtons / N_PER_POUND_FORCE, 0)} lbf"


def temperature_text(celsius: float, units: Units) -> str:
    """Print a temperature: ``21 C``, and in an inch piece ``70 F``."""
    if units is Units.MM:
        return f"{_decimal_text(celsius, 0)} C"
    return f"{_decimal_text(celsius * 1.8 + 32, 0)} F"
