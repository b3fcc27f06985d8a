"""When the numbers of a spec leave no piece to set out."""

from ground.errors import Path, Problem, WorkError, spoken


class SettingOutError(WorkError):
    """No piece can be set out; every problem keeps the place of its number in the spec."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{spoken(p.path)}: {p.message}" for p in problems))


def trouble(path: Path, message: str) -> SettingOutError:
    """The error for one number at ``path``; ``message`` also says what would be right."""
    return SettingOutError(Problem(path=path, message=message))
