"""Where each value of a spec stands in its file."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from ground.errors import Path, Problem
from ground.quantities import shown

Place = tuple[int, int]
"""Line and column, both counted from one."""

Span = tuple[int, int]
"""From the first character of a value to the one after its last, in the whole text."""

START: Place = (1, 1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Marks:
    """The places of the values and of the keys of one file, by path; ``spans`` are of scalars."""

    values: Mapping[Path, Place] = field(default_factory=dict)
    keys: Mapping[Path, Place] = field(default_factory=dict)
    spans: Mapping[Path, Span] = field(default_factory=dict)

    def place(self, path: Path) -> Place:
        """Where the value at ``path`` stands; else the nearest value around it."""
        for end in range(len(path), -1, -1):
            if path[:end] in self.values:
                return self.values[path[:end]]
        return START

    def key(self, path: Path) -> Place:
        """Where the key that leads to ``path`` stands; else the value's place."""
        return self.keys[path] if path in self.keys else self.place(path)

    def placed(self, problem: Problem) -> Problem:
        """``problem`` with line and column, where it has none, and a path that can be printed."""
        line, column = self.place(problem.path)
        if problem.line is not None:
            line, column = problem.line, problem.column or 1
        return Problem(
            path=printable(problem.path), message=problem.message, line=line, column=column
        )


def printable(path: Path) -> Path:
    """``path`` with every key on one line and cut at 60 characters."""
    return tuple(step if isinstance(step, int) else shown(step)[1:-1] for step in path)


def in_order(problems: tuple[Problem, ...]) -> tuple[Problem, ...]:
    """``problems`` in the order of the file."""
    return tuple(sorted(problems, key=lambda p: (p.line or 0, p.column or 0)))
