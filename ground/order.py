"""The order people expect of labels: D2 before D10."""

import re

_RUNS = re.compile(r"\d+|\D+")


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key: runs of digits in ``text`` count as numbers and come before letters."""
    return tuple(
        (0, int(run), run) if run.isdecimal() else (1, 0, run) for run in _RUNS.findall(text)
    )
