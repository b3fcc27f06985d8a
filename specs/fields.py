"""The values of a spec: text on the one side, mm, degrees, kg, N and words on the other.

Every scalar arrives as text. A value that is no text (a number given in code) passes as it is.
"""

import datetime as dt
from collections.abc import Callable
from decimal import Decimal
from typing import Annotated

from pydantic import BeforeValidator, ValidationInfo, WithJsonSchema

from ground import quantities
from ground.quantities import Share, Slope, Units, shown
from specs.names import known
from specs.wording import described, fault

LONGEST_NAME = 120
"""A name longer than this fits no label (characters)."""


def _scalar(read: Callable[[str, Units], object], what: str, example: str) -> BeforeValidator:
    """A reader of one scalar; refuses lists and groups of keys in its place."""

    def validate(value: object, info: ValidationInfo) -> object:
        if isinstance(value, (list, dict)):
            message = f"{described(value)} stands where {what} belongs; write {example}"
            raise fault(message)
        if not isinstance(value, str):
            return value
        try:
            return read(value, known(info).units)
        except ValueError as error:
            raise fault(str(error)) from None

    return BeforeValidator(validate)


def _limited(
    read: Callable[[str], float], lowest: float, highest: float, limits: str
) -> Callable[[str, Units], float]:
    """``read`` within limits, both included."""

    def limited(text: str, _units: Units) -> float:
        value = read(text)
        if not lowest <= value <= highest:
            message = f"{shown(text)} is not {limits}"
            raise ValueError(message)
        return value

    return limited


def _length(text: str, units: Units) -> float:
    value = quantities.length(text, units)
    if value <= 0:
        message = f"{shown(text)} is no size; write a length of more than 0"
        raise ValueError(message)
    return value


def _offset(text: str, units: Units) -> float:
    value = quantities.length(text, units)
    if value < 0:
        message = f"{shown(text)} is less than 0; write 0 or more"
        raise ValueError(message)
    return value


def _size(text: str, units: Units) -> float | Share:
    share = quantities.share(text)
    if share is not None:
        return share
    try:
        return _length(text, units)
    except ValueError as error:
        message = (
            f"{error}, or '1 share' of what is left" if "; write" in str(error) else str(error)
        )
        raise ValueError(message) from None


def _text(text: str, _units: Units) -> str:
    bare = text.strip()
    if not bare:
        message = "nothing is written where a name belongs; write a word or two"
        raise ValueError(message)
    if len(bare) > LONGEST_NAME:
        message = f"{shown(bare)} is {len(bare)} characters long; write {LONGEST_NAME} at most"
        raise ValueError(message)
    if not bare.isprintable():
        message = f"{shown(bare)} has a character that cannot be printed; leave it out"
        raise ValueError(message)
    return bare


def _flag(text: str, _units: Units) -> bool:
    match text.strip():
        case "true":
            return True
        case "false":
            return False
        case _:
            message = f"{described(text)} is not one of true, false"
            raise ValueError(message)


def _date(text: str, _units: Units) -> dt.date:
    try:
        return dt.date.fromisoformat(text.strip())
    except ValueError:
        message = f"cannot read {shown(text)} as a date; write year-month-day, 2031-05-17"
        raise ValueError(message) from None


def _format(text: str, _units: Units) -> int:
    if text.strip() != "1":
        message = f"{described(text)} is not a format that this version reads; write format: 1"
        raise ValueError(message)
    return 1


_NUMBER_OR_TEXT = ["number", "string"]

Length = Annotated[
    float,
    _scalar(_length, "a length", "19, '19 mm' or '3/4 in'"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["19", "18 mm", "3/4 in", "2-1/4"]}),
]
"""A length over 0 (mm)."""

Offset = Annotated[
    float,
    _scalar(_offset, "a length", "0, 19, '19 mm' or '3/4 in'"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["0", "18 mm", "3/4 in"]}),
]
"""A length of 0 or more (mm)."""

Size = Annotated[
    float | Share,
    _scalar(_size, "a size", "520 or '1 share'"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["520", "1 share", "1.5 shares"]}),
]
"""A length (mm), or a share of what the lengths leave."""

