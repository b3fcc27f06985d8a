"""The search in plain Python and, where numba is installed, compiled: the same functions.

Both give the same plan. Compiling takes some seconds the first time, so small jobs run plain.
"""

import hashlib
import importlib.util
import os
from collections.abc import Callable, Sequence
from functools import cache
from pathlib import Path
from types import FunctionType, ModuleType
from typing import Any, Literal, NamedTuple

import numpy as np

from planning.cutting import filling, fronts, placing, searching, tree_arrays
from planning.cutting.filling import Slate, Ways
from planning.cutting.fronts import Fronts, Parts, Sets
from planning.cutting.placing import Way
from planning.cutting.searching import Aim, Record, Trial
from planning.cutting.tree_arrays import Job, State

MODULES = (tree_arrays, placing, searching)
SHEET_MODULES = (filling, fronts)
INLINED = frozenset(
    (
        *("draw", "below", "powered", "rated", "within_levels", "passed_over", "no_cut", "liked"),
        *("unwanted", "best_place", "put", "take", "give", "_like", "_swap", "_shut"),
        *("_cut_off", "_measure", "parts_in", "clear", "_clear_below", "_join", "unlink"),
        *("_take_out", "_clear_zone", "list_open", "sort_pool", "place_pool", "some_way"),
    )
)
"""Compiled in the place of each call: handing a state over costs more than they do."""


class Kernel(NamedTuple):
    """What a planner calls."""

    search: Callable[[Trial, Job, Aim, Record, int], bool]
    place_pool: Callable[[State, Job, Way], None]
    cost: Callable[[State, Job, Aim], float]
    clear: Callable[[State, int], None]


class SheetKernel(NamedTuple):
    """What putting sheets together calls."""

    fill: Callable[[Ways, list[float], list[int], Slate, int, int], int]
    list_sets: Callable[[Fronts, Parts, Sets, float, float, int], tuple[float, int, int]]
    add_part: Callable[[Fronts, int, int, int, int], int]


PLAIN = Kernel(searching.search, placing.place_pool, searching.cost, tree_arrays.clear)
PLAIN_SHEETS = SheetKernel(filling.fill, fronts.list_sets, fronts.add_part)


def as_given(column: "np.ndarray[Any, Any]", kernel: Kernel | SheetKernel) -> list[Any]:
    """A column as a kernel takes it: an array of its own where it is compiled, else a list."""
    if kernel is PLAIN or kernel is PLAIN_SHEETS:
        return list(column.tolist())
    return np.array(column)  # type: ignore[return-value]  # quacks like a list


def can_compile() -> bool:
    """Tell whether numba is installed."""
    return importlib.util.find_spec("numba") is not None


def _sources(modules: Sequence[ModuleType]) -> str:
    """A name for the sources as they are: what is compiled from others is thrown away."""
    content = b"".join(Path(str(module.__file__)).read_bytes() for module in modules)
    return hashlib.sha256(content).hexdigest()[:16]


def _shelf(name: str) -> Path | None:
    """A folder for compiled functions beside the sources; None where nothing can be written."""
    folder = Path(__file__).parent / "__pycache__" / f"search-{name}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None


def _compiled(modules: Sequence[ModuleType]) -> dict[str, Any]:
    """Every function of some modules, compiled; kept on disk beside the sources from then on."""
    import numba

    shelf = _shelf(_sources(modules))
    if shelf is not None:
        numba.config.CACHE_DIR = str(shelf)  # type: ignore[attr-defined]  # set by name at run time
    names: dict[str, Any] = {}
    for module in modules:
        names |= vars(module)
    for module in modules:
        for name, function in vars(module).items():
            if isinstance(function, FunctionType) and function.__module__ == module.__name__:
                # the same code, looking its callees up among the compiled ones
                same = FunctionType(function.__code__, names, name)
                inline: Literal["always", "never"] = "always" if name in INLINED else "never"
                compile_it = numba.njit(cache=shelf is not None, error_model="numpy", inline=inline)
                names[name] = compile_it(same)
    return names


@cache
def fast() -> Kernel:
    """The search, compiled.

    Raises:
        ImportError: numba is not installed.
    """
    names = _compiled(MODULES)
    return Kernel(names["search"], names["place_pool"], names["cost"], names["clear"])


@cache
def fast_sheets() -> SheetKernel:
    """What puts sheets together, compiled.

    Raises:
        ImportError: numba is not installed.
    """
    names = _compiled(SHEET_MODULES)
    return SheetKernel(names["fill"], names["list_sets"], names["add_part"])
