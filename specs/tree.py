"""YAML text as plain groups, lists and text, with the place of everything.

YAML 1.2 without anchors, aliases, merge keys and tags, every scalar as text. What is refused is
refused while it is being scanned: nothing is expanded, and nothing goes deeper than the limit.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    Event,
    MappingEndEvent,
    MappingStartEvent,
    NodeEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from ground.errors import Path, Problem
from ground.quantities import shown
from specs.marks import Marks, Place, Span, in_order, printable

Tree = str | list["Tree"] | dict[str, "Tree"]

DEEPEST = 40
"""A piece of furniture needs a dozen levels."""

MOST_VALUES = 20_000
"""The largest piece has some hundreds; the scanner takes about a second for these."""

_FORBIDDEN = re.compile(r"[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
"""What YAML 1.2 (section 5.1, production c-printable) does not allow."""


class _CannotGoOnError(Exception):
    """The rest of the text cannot be read; what was found so far is told."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanned:
    """What YAML text says; ``problems`` are in the file's order.

    ``usable`` is False where something was refused or could not be scanned: the root is then not
    worth checking. A key that stands twice is a problem, and the rest is usable all the same.
    """

    root: Tree
    marks: Marks
    problems: tuple[Problem, ...]
    usable: bool


@lru_cache(maxsize=2)
def scanned(text: str) -> Scanned:
    """Read YAML text; who asks for the same text again must leave what it got as it is."""
    builder = _Builder()
    root = builder.document(text)
    return Scanned(
        root=root,
        marks=Marks(values=builder.values, keys=builder.keys, spans=builder.spans),
        problems=in_order(tuple(builder.problems)),
        usable=builder.usable,
    )


def _place(event: Event) -> Place:
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1)