Angle = Annotated[
    float,
    _scalar(
        _limited(quantities.angle, 0, 180, "from 0 to 180; write degrees"),
        "an angle",
        "9 or '9 deg'",
    ),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["9", "9 deg"]}),
]
"""An angle from 0 to 180 (degrees)."""

Lean = Annotated[
    float,
    _scalar(
        _limited(quantities.angle, 0, 45, "from 0 to 45; write degrees out of plumb"),
        "an angle",
        "9 or '9 deg'",
    ),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["9", "9 deg"]}),
]
"""How far something leans out of plumb, 0 to 45 (degrees)."""

Gradient = Annotated[
    Slope,
    _scalar(lambda text, _: quantities.slope(text), "a slope", "1:7 or '8 deg'"),
    WithJsonSchema({"type": "string", "examples": ["1:6", "1:7", "1:8", "8 deg"]}),
]
"""A slope, ``1:7`` or ``8 deg``."""

Mass = Annotated[
    float,
    _scalar(
        _limited(quantities.mass, 0, 1e5, "from 0 to 100000; write kg"),
        "a mass",
        "30, '30 kg' or '66 lb'",
    ),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["30", "66 lb"]}),
]
"""A mass of 0 or more (kg)."""

Force = Annotated[
    float,
    _scalar(
        _limited(quantities.force, 0, 1e6, "from 0 to 1000000; write newtons"),
        "a force",
        "400, '400 N' or '90 lbf'",
    ),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["400", "90 lbf"]}),
]
"""A force of 0 or more (N)."""

Temperature = Annotated[
    float,
    _scalar(lambda text, _: quantities.temperature(text), "a temperature", "21, '21 C' or '70 F'"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["21", "70 F"]}),
]
"""A temperature (deg C)."""

Percent = Annotated[
    float,
    _scalar(lambda text, _: quantities.percent(text), "a percentage", "8 or '8 %'"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["8", "8 %"]}),
]
"""A share of a hundred, 0 to 100."""

Density = Annotated[
    float,
    _scalar(
        _limited(quantities.number, 20, 3000, "from 20 to 3000; write kg in a cubic metre"),
        "a density",
        "850",
    ),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["850"]}),
]
"""Mass of a cubic metre (kg/m3)."""

Price = Annotated[
    Decimal,
    _scalar(lambda text, _: quantities.money(text), "a price", "97 or 9.50"),
    WithJsonSchema({"type": _NUMBER_OR_TEXT, "examples": ["97", "9.50"]}),
]
"""A sum of money in the spec's currency."""


def _counted(lowest: int, highest: int) -> BeforeValidator:
    limited = _limited(
        quantities.count, lowest, highest, f"from {lowest} to {highest}; write a whole number"
    )
    return _scalar(limited, "a whole number", "2")


def _count_schema(lowest: int, highest: int) -> WithJsonSchema:
    return WithJsonSchema({"type": "integer", "minimum": lowest, "maximum": highest})


Count = Annotated[int, _counted(1, 200), _count_schema(1, 200)]
"""How many, 1 to 200."""

OneOrTwo = Annotated[int, _counted(1, 2), _count_schema(1, 2)]
"""One or a pair."""

Layers = Annotated[int, _counted(1, 10), _count_schema(1, 10)]
"""Sheets glued on one another, 1 to 10."""

Flag = Annotated[bool, _scalar(_flag, "true or false", "true"), WithJsonSchema({"type": "boolean"})]
"""``true`` or ``false``."""

Text = Annotated[
    str,
    _scalar(_text, "a name", "a word or two"),
    WithJsonSchema({"type": "string", "minLength": 1, "maxLength": LONGEST_NAME}),
]
"""A line of text that can be printed."""

Date = Annotated[
    dt.date,
    _scalar(_date, "a date", "2031-05-17"),
    WithJsonSchema({"type": "string", "format": "date"}),
]
"""A day, ``2031-05-17``."""

Format = Annotated[
    int, _scalar(_format, "a format", "1"), WithJsonSchema({"const": 1, "type": "integer"})
]
"""The version of the spec language."""
