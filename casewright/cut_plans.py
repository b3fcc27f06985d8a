"""The cut plan of a build: worked out before the kernel is asked for anything."""

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from types import FrameType
from typing import TYPE_CHECKING

from casewright.checking import Checked
from casewright.progress import Progress
from casewright.selection import STOCK_DRAWING, STOCK_PICTURE

if TYPE_CHECKING:
    from casewright.works import Works
    from planning.cutting.records import CutPlan


@dataclass(slots=True)
class Stop:
    """Whether a person has asked for what there is so far."""

    asked: bool = False

    def __call__(self) -> bool:
        """Tell whether it was asked for."""
        return self.asked


def cut_plan(checked: Checked, progress: Progress) -> "CutPlan":
    """Plan sheets and boards; an interrupt ends the search, and the best plan so far stands."""
    from planning.cutting.plan import cut_plan as planned
    from planning.cutting.task import Effort

    with interruptible() as stop:
        effort = Effort(over=stop)
        return planned(checked.spec, checked.assembly, effort, progress.in_hand)


@contextmanager
def interruptible() -> Iterator[Stop]:
    """Let the first interrupt end the search only; a second one ends the program."""
    stop = Stop()
    if threading.current_thread() is not threading.main_thread():
        yield stop
        return

    def ask(_number: int, _frame: FrameType | None) -> None:
        if stop.asked:
            raise KeyboardInterrupt
        stop.asked = True

    before = signal.signal(signal.SIGINT, ask)
    try:
        yield stop
    finally:
        signal.signal(signal.SIGINT, before)


def write_stock(works: "Works") -> None:
    """A drawing and a picture of every sheet and board."""
    from exporters.stock_dxf import stock_dxf
    from exporters.stock_svg import stock_svg

    units = works.checked.spec.units
    for piece in works.cuts.stock:
        for path, content in ((STOCK_DRAWING, stock_dxf), (STOCK_PICTURE, stock_svg)):
            if path.format(name=piece.id) in works.wanted:
                works.stage.write(path.format(name=piece.id), content(piece, units))


def buying_list(works: "Works") -> bytes:
    """What to buy."""
    from exporters.stock_tables import buying_list as table

    return table(works.checked.spec, works.cuts)


def saw_list(works: "Works") -> bytes:
    """How to saw sheets and boards up."""
    from exporters.stock_tables import saw_list as table

    return table(works.checked.spec, works.cuts)
