"""The kinds of trouble.

WorkError
├── SpecError      the text, or the numbers in it, cannot be used   exit 2, nothing written
├── PackageError   the folder or file asked for cannot be used      exit 2, nothing written
└── BuildError     the kernel failed on one part                    a finding: the part, the cut
"""

from dataclasses import dataclass

Path = tuple[str | int, ...]
"""The keys and list places that lead to one value of a spec: ``("base", "legs", "top", 0)``."""


def spoken(path: Path) -> str:
    """Say ``path`` as a person would: ``inside.into[2].size``, lists counted from one."""
    words = ""
    for step in path:
        words += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if words else step
    return words or "the spec"


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that is wrong at one place of a spec; ``message`` also says what would be right."""

    path: Path
    message: str
    line: int | None = None
    column: int | None = None


class WorkError(Exception):
    """Anything that a user is told in plain words instead of a traceback."""


class SpecError(WorkError):
    """The text, or the numbers in it, cannot be used: every problem found, in the file's order."""

    def __init__(self, problems: tuple[Problem, ...], file: str = "") -> None:
        self.problems = problems
        self.file = file
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """One line a problem: ``FILE:LINE:COL: where: what is wrong, what would be right``."""
        return [
            ":".join(
                str(bit)
                for bit in (self.file, problem.line, problem.column, f" {spoken(problem.path)}")
                if bit not in (None, "")
            ).strip()
            + f": {problem.message}"
            for problem in self.problems
        ]


class PackageError(WorkError):
    """A file or folder of the user's cannot be read, written or replaced."""


class BuildError(WorkError):
    """The kernel could not make a part; names the part and the cut that it failed on."""

    def __init__(self, part: str, cut: str, reason: str) -> None:
        self.part = part
        self.cut = cut
        self.reason = reason
        super().__init__(f"{part}: {cut}: {reason}")
