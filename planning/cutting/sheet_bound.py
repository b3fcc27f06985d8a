"""How few sheets there can be, by a linear program over whole sheets (``whole_sheets.py``)."""

from collections.abc import Callable

from planning.cutting.task import Task
from planning.cutting.whole_sheets import WholeSheets, never


def sheet_bound(
    task: Task,
    known: int,
    *,
    rounds: int = 200,
    over: Callable[[], bool] = never,
) -> int:
    """A number of new zones that no plan can be under, ``known`` at least.

    So many ``rounds`` go to true sheets, and so many to relaxed ones. Zones in hand are not looked
    at: where there are any, what is known stands.
    """
    if task.new is None or task.fixed or not task.items or rounds == 0:
        return known
    sheets = WholeSheets(task, rounds, over)
    sheets.put_together()
    return sheets.bound(sheets.listed(known), rounds)
