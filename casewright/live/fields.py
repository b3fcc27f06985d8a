"""The numbers of a spec as fields: where each stands in the text, and one of them put anew.

A number is put in the place of its own characters and nothing else: comments, order, spacing and
line ends stay. The text is read back before it counts; what would change anything else is refused.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from ground import quantities
from ground.errors import Path, WorkError, spoken
from ground.quantities import Units, shown
from specs.marks import Span
from specs.tree import Scanned, Tree, scanned

LONGEST = 40
"""Characters of a number at most."""

MAIN = ("case", "base", "inside", "loads")
"""Groups of keys whose numbers are the piece; the others are about wood, fittings and machines."""

NO_NUMBERS = frozenset({"format", "name", "revision", "by", "date", "opening", "note", "client"})
"""Keys whose value is no number even where it looks like one."""

QUOTES = "'\""

GONE = "is not in the file any more; nothing was written"


class FieldError(WorkError):
    """A number cannot be put where it was asked for."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{spoken(path)}: {why}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One number of the text: where it stands, what it is called, how it is written."""

    path: Path
    words: str
    group: str
    text: str
    line: int
    main: bool
    comment: str


def fields(text: str) -> tuple[Field, ...]:
    """Every number of a spec, in the order of its text; none where it cannot be read."""
    found = scanned(text)
    if not found.usable:
        return ()
    lines = text.splitlines()
    units = units_of(found.root)
    return tuple(
        Field(
            path=path,
            words=spoken(path[1:]) if len(path) > 1 else str(path[0]),
            group=str(path[0]),
            text=value,
            line=found.marks.place(path)[0],
            main=path[0] in MAIN,
            comment=comment(lines, found.marks.place(path)[0]),
        )
        for path, value in scalars(found.root, ())
        if path and is_number(path, value, units)
    )


def scalars(tree: Tree, path: Path) -> Iterator[tuple[Path, str]]:
    """Every scalar below ``path``."""
    match tree:
        case str():
            yield path, tree
        case list():
            for place, inner in enumerate(tree):
                yield from scalars(inner, (*path, place))
        case dict():
            for key, inner in tree.items():
                yield from scalars(inner, (*path, key))


def units_of(root: Tree) -> Units:
    """The units of a text, millimetres where it does not say."""
    said = root.get("units") if isinstance(root, dict) else None
    return Units.INCH if said == Units.INCH.value else Units.MM


def is_number(path: Path, value: str, units: Units) -> bool:
    """Tell whether a scalar is a number of some sort, a length, a share, an angle."""
    key = next((step for step in reversed(path) if isinstance(step, str)), None)
    if key is None or key in NO_NUMBERS:
        return False
    return value.strip().lstrip("-.")[:1].isdecimal() and reads(value, units)


def reads(value: str, units: Units) -> bool:
    """Tell whether ``value`` can be read as any sort of number."""
    readers: tuple[Callable[[str], object], ...] = (
        lambda text: quantities.length(text, units),
        lambda text: quantities.share(text) or quantities.angle(text),
        quantities.slope,
        quantities.mass,
        quantities.force,
        quantities.temperature,
        quantities.percent,
        quantities.number,
    )
    return any(does(reader, value) for reader in readers)


def does(reader: Callable[[str], object], value: str) -> bool:
    """Tell whether ``reader`` takes ``value``."""
    try:
        reader(value)
    except (ValueError, ZeroDivisionError):
        return False
    return True


def comment(lines: list[str], line: int) -> str:
    """What the maker noted at the end of a line; nothing where there is no note."""
    if line > len(lines):
        return ""
    _, mark, note = lines[line - 1].partition(" #")
    return note.strip() if mark else ""


def with_number(text: str, path: Path, before: str, after: str) -> str:
    """The text with one number put anew; ``before`` is what it was when it was shown.

    Raises:
        FieldError: there is no such number, it is another by now, or it cannot be written there.
    """
    body = text.removeprefix("\ufeff")
    known = scanned(body)
    was = value_at(known.root, path)
    if not known.usable or was is None or path not in known.marks.spans:
        raise FieldError(path, GONE)
    if was != before:
        raise FieldError(path, f"is {shown(was)} in the file by now; nothing was written")
    wanted = checked(path, after, units_of(known.root))
    span = known.marks.spans[path]
    changed = written(body, span, wanted)
    if not only(known, scanned(changed), path, wanted):
        raise FieldError(path, f"{shown(wanted)} cannot stand there in YAML")
    return text[: len(text) - len(body)] + changed


def checked(path: Path, after: str, units: Units) -> str:
    """The new number without spaces round it.

    Raises:
        FieldError: it is no number.
    """
    wanted = after.strip()
    if len(wanted) > LONGEST or not wanted.isprintable() or not reads(wanted, units):
        example = "23-5/8" if units is Units.INCH else "520"
        raise FieldError(path, f"{shown(wanted)} is not a number; write one, such as {example}")
    return wanted


def written(text: str, span: Span, wanted: str) -> str:
    """The text with the characters of ``span`` anew, in the quotes that they had."""
    start, end = span
    token = text[start:end]
    quote = token[:1] if token[:1] in QUOTES and token[:1] == token[-1:] else ""
    if quote == "'":
        wanted = wanted.replace("'", "''")
    elif quote:
        wanted = wanted.replace("\\", "\\\\").replace('"', '\\"')
    return f"{text[:start]}{quote}{wanted}{quote}{text[end:]}"


def value_at(tree: Tree, path: Path) -> str | None:
    """The scalar at ``path``, None where there is none."""
    here: Tree = tree
    for step in path:
        match here, step:
            case dict(), str() if step in here:
                here = here[step]
            case list(), int() if 0 <= step < len(here):
                here = here[step]
            case _:
                return None
    return here if isinstance(here, str) else None


def only(before: Scanned, after: Scanned, path: Path, wanted: str) -> bool:
    """Tell whether two texts differ in the one value at ``path``, which is ``wanted`` now."""
    if not after.usable or len(after.problems) != len(before.problems):
        return False
    now = dict(scalars(after.root, ()))
    return now.pop(path, None) == wanted and now == {
        where: value for where, value in scalars(before.root, ()) if where != path
    }
