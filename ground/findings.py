"""What a check, a setting-out rule or a build has to say about the piece."""

from dataclasses import dataclass
from enum import StrEnum

from ground.vectors import Vec


class Severity(StrEnum):
    """How much a finding matters."""

    ERROR = "error"
    """It can be set out but not made or used."""
    WARNING = "warning"
    """It works at a risk or a cost."""
    NOTE = "note"
    """Worth knowing."""


COMMON_PRACTICE = "common practice, no source"
FROM_THE_SPEC = "the spec"


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One number against one limit, and what would mend it.

    ``code`` is stable and dotted (``fit.runner_depth``). ``copies`` name the copies spoken of,
    ``at`` a place in piece axes (mm). ``value`` and ``limit`` are in ``unit``; ``source`` says
    where the limit comes from.
    """

    code: str
    severity: Severity
    subject: str
    message: str
    copies: tuple[str, ...] = ()
    at: Vec | None = None
    value: float | None = None
    limit: float | None = None
    unit: str | None = None
    source: str = COMMON_PRACTICE
