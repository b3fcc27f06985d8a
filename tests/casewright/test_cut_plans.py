"""Interrupting the search for a cut plan: the best so far stands, and says so."""

import signal
import threading

import pytest

from casewright.cut_plans import interruptible
from models.setting_out.piece import set_out
from planning.cutting.plan import cut_plan
from planning.cutting.task import Effort
from specs.reading import load
from tests.helpers.small_piece import EXAMPLES


def test_the_first_interrupt_ends_the_search_the_second_the_program():
    before = signal.getsignal(signal.SIGINT)
    with interruptible() as stop:
        assert not stop()
        signal.raise_signal(signal.SIGINT)
        assert stop()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is before


def test_beside_the_main_thread_nothing_is_caught():
    before = signal.getsignal(signal.SIGINT)
    asked: list[bool] = []

    def work() -> None:
        with interruptible() as stop:
            asked.append(stop())

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert asked == [False]
    assert signal.getsignal(signal.SIGINT) is before


def test_a_plan_that_is_broken_off_has_every_part_and_says_so():
    spec = load(EXAMPLES / "plan-chest.yaml").spec
    assembly = set_out(spec)
    plan = cut_plan(spec, assembly, Effort(over=lambda: True))
    assert next(found.code for found in plan.findings) == "plan.interrupted"
    assert plan.unmade == ()
    whole = cut_plan(spec, assembly)
    assert not any(found.code == "plan.interrupted" for found in whole.findings)
