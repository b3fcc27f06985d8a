"""Casewright from Python: ``check`` and ``build``, loaded when they are asked for."""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from casewright.building import Result, build
    from casewright.checking import Checked, check

_PLACES = {
    "Checked": "casewright.checking",
    "Result": "casewright.building",
    "build": "casewright.building",
    "check": "casewright.checking",
}

__all__ = ["Checked", "Result", "build", "check"]


def __getattr__(name: str) -> Any:
    """Load what is asked for, and nothing else.

    Raises:
        AttributeError: there is no such thing.
    """
    if name not in _PLACES:
        message = f"module 'casewright' has no attribute {name!r}"
        raise AttributeError(message)
    return getattr(import_module(_PLACES[name]), name)