class _Builder:
    """Builds one tree from the events of one text."""

    def __init__(self) -> None:
        self.values: dict[Path, Place] = {}
        self.keys: dict[Path, Place] = {}
        self.spans: dict[Path, Span] = {}
        self.problems: list[Problem] = []
        self.count = 0
        self.usable = True

    def complain(self, path: Path, place: Place, message: str) -> None:
        line, column = place
        self.problems.append(
            Problem(path=printable(path), message=message, line=line, column=column)
        )

    def refuse(self, path: Path, place: Place, message: str) -> None:
        self.complain(path, place, message)
        self.usable = False

    def stop(self, path: Path, place: Place, message: str) -> _CannotGoOnError:
        self.refuse(path, place, message)
        return _CannotGoOnError()

    def document(self, text: str) -> Tree:
        bad = _FORBIDDEN.search(text)
        if bad is not None:
            before = text[: bad.start()].split("\n")
            message = f"the character U+{ord(bad[0]):04X} cannot stand in a spec; delete it"
            self.refuse((), (len(before), len(before[-1]) + 1), message)
            return {}
        events = YAML(typ="safe", pure=True).parse(text)
        try:
            return self._document(events)
        except _CannotGoOnError:
            return {}
        except MarkedYAMLError as error:
            mark = error.problem_mark or error.context_mark
            place = (mark.line + 1, mark.column + 1) if mark else (1, 1)
            self.refuse((), place, _syntax(error.problem or error.context or ""))
        except (YAMLError, ValueError, TypeError, AttributeError, IndexError, OverflowError):
            # The scanner trips over a few malformed directives and escapes without a mark.
            self.refuse((), (1, 1), _syntax("malformed text"))
        return {}

    def _document(self, events: Iterator[Event]) -> Tree:
        root: Tree | None = None
        for event in events:
            if not isinstance(event, DocumentStartEvent):
                continue
            if root is not None:
                message = "a second document begins; keep one piece a file"
                raise self.stop((), _place(event), message)
            if event.version not in (None, (1, 2)) or event.tags:
                message = "a % directive stands before it; leave it out, a spec is YAML 1.2"
                raise self.stop((), _place(event), message)
            root = self.node(next(events), events, (), 0)
        if root is None or root == "":
            raise self.stop((), (1, 1), "is empty; 'casewright new' writes one to start from")
        return root

    def node(self, event: Event, events: Iterator[Event], path: Path, depth: int) -> Tree:
        place = _place(event)
        self.values.setdefault(path, place)
        self.count += 1
        if self.count > MOST_VALUES:
            message = f"more than {MOST_VALUES} values; a spec describes one piece of furniture"
            raise self.stop(path, place, message)
        self._forbid(event, path, place)
        match event:
            case ScalarEvent():
                self.spans[path] = (event.start_mark.index, event.end_mark.index)
                return str(event.value)
            case SequenceStartEvent() | MappingStartEvent() if depth >= DEEPEST:
                message = f"more than {DEEPEST} levels deep; close the brackets or indent less"
                raise self.stop(path[:1], place, message)
            case SequenceStartEvent():
                return self._list(events, path, depth)
            case MappingStartEvent():
                return self._group(events, path, depth)
            case _:
                return ""

    def _forbid(self, event: Event, path: Path, place: Place) -> None:
        """Complain about what YAML has and a spec has not."""
        if isinstance(event, AliasEvent):
            message = f"the alias {shown('*' + event.anchor)} is not used in a spec; write it out"
            self.refuse(path, place, message)
        elif isinstance(event, NodeEvent) and event.anchor is not None:
            message = f"the anchor {shown('&' + event.anchor)} is not used in a spec; leave it out"
            self.refuse(path, place, message)
        tag = getattr(event, "tag", None)
        if tag is not None:
            short = str(tag).replace("tag:yaml.org,2002:", "!!")
            message = f"the tag {shown(short)} is not used in a spec; leave it out"
            self.refuse(path, place, message)

    def _list(self, events: Iterator[Event], path: Path, depth: int) -> list[Tree]:
        found: list[Tree] = []
        for event in events:
            if isinstance(event, SequenceEndEvent):
                break
            found.append(self.node(event, events, (*path, len(found)), depth + 1))
        return found

    def _group(self, events: Iterator[Event], path: Path, depth: int) -> dict[str, Tree]:
        found: dict[str, Tree] = {}
        for event in events:
            if isinstance(event, MappingEndEvent):
                break
            key, place = self._key(event, events, path, depth), _place(event)
            value = next(events)
            if key in found and key:
                line = self.keys[*path, key][0]
                message = f"the key {shown(key)} stands twice, first in line {line}; keep one"
                self.complain((*path, key), place, message)
                self._skip(value, events, (*path, key), depth)
                continue
            self.keys[*path, key] = place
            if isinstance(value, ScalarEvent) and value.value == "":
                self.values[*path, key] = place  # an empty value's own mark is the next token's
            found[key] = self.node(value, events, (*path, key), depth + 1)
        return found

    def _key(self, event: Event, events: Iterator[Event], path: Path, depth: int) -> str:
        place = _place(event)
        self._forbid(event, path, place)
        if isinstance(event, ScalarEvent):
            key = str(event.value)
            if key == "<<" and not event.style:
                self.refuse(path, place, "merge keys are not used in a spec; write the keys out")
            elif not key:
                self.refuse(path, place, "a key is missing before the colon")
            return key
        if isinstance(event, SequenceStartEvent | MappingStartEvent):
            self.refuse(path, place, "a list or group stands where a key belongs; write a word")
            self._skip(event, events, path, depth)
        return ""

    def _skip(self, event: Event, events: Iterator[Event], path: Path, depth: int) -> None:
        """Read what cannot be kept, complaining as always, without marking any place."""
        aside = _Builder()
        aside.count = self.count
        try:
            aside.node(event, events, path, depth + 1)
        finally:
            self.count = aside.count
            self.problems += aside.problems
            self.usable = self.usable and aside.usable


def _syntax(problem: str) -> str:
    """Word what the scanner could not read."""
    told = " ".join(problem.split())
    if "\\t" in told or "'\t'" in problem:
        return "a tab stands where the indentation belongs; indent with spaces"
    cut = shown(told)[1:-1]
    return f"is no YAML that can be read ({cut}); check colons, brackets, quotes and indentation"
