"""The words of a complaint: what stands in the spec, and what would be right."""

import difflib
import re
from collections.abc import Iterable

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails, InitErrorDetails, PydanticCustomError

from ground.quantities import shown

UNKNOWN_KEY = "unknown_key"
"""Type of the complaint whose place is the key's, not the value's."""

MEANT = "meant"
"""Type of the complaint about a misspelt kind; its context says which kind was meant."""

_FAULT = "fault"
_LISTED = 12
"""So many names are said; of a hundred, the rest is only counted."""

_CANDIDATES = 200
"""A guess looks at so many names at most."""


def fault(message: str) -> PydanticCustomError:
    """One thing that is wrong with one value."""
    return PydanticCustomError(_FAULT, "{message}", {"message": message})


def described(value: object) -> str:
    """Say what stands somewhere in a spec."""
    match value:
        case "":
            return "nothing"
        case str():
            return shown(value)
        case list() | tuple():
            return "a list"
        case dict():
            return "a group of keys"
        case _:
            return shown(str(value))


def plain(word: str) -> str:
    """A word of somebody's, on one line and cut, without quotes."""
    return shown(word)[1:-1]


def listed(names: Iterable[str]) -> str:
    """``a, b, c``, cut after twelve."""
    words = list(names)
    more = f" and {len(words) - _LISTED} more" if len(words) > _LISTED else ""
    return ", ".join(plain(word) for word in words[:_LISTED]) + more


def nearest(word: str, names: Iterable[str]) -> str | None:
    """The name that comes near ``word``, where one does."""
    folded = {name.casefold(): name for name in reversed(list(names)[:_CANDIDATES])}
    near = difflib.get_close_matches(word[:_CANDIDATES].casefold(), list(folded), n=1)
    return folded[near[0]] if near else None


def guess(word: str, names: Iterable[str]) -> str:
    """``; did you mean NAME?`` where a name comes near ``word``, else nothing."""
    near = nearest(word, names)
    return f"; did you mean {plain(near)}?" if near is not None else ""


def not_one_of(value: object, names: Iterable[str]) -> str:
    """``'rabetted' is not one of rabbeted, grooved; did you mean rabbeted?``."""
    words = list(names)
    hint = guess(value, words) if isinstance(value, str) else ""
    if len(words) == 1:
        return f"{described(value)} is not {words[0]}, the only word that fits here"
    return f"{described(value)} is not one of {listed(words)}{hint}"


def keys_of(record: type[BaseModel]) -> list[str]:
    """The keys of a section, as written in a spec."""
    return [field.alias or name for name, field in record.model_fields.items()]


def needed_keys(record: type[BaseModel]) -> list[str]:
    """The keys that a section cannot do without."""
    fields = record.model_fields.items()
    return [field.alias or name for name, field in fields if field.is_required()]


def reworded(record: type[BaseModel], error: ValidationError) -> ValidationError:
    """The same complaints about one section, each in a maker's words."""
    seen: dict[tuple[object, ...], InitErrorDetails] = {}
    for details in error.errors(include_url=False):
        if _told_by_its_entries(details):
            continue
        line = _line(record, details)
        place = (line.get("loc"), str(line["type"]))
        seen.setdefault(place, line)
    return ValidationError.from_exception_data(record.__name__, list(seen.values()))


def _told_by_its_entries(details: ErrorDetails) -> bool:
    """Tell whether a list is called too short only because its entries cannot be read."""
    if details["type"] != "too_short" or not isinstance(details["input"], list):
        return False
    return len(details["input"]) >= int(details["ctx"]["min_length"])


def _line(record: type[BaseModel], details: ErrorDetails) -> InitErrorDetails:
    loc, given = details["loc"], details["input"]
    match details["type"]:
        case "fault" | "meant" | "unknown_key" as kind:  # worded further in
            context = {**details.get("ctx", {}), "message": details["msg"]}
            error = PydanticCustomError(kind, "{message}", context)
            return InitErrorDetails(type=error, loc=loc, input=given)
        case "extra_forbidden":
            return _unknown_key(record, details)
        case "missing":
            return _missing(record, details)
        case "enum" | "literal_error":
            return _told(not_one_of(given, _quoted(details, "expected")), loc, given)
        case "union_tag_invalid":
            tag, tags = details["ctx"]["tag"], _quoted(details, "expected_tags")
            words, place = not_one_of(tag, tags), (*loc, *_quoted(details, "discriminator"))
            return _meant(words, nearest(str(tag), tags), place, given)
        case "union_tag_not_found":
            return _told(
                "the key 'kind' is missing: it says which of its kinds this is", loc, given
            )
        case _:
            return _misshapen(details)


def _misshapen(details: ErrorDetails) -> InitErrorDetails:
    """Word a complaint about something that is no list, no group of keys or no text."""
    loc, given, what = details["loc"], details["input"], described(details["input"])
    match details["type"]:
        case "tuple_type" | "list_type":
            words = f"{what} stands where a list belongs; write it in brackets, [a, b]"
        case "dict_type" | "mapping_type" | "model_type" | "model_attributes_type":
            words = f"{what} stands where a group of keys belongs; write each on its own line"
        case "too_short" | "too_long":
            limits = details["ctx"]
            least = "min_length" in limits
            wanted = (
                f"at least {limits['min_length']}" if least else f"{limits['max_length']} at most"
            )
            words = f"the list has {len(given)} entries; write {wanted}"
        case _:
            words = f"{what} does not fit here: {details['msg']}"
    return _told(words, loc, given)


def _told(message: str, loc: tuple[int | str, ...], given: object) -> InitErrorDetails:
    return InitErrorDetails(type=fault(message), loc=loc, input=given)


def _meant(
    message: str, meant: str | None, loc: tuple[int | str, ...], given: object
) -> InitErrorDetails:
    error = PydanticCustomError(MEANT, "{message}", {"message": message, "meant": meant})
    return InitErrorDetails(type=error, loc=loc, input=given)


def _quoted(details: ErrorDetails, key: str) -> list[str]:
    """The words in quotes in one entry of an error's context."""
    return re.findall(r"'([^']*)'", str(details["ctx"][key]))


def _unknown_key(record: type[BaseModel], details: ErrorDetails) -> InitErrorDetails:
    key, keys = str(details["loc"][-1]), keys_of(record)
    hint = guess(key, keys) or f"; the keys are {listed(keys)}"
    message = f"{shown(key)} is not a key here{hint}"
    error = PydanticCustomError(UNKNOWN_KEY, "{message}", {"message": message})
    return InitErrorDetails(type=error, loc=details["loc"], input=details["input"])


def _missing(record: type[BaseModel], details: ErrorDetails) -> InitErrorDetails:
    *outer, last = details["loc"]
    if isinstance(last, int):  # one of a list of fixed length
        return _told("the list is too short; write one number more", tuple(outer), details["input"])
    field = next(f for name, f in record.model_fields.items() if last in (name, f.alias))
    about = f": {field.description}" if field.description else ""
    return _told(f"the key '{last}' is missing{about}", tuple(outer), details["input"])
