"""The tree of groups that the copies of a piece stand in, as every 3D file shows it."""

from collections.abc import Collection
from dataclasses import dataclass

from models.parts.assembly import Assembly, Copy


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """A named group: the groups inside it, then the copies that stand in it directly.

    ``path`` is the names from the outermost group down to this one, empty for the whole piece.
    """

    name: str
    path: tuple[str, ...]
    groups: tuple["Group", ...]
    copies: tuple[Copy, ...]


def tree(assembly: Assembly, labels: Collection[str]) -> Group:
    """Every copy of the parts in ``labels`` under its groups, in the order of the assembly."""
    copies = [copy for copy in assembly.copies if copy.label in labels]
    return _group(assembly.name, (), copies)


def _group(name: str, path: tuple[str, ...], copies: list[Copy]) -> Group:
    deep = len(path)
    inner: dict[str, list[Copy]] = {}
    for copy in copies:
        if len(copy.group) > deep:
            inner.setdefault(copy.group[deep], []).append(copy)
    return Group(
        name=name,
        path=path,
        groups=tuple(_group(key, (*path, key), held) for key, held in inner.items()),
        copies=tuple(copy for copy in copies if len(copy.group) == deep),
    )


def title(label: str, name: str) -> str:
    """What a part is called in a 3D file: its label, then its name."""
    return f"{label} {name}".strip()
